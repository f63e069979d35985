package cabin

import (
	"math"
	"math/cmplx"
	"testing"

	"github.com/google/go-cmp/cmp"

	"loudfor/model/air"
)

// sweep is the usual grid, 1/24 octave from 20 to 120 Hz.
func sweep() []float64 {
	var hz []float64
	for i := range 63 {
		hz = append(hz, 20*math.Pow(2, float64(i)/24))
	}
	return hz
}

// TestBodies: every style is a possible car that answers for each of its
// places and sets, and says what it assumes.
func TestBodies(t *testing.T) {
	bodies := Bodies()
	for _, name := range []string{"small sedan", "sedan", "small hatch", "wagon", "compact SUV", "SUV", "single-cab pickup", "van"} {
		if _, ok := BodyNamed(" " + name); !ok {
			t.Errorf("no %s", name)
		}
	}
	for _, b := range bodies {
		if err := b.Check(); err != nil {
			t.Error(err)
		}
		// Plausible Q of the first mode: 3 to 8 (common practice, no source).
		if q := b.Cavity.FirstModeQ(); q < 3 || q > 8 {
			t.Errorf("%s: first-mode Q %g", b.Name, q)
		}
		if len(b.Assumed) < 4 {
			t.Errorf("%s: assumes only %q", b.Name, b.Assumed)
		}
		for _, place := range []string{"dash", "kick panel", "headrest"} {
			for _, set := range b.OpeningNames() {
				r, err := b.Respond([]float64{20, 45, 120}, place, set, 20)
				if err != nil {
					t.Fatal(err)
				}
				checkNumbers(t, r)
			}
		}
	}
	bodies[0].Places[0].Point.X = 99
	if p, _ := Bodies()[0].Place("dash"); p.X == 99 {
		t.Error("bodies share their places")
	}
}

// TestDoorsOpenPeak: in a small sedan with the doors open, meters at the dash
// read highest between 40 and 55 Hz (common practice, no source). What the car
// adds to an even push must peak there or a little below, for the box falls
// off downward; and the open car must still add something.
func TestDoorsOpenPeak(t *testing.T) {
	b, _ := BodyNamed("small sedan")
	r, err := b.Respond(sweep(), "dash", "doors open", 20)
	if err != nil {
		t.Fatal(err)
	}
	open := OpenField(r.Hz, 1, air.At(20))
	best, at := 0.0, 0.0
	for i, f := range r.Hz {
		if g := 20 * math.Log10(cmplx.Abs(r.Transfer[i])/cmplx.Abs(open.Transfer[i])); g > best {
			best, at = g, f
		}
	}
	if at < 36 || at > 55 || best < 6 || best > 25 {
		t.Errorf("the open car adds most, %.1f dB, at %.1f Hz", best, at)
	}
}

// TestOpenField holds 1 m in half space against the handbook figure: a point
// source of 1 m3/s2 gives rho/(2 pi) Pa (Beranek and Mellow); and the level
// falls 6 dB for twice the distance.
func TestOpenField(t *testing.T) {
	a := air.At(20)
	r := OpenField([]float64{50}, 1, a)
	if got, want := cmplx.Abs(r.Transfer[0])/(2*math.Pi*50), a.Density/(2*math.Pi); math.Abs(got/want-1) > 1e-12 {
		t.Errorf("%g Pa per m3/s2, want %g", got, want)
	}
	twice := OpenField([]float64{50}, 2, a)
	if fall := cmplx.Abs(r.Transfer[0]) / cmplx.Abs(twice.Transfer[0]); math.Abs(fall-2) > 1e-12 {
		t.Errorf("twice the distance: 1/%g", fall)
	}
	if r.Back[0] != 0 {
		t.Errorf("back-action %v in the open", r.Back[0])
	}
	for _, odd := range []float64{0, -1, math.NaN(), math.Inf(1)} {
		if diff := cmp.Diff(r, OpenField([]float64{50}, odd, a)); diff != "" {
			t.Errorf("distance %g: %s", odd, diff)
		}
	}
}

// TestEmptyCarIsOpen: a box with five of its sides open adds about what the
// open air does, whatever tiles and modes make of it: within 6 dB of a source
// in free space one metre away (no source; a check of the whole chain).
func TestEmptyCarIsOpen(t *testing.T) {
	c := Cavity{Length: 2, Width: 2, Height: 2, Air: air.At(20)}
	var open []Opening
	for w := Front; w <= Roof; w++ {
		if w != Floor {
			open = append(open, Opening{w, 0, 0, 2, 2, Leaf{}})
		}
	}
	hz := []float64{25, 40}
	r, err := c.Respond(hz, Piston(Point{1.5, 1, 0.3}, 0.05), Point{0.5, 1, 0.3}, open)
	if err != nil {
		t.Fatal(err)
	}
	want := OpenField(hz, 1, c.Air)
	for i := range hz {
		if d := 20 * math.Log10(cmplx.Abs(r.Transfer[i])/cmplx.Abs(want.Transfer[i])); math.Abs(d) > 6 {
			t.Errorf("%g Hz: %.1f dB from the open field", hz[i], d)
		}
	}
}

// TestResized: a vehicle with its own dimensions keeps the style's proportions
// and damping, and is a possible car.
func TestResized(t *testing.T) {
	for _, b := range Bodies() {
		r := b.Resized(3, 1.5, 1.3)
		if err := r.Check(); err != nil {
			t.Error(err)
		}
		if q := r.Cavity.FirstModeQ() / b.Cavity.FirstModeQ(); math.Abs(q-1) > 1e-9 {
			t.Errorf("%s: Q changes by %g", b.Name, q)
		}
		back := r.Resized(b.Cavity.Length, b.Cavity.Width, b.Cavity.Height)
		if math.Abs(back.Places[2].Point.Z-b.Places[2].Point.Z) > 1e-12 || math.Abs(back.Sets[2].Openings[1].Area()-b.Sets[2].Openings[1].Area()) > 1e-12 {
			t.Errorf("%s does not come back", b.Name)
		}
	}
}

// TestCurve: a measured curve sets the level between its ends, linear in dB
// over log frequency; the computed curve goes on from there; Back stays.
func TestCurve(t *testing.T) {
	b, _ := BodyNamed("small sedan")
	hz := []float64{15, 20, 28.284271247461902, 40, 80, 90}
	plain, err := b.Respond(hz, "dash", "shut", 20)
	if err != nil {
		t.Fatal(err)
	}
	b.Curve = &Curve{Hz: []float64{20, 40, 80}, Gain: []float64{20, 14, 10}, Place: "Dash"}
	got, err := b.Respond(hz, "dash", "shut", 20)
	if err != nil {
		t.Fatal(err)
	}
	open := OpenField(hz, 1, air.At(20))
	gain := func(r Response, i int) float64 {
		return 20 * math.Log10(cmplx.Abs(r.Transfer[i])/cmplx.Abs(open.Transfer[i]))
	}
	for i, want := range []float64{0, 20, 17, 14, 10, 0} {
		switch i {
		case 0:
			want = gain(plain, 0) + 20 - gain(plain, 1)
		case 5:
			want = gain(plain, 5) + 10 - gain(plain, 4)
		}
		if math.Abs(gain(got, i)-want) > 1e-9 {
			t.Errorf("%g Hz: gain %.4f dB, want %.4f", hz[i], gain(got, i), want)
		}
		if math.Abs(cmplx.Phase(got.Transfer[i]/plain.Transfer[i])) > 1e-9 {
			t.Errorf("%g Hz: the phase moved", hz[i])
		}
	}
	if diff := cmp.Diff(plain.Back, got.Back); diff != "" {
		t.Errorf("back-action moved: %s", diff)
	}
	elsewhere, err := b.Respond(hz, "headrest", "shut", 20)
	if err != nil {
		t.Fatal(err)
	}
	b.Curve = nil
	if want, _ := b.Respond(hz, "headrest", "shut", 20); cmp.Diff(want, elsewhere) != "" {
		t.Error("a curve from the dash moved the headrest")
	}
}
