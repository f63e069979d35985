package driver

import (
	"math"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

func TestVary(t *testing.T) {
	c := sound()
	c.Cms, c.Bl, c.Sensitivity = 0, 0, 0
	d, _, err := Complete(c, room)
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(d, d.Vary([9]float64{})); diff != "" {
		t.Errorf("all zeros change the driver:\n%s", diff)
	}
	stiff := d.Vary([9]float64{2: 1})
	s := math.Exp(d.Spread.Fs)
	near(t, "fs", stiff.Fs, d.Fs*s, exact)
	near(t, "Vas of a stiffer suspension", stiff.Vas, d.Vas/(s*s), exact)
	near(t, "Mms of a stiffer suspension", stiff.Mms, d.Mms, exact)
	near(t, "Vas by itself", d.Vary([9]float64{5: 2}).Vas, d.Vas*math.Exp(2*d.Spread.Vas), exact)
	near(t, "Power", d.Vary([9]float64{8: -1}).Power, d.Power*math.Exp(-d.Spread.Power), exact)

	rapid.Check(t, func(t *rapid.T) {
		var z, back [9]float64
		for i := range z {
			z[i] = rapid.Float64Range(-4, 4).Draw(t, "z")
			back[i] = -z[i]
		}
		v := d.Vary(z)
		holds(t, v, room)
		again := v.Vary(back)
		holds(t, again, room)
		for i, w := range fieldsOf(ptr(cardOf(d))) {
			if got := *fieldsOf(ptr(cardOf(again)))[i]; math.Abs(got / *w - 1) > exact {
				t.Fatalf("there and back, %s is %v, was %v", card[i].name, got, *w)
			}
		}
	})
}

func ptr[T any](v T) *T { return &v }

// Spreads of derived values against propagation by hand.
func TestSpread(t *testing.T) {
	c := Card{Size: 12 * inch, Coils: 1, CoilLoad: 4, Re: 3.4, Fs: 30, Qts: 0.5, Qms: 5, Mms: 0.16, Sd: 0.049}
	d, _, err := Complete(c, room)
	if err != nil {
		t.Fatal(err)
	}
	// 1/Qes = 1/Qts - 1/Qms, so d ln Qes = (Qes/Qts) d ln Qts - (Qes/Qms) d ln Qms.
	a, b := d.Qes/d.Qts*statedSpread[qts], d.Qes/d.Qms*statedSpread[qms]
	near(t, "Qes", d.Spread.Qes, math.Hypot(a, b), 1e-3)
	near(t, "Fs", d.Spread.Fs, statedSpread[fs], 1e-3)
	near(t, "mass", d.Spread.Vas, statedSpread[mms], 1e-3)
	near(t, "Xmax assumed", d.Spread.Xmax, priorSpread.Xmax, exact)

	// A stated fs and Vas leave the spread of the mass at that of Vas alone.
	c.Mms, c.Vas = 0, 0.058
	if d, _, err = Complete(c, room); err != nil {
		t.Fatal(err)
	}
	near(t, "mass from Vas", d.Spread.Vas, statedSpread[vas], 1e-3)

	// Assuming less never widens a spread.
	poor, _, err := Complete(Card{Size: 12 * inch}, room)
	if err != nil {
		t.Fatal(err)
	}
	for i, pair := range [][2]float64{{d.Spread.Re, poor.Spread.Re}, {d.Spread.Fs, poor.Spread.Fs}, {d.Spread.Qms, poor.Spread.Qms},
		{d.Spread.Qes, poor.Spread.Qes}, {d.Spread.Vas, poor.Spread.Vas}, {d.Spread.Sd, poor.Spread.Sd}} {
		if pair[0] > pair[1] {
			t.Errorf("spread %d is %v on a good card, %v on a poor one", i, pair[0], pair[1])
		}
	}
}

// The priors make sound drivers at, between and beyond the sizes of the table,
// and go smoothly from one to the next.
func TestPriors(t *testing.T) {
	for _, p := range priors {
		if diff := cmp.Diff(p, priorAt(p.size), cmp.Comparer(func(a, b float64) bool { return math.Abs(a/b-1) < exact }), cmp.AllowUnexported(prior{})); diff != "" {
			t.Errorf("at a size of the table:\n%s", diff)
		}
		near(t, "size of the piston", sizeOfPiston(p.pistonArea()), p.size, 1e-8)
	}
	last := Driver{}
	for size := 5 * inch; size < 24*inch; size *= 1.01 {
		d, notes, err := Complete(Card{Size: size, CoilLoad: 4, Coils: 2}, room)
		if err != nil {
			t.Fatalf("%v m: %v", size, err)
		}
		holds(t, d, room)
		if n := contradictions(notes); len(n) > 0 {
			t.Errorf("%v m: %+v", size, n)
		}
		// Cones of 2 to 4 kg for each square metre (common practice, no source).
		if load := d.Mms / d.Sd; size > 7*inch && size < 19*inch && (load < 2 || load > 5) {
			t.Errorf("%v m: %v kg/m2", size, load)
		}
		if last.Size > 0 && (d.Vas < last.Vas || d.Vas > 1.06*last.Vas || d.Fs > last.Fs || d.Power < last.Power || d.Sd < last.Sd) {
			t.Errorf("a jump at %v m", size)
		}
		last = d
	}
}

// What is missing beside the identities.
func TestWithoutCoils(t *testing.T) {
	for _, test := range []struct {
		re, load float64
	}{{3.3, 4}, {1.7, 2}, {6.6, 8}, {0, 4}} {
		d, notes, err := Complete(Card{Sd: 0.0485, Re: test.re, Fs: 30}, room)
		if err != nil {
			t.Fatal(err)
		}
		if d.CoilLoad != test.load || d.Coils != 1 || math.Abs(d.Size/(12*inch)-1) > 0.02 {
			t.Errorf("Re %v: load %v, %d coils, size %v", test.re, d.CoilLoad, d.Coils, d.Size)
		}
		said := map[string]bool{}
		for _, n := range notes {
			said[n.Quantity] = n.Kind == Assumed
		}
		if !said["Coils"] || !said["CoilLoad"] || !said["Size"] {
			t.Errorf("Re %v: not all said: %v", test.re, said)
		}
	}
}
