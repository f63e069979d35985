package driver

import (
	"math"
	"testing"

	"github.com/google/go-cmp/cmp"
	"gonum.org/v1/gonum/mat"
	"pgregory.net/rapid"

	"loudfor/model/air"
)

var room = air.At(20)

// recovered is the relative error within which a dropped value has to come
// back: the published figures have three digits, the arithmetic sixteen.
const recovered = 1e-6

// consistent draws a complete card by the textbook formulas, written out
// without any help from the solver; none that its size class would not believe.
func consistent(t *rapid.T) Card {
	draw := func(name string, low, high float64) float64 {
		return low * math.Pow(high/low, rapid.Float64Range(0, 1).Draw(t, name))
	}
	var c Card
	c.Size = draw("size", 0.2, 0.46)
	c.Coils = rapid.IntRange(1, 4).Draw(t, "coils")
	c.CoilLoad = rapid.SampledFrom([]float64{1, 2, 4, 8}).Draw(t, "load")
	c.Re = c.CoilLoad * draw("re", 0.7, 1.1)
	c.Fs = draw("fs", 26, 36)
	c.Qms = draw("qms", 2, 15)
	c.Qes = draw("qes", 0.45, 0.8)
	c.Qts = c.Qms * c.Qes / (c.Qms + c.Qes)
	piston := c.Size * draw("piston", 0.75, 0.88)
	c.Sd = math.Pi * piston * piston / 4
	c.Mms = draw("mass", 2.6, 4.2) * c.Sd // kg for each m2
	w := 2 * math.Pi * c.Fs
	c.Cms = 1 / (w * w * c.Mms)
	c.Vas = room.Density * room.SoundSpeed * room.SoundSpeed * c.Sd * c.Sd * c.Cms
	c.Bl = math.Sqrt(w * c.Mms * c.Re / (c.Qes * float64(c.Coils)))
	eta0 := 4 * math.Pi * math.Pi * math.Pow(c.Fs/room.SoundSpeed, 3) * c.Vas / c.Qes
	c.Sensitivity = 10*math.Log10(eta0) + 10*math.Log10(room.Density*room.SoundSpeed/(2*math.Pi)/4e-10)
	c.Le, c.Xmax, c.Power = 0.4e-3*c.Re, 0.01, 300
	return c
}

// fieldsOf are the numbers of a card that the identities tie together, in the
// order Sd Re Fs Qes Qms Qts Vas Mms Bl Cms Sensitivity.
func fieldsOf(c *Card) []*float64 {
	return []*float64{&c.Sd, &c.Re, &c.Fs, &c.Qes, &c.Qms, &c.Qts, &c.Vas, &c.Mms, &c.Bl, &c.Cms, &c.Sensitivity}
}

// missing is how many further numbers a card with those values dropped lacks:
// the unknowns less the rank of the identities' Jacobian, in logarithms, by
// singular values. It is the twin of propagation and elimination.
func missing(c Card, dropped []int) int {
	if len(dropped) == 0 {
		return 0
	}
	jacobian := mat.NewDense(5, 11, []float64{
		//Sd Re  Fs Qes                Qms                Qts Vas Mms  Bl Cms  eta
		0, 0, 0, -c.Qts / c.Qes, -c.Qts / c.Qms, 1, 0, 0, 0, 0, 0,
		-2, 0, 0, 0, 0, 0, 1, 0, 0, -1, 0,
		0, 0, 1, 0, 0, 0, 0, 0.5, 0, 0.5, 0,
		0, -1, -1, 1, 0, 0, 0, -1, 2, 0, 0,
		0, 0, -3, 1, 0, 0, -1, 0, 0, 0, 1,
	})
	sub := mat.NewDense(5, len(dropped), nil)
	for j, q := range dropped {
		for i := range 5 {
			sub.Set(i, j, jacobian.At(i, q))
		}
	}
	var svd mat.SVD
	if !svd.Factorize(sub, mat.SVDNone) {
		panic("no singular values")
	}
	return len(dropped) - svd.Rank(1e-6)
}

// Whatever determines a driver gives it back, and no prior is used; whatever
// does not, is completed with exactly as many priors as numbers are lacking.
func TestCompleteFromAnySubset(t *testing.T) {
	determined, short := 0, 0
	rapid.Check(t, func(t *rapid.T) {
		whole := consistent(t)
		partial := whole
		var dropped []int
		for i, f := range fieldsOf(&partial) {
			if rapid.Bool().Draw(t, "drop") {
				*f = 0
				dropped = append(dropped, i)
			}
		}
		lacking := missing(whole, dropped)
		d, notes, err := Complete(partial, room)
		if err != nil {
			t.Fatal(err)
		}
		if d2, notes2, _ := Complete(partial, room); cmp.Diff(d, d2) != "" || cmp.Diff(notes, notes2) != "" {
			t.Fatal("a second run differs")
		}
		assumed := 0
		for _, n := range notes {
			switch n.Kind {
			case Assumed:
				if n.Quantity != "L2" && n.Quantity != "R2" {
					assumed++
				}
			case Follows:
				if lacking == 0 {
					t.Fatalf("%s follows from an assumed value, though the card determines it", n.Quantity)
				}
			case Inconsistent:
				if lacking == 0 {
					t.Fatalf("inconsistent: %+v", n)
				}
			}
		}
		holds(t, d, room)
		if lacking > 0 {
			short++
			// A value set aside as contradicting the priors leaves one more to
			// assume; with none set aside the count is exact.
			if assumed < lacking {
				t.Fatalf("%d assumed, %d lacking", assumed, lacking)
			}
			return
		}
		determined++
		if assumed != 0 {
			t.Fatalf("%d values assumed on a card that determines all: %+v", assumed, notes)
		}
		got := cardOf(d)
		want := whole
		for i, g := range fieldsOf(&got) {
			if w := *fieldsOf(&want)[i]; math.Abs(*g/w-1) > recovered {
				t.Fatalf("%s: %v, want %v", card[i].name, *g, w)
			}
		}
	})
	if (determined == 0 || short == 0) && !testing.Short() {
		t.Errorf("%d determined and %d short cards: the property was hardly tried", determined, short)
	}
}

func cardOf(d Driver) Card {
	return Card{Sd: d.Sd, Re: d.Re, Fs: d.Fs, Qes: d.Qes, Qms: d.Qms, Qts: d.Qts, Vas: d.Vas,
		Mms: d.Mms, Bl: d.Bl, Cms: d.Cms, Sensitivity: d.Sensitivity(room)}
}

// exact is what chains of a dozen roundings leave.
const exact = 1e-9

type failer interface {
	Helper()
	Fatalf(format string, args ...any)
}

// holds checks every identity on a finished driver, and that it is finite.
func holds(t failer, d Driver, a air.Air) {
	t.Helper()
	for name, v := range map[string]float64{"Size": d.Size, "CoilLoad": d.CoilLoad, "Re": d.Re, "Bl": d.Bl, "Le": d.Le,
		"Mms": d.Mms, "Cms": d.Cms, "Rms": d.Rms, "Sd": d.Sd, "Xmax": d.Xmax, "Power": d.Power,
		"Fs": d.Fs, "Qms": d.Qms, "Qes": d.Qes, "Qts": d.Qts, "Vas": d.Vas,
		"sRe": d.Spread.Re, "sLe": d.Spread.Le, "sFs": d.Spread.Fs, "sQms": d.Spread.Qms, "sQes": d.Spread.Qes,
		"sVas": d.Spread.Vas, "sSd": d.Spread.Sd, "sXmax": d.Spread.Xmax, "sPower": d.Spread.Power} {
		if !(v > 0) || math.IsInf(v, 0) {
			t.Fatalf("%s is %v", name, v)
		}
	}
	if !(d.L2 >= 0 && d.R2 >= 0) || math.IsInf(d.L2+d.R2, 0) || d.Coils < 1 {
		t.Fatalf("L2 %v, R2 %v, %d coils", d.L2, d.R2, d.Coils)
	}
	w := 2 * math.Pi * d.Fs
	for name, ratio := range map[string]float64{
		"Qts":         d.Qts * (1/d.Qms + 1/d.Qes),
		"Vas":         d.Vas / (a.Density * a.SoundSpeed * a.SoundSpeed * d.Sd * d.Sd * d.Cms),
		"fs":          w * math.Sqrt(d.Mms*d.Cms),
		"Qes":         d.Qes * float64(d.Coils) * d.Bl * d.Bl / (w * d.Mms * d.Re),
		"Qms":         d.Qms * d.Rms / (w * d.Mms),
		"sensitivity": math.Pow(10, (d.Sensitivity(a)-LevelOfWatt(a))/10) / d.Efficiency(a),
	} {
		if math.Abs(ratio-1) > exact {
			t.Fatalf("%s is off by %g: %+v", name, ratio-1, d)
		}
	}
}

// However little a card says, the number of priors is the number of values
// that it lacks, on cards near the typical driver (where nothing is set aside).
func TestNoPriorTooMany(t *testing.T) {
	d, _, err := Complete(Card{Size: 12 * inch, Coils: 1, CoilLoad: 4}, room)
	if err != nil {
		t.Fatal(err)
	}
	typical := cardOf(d)
	for mask := range 1 << 11 {
		c := typical
		var dropped []int
		for i, f := range fieldsOf(&c) {
			if mask>>i&1 == 1 {
				*f = 0
				dropped = append(dropped, i)
			}
		}
		c.Size, c.Coils, c.CoilLoad, c.Le, c.Xmax, c.Power = d.Size, d.Coils, d.CoilLoad, d.Le, d.Xmax, d.Power
		got, notes, err := Complete(c, room)
		if err != nil {
			t.Fatalf("without %v: %v", dropped, err)
		}
		assumed := 0
		for _, n := range notes {
			if n.Kind == Inconsistent {
				t.Errorf("without %v: %+v", set(mask).names(), n)
			}
			if n.Kind == Assumed && n.Quantity != "L2" && n.Quantity != "R2" {
				assumed++
			}
		}
		if want := missing(typical, dropped); assumed != want {
			t.Errorf("without %v: %d assumed, want %d", set(mask).names(), assumed, want)
		}
		again := cardOf(got)
		for i, g := range fieldsOf(&again) {
			if w := *fieldsOf(&typical)[i]; math.Abs(*g/w-1) > recovered {
				t.Errorf("without %v: %s is %v, want %v", set(mask).names(), card[i].name, *g, w)
			}
		}
	}
}
