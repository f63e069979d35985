package driver

import (
	"math"
	"strings"
	"testing"
)

func unlikely(notes []Note) (all []string) {
	for _, n := range notes {
		if n.Kind == Unlikely {
			all = append(all, n.Quantity)
		}
	}
	return all
}

// A cone of 36 g on a ten, of 48 g and of 1.7 kg on a twelve: named, and drawn to what
// the class allows, with a spread that says so.
func TestACardThatNoDriverOfItsSizeCouldHave(t *testing.T) {
	for _, test := range []struct {
		name       string
		size, vas  float64
		honest     float64
		mass, most float64 // that the card means, and what at least or at most is used, kg
	}{
		{"125 L on a ten", 10, 0.125, 0.030, 0.036, 0.080},
		{"200 L on a twelve", 12, 0.200, 0.058, 0.048, 0.100},
		{"5.8 L on a twelve", 12, 0.0058, 0.058, 1.66, 0.300},
	} {
		c := Card{Size: test.size * inch, Coils: 2, CoilLoad: 4, Fs: 32, Qts: 0.55, Vas: test.honest, Xmax: 0.009, Power: 250}
		honest, notes, err := Complete(c, room)
		if err != nil || len(unlikely(notes)) > 0 {
			t.Fatalf("%s: honest: %v %v", test.name, err, unlikely(notes))
		}
		c.Vas = test.vas
		d, notes, err := Complete(c, room)
		if err != nil {
			t.Fatal(err)
		}
		if got := unlikely(notes); len(got) == 0 || got[0] != "moving mass" {
			t.Errorf("%s: %v", test.name, got)
		}
		if (test.mass < test.most) != (d.Mms > test.most) {
			t.Errorf("%s: %.0f g used", test.name, 1000*d.Mms)
		}
		if d.Spread.Vas < 1.5*honest.Spread.Vas {
			t.Errorf("%s: spread %.2f, of the honest card %.2f", test.name, d.Spread.Vas, honest.Spread.Vas)
		}
		w := 2 * math.Pi * d.Fs
		near(t, "stiffness", d.Cms*d.Mms*w*w, 1, exact)
		near(t, "motor", d.Bl*d.Bl*2*d.Qes/(w*d.Mms*d.Re), 1, exact)
		near(t, "compliance", d.Vas/(room.Density*room.SoundSpeed*room.SoundSpeed*d.Sd*d.Sd*d.Cms), 1, exact)
		near(t, "losses", d.Qms*d.Qes/(d.Qms+d.Qes)/d.Qts, 1, exact)
		near(t, "what stays", d.Fs/c.Fs, 1, exact)
	}
}

// Each trait by itself, just either side of where doubt begins; what is used goes on
// rising with what is stated until doubt does, and ends at the class.
func TestDoubtBeginsAndEnds(t *testing.T) {
	for spreads, want := range map[float64]float64{0: 1, 2.49: 1, -2.49: 1, 3: 0.5, -3: 0.5, 3.51: 0, 40: 0} {
		near(t, "belief", belief(spreads), want, 1e-12)
	}
	for _, test := range []struct {
		trait  string
		change func(*Card, float64)
		spread float64
	}{
		{"resonance", func(c *Card, by float64) { c.Fs *= by; c.Vas /= by * by }, fsSpread},
		{"moving mass", func(c *Card, by float64) { c.Vas /= by }, massSpread},
		{"travel", func(c *Card, by float64) { c.Xmax *= by }, travelSpread},
	} {
		for _, sign := range []float64{-1, 1} {
			p := priorAt(12 * inch)
			typical := Card{Size: 12 * inch, Coils: 1, CoilLoad: 4, Fs: p.fs, Qms: p.qms, Qts: p.qts, Vas: p.vas, Xmax: p.xmax}
			named := func(spreads float64) bool {
				c := typical
				test.change(&c, math.Exp(sign*spreads*test.spread))
				_, notes, err := Complete(c, room)
				if err != nil {
					t.Fatal(err)
				}
				return strings.Contains(strings.Join(unlikely(notes), ","), test.trait)
			}
			if named(doubtFrom-0.05) || !named(doubtFrom+0.05) {
				t.Errorf("%s: doubt does not begin at %g spreads", test.trait, sign*doubtFrom)
			}
		}
	}
}

// 60 mm of travel on an eight are no eight's.
func TestTravelOfAnEight(t *testing.T) {
	d, notes, err := Complete(Card{Size: 8 * inch, Coils: 1, CoilLoad: 4, Fs: 40, Qts: 0.6, Vas: 0.012, Xmax: 0.06, Power: 150}, room)
	if err != nil {
		t.Fatal(err)
	}
	if got := unlikely(notes); len(got) != 1 || got[0] != "travel" || d.Xmax > 0.02 || d.Spread.Xmax < travelSpread {
		t.Errorf("%v, %.0f mm used, spread %.2f", got, 1000*d.Xmax, d.Spread.Xmax)
	}
}
