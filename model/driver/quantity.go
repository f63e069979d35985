package driver

import (
	"fmt"
	"math"
	"math/bits"
	"strconv"
	"strings"
)

// The quantities that the identities tie together, in the order in which a
// stated value is believed (see believe.go): first what is read with a ruler
// or an ohmmeter, then what an impedance curve shows, then what needs an added
// mass or volume, last what is often copied from advertising. Qms stands
// before Qts because Qms found as the small difference of Qts and Qes
// magnifies their rounding, while Qts found from the other two does not.
type quantity int

const (
	sd quantity = iota
	re
	fs
	qes
	qms
	qts
	vas
	mms
	bl
	cms
	eta
	quantities // how many there are

	size quantity = iota - 1 // further fields of a card, in no identity
	coilLoad
	le
	xmax
	power
	fields // all that have a name and limits
)

// field is the name and the possible range of one number on a card. The range
// is deliberately wide: outside it there is a slip of unit or of the decimal
// point, not a bold design.
type field struct {
	name      string  // the field of Card
	unit      string  // as people write it
	scale     float64 // of that unit in SI
	low, high float64 // in that unit
	value     func(*Card) float64
}

var card = [fields]field{
	sd:       {"Sd", "cm2", 1e-4, 10, 5000, func(c *Card) float64 { return c.Sd }},
	re:       {"Re", "ohm", 1, 0.05, 100, func(c *Card) float64 { return c.Re }},
	fs:       {"Fs", "Hz", 1, 5, 1000, func(c *Card) float64 { return c.Fs }},
	qes:      {"Qes", "", 1, 0.03, 20, func(c *Card) float64 { return c.Qes }},
	qms:      {"Qms", "", 1, 0.2, 100, func(c *Card) float64 { return c.Qms }},
	qts:      {"Qts", "", 1, 0.03, 3, func(c *Card) float64 { return c.Qts }},
	vas:      {"Vas", "L", 1e-3, 0.05, 5000, func(c *Card) float64 { return c.Vas }},
	mms:      {"Mms", "g", 1e-3, 0.5, 3000, func(c *Card) float64 { return c.Mms }},
	bl:       {"Bl", "T m", 1, 0.2, 200, func(c *Card) float64 { return c.Bl }},
	cms:      {"Cms", "mm/N", 1e-3, 0.001, 20, func(c *Card) float64 { return c.Cms }},
	eta:      {"Sensitivity", "dB", 1, 50, 115, func(c *Card) float64 { return c.Sensitivity }},
	size:     {"Size", "in", inch, 2, 40, func(c *Card) float64 { return c.Size }},
	coilLoad: {"CoilLoad", "ohm", 1, 0.1, 64, func(c *Card) float64 { return c.CoilLoad }},
	le:       {"Le", "mH", 1e-3, 0.001, 100, func(c *Card) float64 { return c.Le }},
	xmax:     {"Xmax", "mm", 1e-3, 0.1, 100, func(c *Card) float64 { return c.Xmax }},
	power:    {"Power", "W", 1, 1, 50000, func(c *Card) float64 { return c.Power }},
}

// Limits are the least and the most that a field of Card may be, both possible,
// in the unit that people write it in: of "Fs", 5 and 1000 Hz. ok is false for a
// field that has none.
func Limits(name string) (low, high float64, unit string, ok bool) {
	for i := range card {
		if f := &card[i]; f.name == name {
			return f.low, f.high, f.unit, true
		}
	}
	return 0, 0, "", false
}

// possible says whether an SI value lies in the field's range; NaN does not.
func (f *field) possible(value float64) bool {
	v := value / f.scale
	return v >= f.low && v <= f.high
}

// format writes an SI value as people write it: "58 L".
func (f *field) format(value float64) string {
	v := value / f.scale
	s := strconv.FormatFloat(v, 'g', 4, 64)
	if math.Abs(v) >= 1000 && math.Abs(v) < 1e6 { // "1234" rather than "1.234e+03"
		s = strconv.FormatFloat(v, 'f', 0, 64)
	}
	if f.unit != "" {
		s += " " + f.unit
	}
	return s
}

// limits writes the range: "between 10 and 5000 cm2".
func (f *field) limits() string {
	s := fmt.Sprintf("between %v and %v", f.low, f.high)
	if f.unit != "" {
		s += " " + f.unit
	}
	return s
}

// set is a set of quantities or of identities.
type set uint16

func only(q quantity) set { return 1 << q }

func (s set) has(i int) bool  { return s>>i&1 == 1 }
func (s set) with(i int) set  { return s | 1<<i }
func (s set) minus(o set) set { return s &^ o }
func (s set) count() int      { return bits.OnesCount16(uint16(s)) }

// names are the fields of a set of quantities, in order of belief.
func (s set) names() []string {
	var names []string
	for i := range card {
		if s.has(i) {
			names = append(names, card[i].name)
		}
	}
	return names
}

// titles joins the identities of a set of identities.
func (s set) titles() string {
	var titles []string
	for i := range identities {
		if s.has(i) {
			titles = append(titles, identities[i].name)
		}
	}
	return strings.Join(titles, " and ")
}
