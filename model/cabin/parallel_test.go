package cabin

import (
	"math"
	"math/cmplx"
	"reflect"
	"testing"

	"pgregory.net/rapid"
)

// What is shared out among workers is the same to the last bit for any number
// of them.
func TestWorkersChangeNothing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := drawCavity(t)
		source, ear := drawPiston(t, c, "source"), Patch{Center: drawPoint(t, c, "ear")}
		openings, hz := drawOpenings(t, c), drawHz(t)
		alone := c.tiled(1, hz, source, ear, openings, 2)
		if many := c.tiled(3, hz, source, ear, openings, 2); !reflect.DeepEqual(many, alone) {
			t.Fatalf("three workers %v, one %v", many, alone)
		}
	})
}

// An ensemble around a response that is known is the ensemble.
func TestNearbyKnown(t *testing.T) {
	for _, b := range Bodies() {
		for _, set := range b.OpeningNames() {
			hz := []float64{25, 42, 70}
			exact, err := b.Respond(hz, b.Places[0].Name, set, 25)
			if err != nil {
				t.Fatal(err)
			}
			near, err := b.NearbyKnown(exact, b.Places[0].Name, set, 25)
			if err != nil {
				t.Fatal(err)
			}
			got, err := near.Ensemble(4, 7)
			if err != nil {
				t.Fatal(err)
			}
			want, err := b.Ensemble(hz, b.Places[0].Name, set, 25, 4, 7)
			if err != nil {
				t.Fatal(err)
			}
			if !reflect.DeepEqual(got, want) {
				t.Errorf("%s, %s: %v, want %v", b.Name, set, got, want)
			}
		}
	}
	b, _ := BodyNamed("small sedan")
	if near, err := b.Nearby([]float64{42}, "dash", "shut", 20); err != nil {
		t.Error(err)
	} else if exact, err := b.Respond([]float64{42}, "dash", "shut", 20); err != nil || !reflect.DeepEqual(near.exact, exact) {
		t.Errorf("%v, want %v, %v", near.exact, exact, err)
	}
	_, known := b.NearbyKnown(Response{}, "nowhere", "shut", 20)
	_, near := b.Nearby([]float64{42}, "nowhere", "shut", 20)
	if known == nil || near == nil {
		t.Error("a place that there is not")
	}
	b.Spread.Length = -1
	if _, err := b.NearbyKnown(Response{}, "dash", "shut", 20); err == nil {
		t.Error("a spread that there is not")
	}
}

// The weights in real numbers are the complex formula of Kuttruff's damped
// modes, less the static share of all but the uniform one.
func TestWeights(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := drawCavity(t)
		openings := drawOpenings(t, c)
		if rapid.Bool().Draw(t, "panels") {
			c.Panels = []Panel{{Roof, 0.1, 50}, {Rear, 0.2, 30}}
		}
		m := c.modes(cutoff, openings)
		hz := rapid.Float64Range(lowest, highest).Draw(t, "hz")
		k := 2 * math.Pi * hz / c.Air.SoundSpeed
		walls := c.losses(hz)
		got := make([]complex128, len(m.square))
		m.weigh(got, k, walls)
		for i, square := range m.square {
			n := [3]int{i / (m.number[1] * m.number[2]), i / m.number[2] % m.number[1], i % m.number[2]}
			kn, lambda, beta := math.Sqrt(square), 1.0, walls.beta
			if i == 0 {
				kn = k // the uniform mode is as far from lossless as a mode at its own frequency
				beta *= math.Exp(c.Zone)
			}
			var sheets complex128
			for axis, index := range n {
				sheets += walls.axis[axis] * complex(twice(index), 0)
			}
			for _, index := range n {
				lambda /= twice(index)
			}
			d := complex(square-k*k, k*(beta*c.pressed(n, openings)/c.Volume()+kn/rigidQ)) + complex(0, k)*sheets
			want := 1 / d
			if i > 0 {
				want -= complex(1/square, 0)
			}
			want /= complex(lambda*c.Volume(), 0)
			// Between two terms that nearly cancel, the difference keeps the
			// error of the terms.
			tolerance := 1e-9 * (cmplx.Abs(want) + 1/(cmplx.Abs(d)*lambda*c.Volume())*1e-3)
			if cmplx.Abs(got[i]-want) > tolerance {
				t.Fatalf("mode %v at k = %g: %v, want %v", n, k, got[i], want)
			}
		}
	})
}
