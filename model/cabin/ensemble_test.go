package cabin

import (
	"math"
	"math/cmplx"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

// TestEnsembleRepeats: the same seed gives the same cars, a longer ensemble
// begins with the shorter, another seed gives others, and a frequency's value
// does not depend on which others were asked for.
func TestEnsembleRepeats(t *testing.T) {
	b, _ := BodyNamed("small hatch")
	ask := func(hz []float64, n int, seed uint64) []Response {
		list, err := b.Ensemble(hz, "dash", "doors open", 20, n, seed)
		if err != nil {
			t.Fatal(err)
		}
		return list
	}
	hz := []float64{30, 45}
	four, seven := ask(hz, 4, 7), ask(hz, 7, 7)
	if diff := cmp.Diff(four, seven[:4]); diff != "" {
		t.Errorf("a longer ensemble begins otherwise: %s", diff)
	}
	if cmp.Equal(four, ask(hz, 4, 8)) {
		t.Error("another seed, the same cars")
	}
	if one := ask(hz[1:], 4, 7); one[2].Transfer[0] != four[2].Transfer[1] {
		t.Error("a response depends on the other frequencies")
	}
	for _, r := range seven {
		checkNumbers(t, r)
	}
}

// TestEnsembleCentre: a car known exactly gives the exact response each time;
// small spreads in opposite pairs average to it.
func TestEnsembleCentre(t *testing.T) {
	b, _ := BodyNamed("sedan")
	hz := []float64{25, 40, 60}
	exact, err := b.Respond(hz, "headrest", "windows open", 20)
	if err != nil {
		t.Fatal(err)
	}
	known := b
	known.Spread = Spread{}
	list, err := known.Ensemble(hz, "headrest", "windows open", 20, 3, 1)
	if err != nil {
		t.Fatal(err)
	}
	for _, r := range list {
		for i := range hz {
			if cmplx.Abs(r.Transfer[i]/exact.Transfer[i]-1) > 1e-9 || cmplx.Abs(r.Back[i]-exact.Back[i]) > 1e-9*cmplx.Abs(exact.Back[i]) {
				t.Errorf("%g Hz: %v, want %v", hz[i], r.Transfer[i], exact.Transfer[i])
			}
		}
	}
	small := b
	small.Spread = Spread{Length: 1e-3, Width: 1e-3, Height: 1e-3, Admittance: 1e-3, Area: 1e-3, Place: 1e-3, Shape: 0.01,
		Exponent: 1e-3, Zone: 1e-3, Hinge: 1e-3, Ground: 1e-3, Inside: 0.01}
	list, err = small.Ensemble(hz, "headrest", "windows open", 20, 2, 1)
	if err != nil {
		t.Fatal(err)
	}
	for i := range hz {
		mean := (list[0].Transfer[i] + list[1].Transfer[i]) / 2
		moved := cmplx.Abs(list[0].Transfer[i]/exact.Transfer[i] - 1)
		if off := cmplx.Abs(mean/exact.Transfer[i] - 1); off > 2*moved*moved || moved < 1e-5 {
			t.Errorf("%g Hz: the pair is %.2g off the centre, each moved %.2g", hz[i], off, moved)
		}
	}
}

// TestEnsembleMeasured: around a measured curve the level keeps to the curve's
// own spread.
func TestEnsembleMeasured(t *testing.T) {
	b, _ := BodyNamed("van")
	b.Curve = &Curve{Hz: []float64{20, 80}, Gain: []float64{15, 5}, Spread: 0.5}
	list, err := b.Ensemble([]float64{40}, "dash", "shut", 20, 400, 3)
	if err != nil {
		t.Fatal(err)
	}
	exact, _ := b.Respond([]float64{40}, "dash", "shut", 20)
	square := 0.0
	for _, r := range list {
		square += math.Pow(20*math.Log10(cmplx.Abs(r.Transfer[0])/cmplx.Abs(exact.Transfer[0])), 2)
	}
	// Half of 400 draws are independent: 10 % is two standard errors.
	if sd := math.Sqrt(square / float64(len(list))); math.Abs(sd/0.5-1) > 0.1 {
		t.Errorf("spread %.3f dB, want 0.5", sd)
	}
}

// TestAnySpread: however wild the spread, every draw is a possible car.
func TestAnySpread(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := rapid.SampledFrom(Bodies()).Draw(t, "body")
		b.Cavity.Panels = []Panel{{Roof, 0.1, 50}}
		size, wild := rapid.Float64Range(0, mostSpreadOfSize), rapid.Float64Range(0, mostSpread)
		b.Spread = Spread{
			Length: size.Draw(t, "length"), Width: size.Draw(t, "width"), Height: size.Draw(t, "height"),
			Admittance: wild.Draw(t, "admittance"), Area: wild.Draw(t, "area"), Place: wild.Draw(t, "place"), Shape: 3,
			Exponent: wild.Draw(t, "exponent"), Zone: wild.Draw(t, "zone"), Hinge: wild.Draw(t, "hinge"), Ground: wild.Draw(t, "ground"),
			PanelShare: wild.Draw(t, "panel share"), PanelResonance: size.Draw(t, "panel resonance"), Inside: 1,
		}
		ear := b.Places[0].Point
		for _, d := range draws(4, 1, rapid.Uint64().Draw(t, "seed")) {
			car, at := b.drawn(d, 0, ear)
			if err := car.Check(); err != nil {
				t.Fatal(err)
			}
			if err := car.Cavity.CheckPlace(at); err != nil {
				t.Fatal(err)
			}
		}
	})
}

// Ensemble is that of Nearby, at a named place.
func (b Body) Ensemble(hz []float64, place, openings string, celsius float64, n int, seed uint64) ([]Response, error) {
	near, err := b.Nearby(hz, place, openings, celsius)
	if err != nil {
		return nil, err
	}
	return near.Ensemble(n, seed)
}
