package driver

import (
	"fmt"
	"math"
	"strings"
)

// Numbers that cannot be right, as opposed to numbers that only disagree.
// Completion refuses them, and names all of them at once, because the person
// who mends a price list wants to open it once.

// Impossible is one number of a card that cannot be right.
type Impossible struct {
	Quantity string  // the field of Card
	Value    float64 // as stated, SI
	Reason   string  // why, in plain words with the figures
}

// ImpossibleError lists every impossible number of a card, in a fixed order.
type ImpossibleError struct{ Numbers []Impossible }

func (e *ImpossibleError) Error() string {
	words := make([]string, len(e.Numbers))
	for i, n := range e.Numbers {
		words[i] = n.Quantity + ": " + n.Reason
	}
	return "impossible driver: " + strings.Join(words, "; ")
}

const (
	MostCoils = 8 // more voice coils than any former carries

	// beyondReason is the factor by which the sides of an identity may differ
	// before the card is refused rather than warned about: no tolerance or
	// test method explains more, only a wrong number.
	beyondReason = 2.5

	// beyondAdvertising is the same for the efficiency that a stated
	// sensitivity stands for. Stores print levels measured in a car or with
	// other drives; 15 dB is more than that explains.
	beyondAdvertising = 31.6

	// beyondSize is the factor between a stated value and the one that follows
	// from other stated values, above which it is refused where no single
	// identity can be blamed: a slip of unit.
	beyondSize = 10
)

// refuse adds a number to the list.
func (e *ImpossibleError) refuse(q quantity, value float64, format string, args ...any) {
	e.Numbers = append(e.Numbers, Impossible{card[q].name, value, fmt.Sprintf(format, args...)})
}

// check lists what is impossible by itself or beside one other number, and
// returns the fields that are stated and usable.
func (e *ImpossibleError) check(c *Card) set {
	var stated set
	for q := range fields {
		f := &card[q]
		v := f.value(c)
		switch {
		case v == 0: // not stated
		case math.IsNaN(v) || math.IsInf(v, 0):
			e.refuse(q, v, "%v is not a number", v)
		case v < 0:
			e.refuse(q, v, "%s is negative", f.format(v))
		case !f.possible(v):
			e.refuse(q, v, "%s is not %s", f.format(v), f.limits())
		default:
			stated = stated.with(int(q))
		}
	}
	if c.Coils < 0 || c.Coils > MostCoils {
		e.Numbers = append(e.Numbers, Impossible{"Coils", float64(c.Coils),
			fmt.Sprintf("%d voice coils; between 1 and %d fit on a former", c.Coils, MostCoils)})
	}
	if stated.has(int(qts)) {
		for _, part := range []quantity{qms, qes} {
			if stated.has(int(part)) && c.Qts >= card[part].value(c) {
				e.refuse(qts, c.Qts, "%s cannot be at or above %s %s: the total is always below each of its parts",
					card[qts].format(c.Qts), card[part].name, card[part].format(card[part].value(c)))
				stated = stated.minus(only(qts))
			}
		}
	}
	if stated.has(int(sd)) && stated.has(int(size)) && c.Sd >= frameArea(c.Size) {
		e.refuse(sd, c.Sd, "%s is more than the whole frame of a %s driver, %s",
			card[sd].format(c.Sd), card[size].format(c.Size), card[sd].format(frameArea(c.Size)))
		stated = stated.minus(only(sd))
	}
	return stated
}

// frameArea is the area in m2 within the nominal diameter.
func frameArea(diameter float64) float64 { return math.Pi * diameter * diameter / 4 }
