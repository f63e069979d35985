package driver

import (
	"errors"
	"math"
	"reflect"
	"slices"
	"strings"
	"testing"

	"loudfor/model/air"
)

// The ranges as they stand in the help and the schema of the files, in people's units:
// what lies on an end is taken, and what lies a millionth beyond is refused by its
// range. The piston of 5000 cm2 belongs to a frame that holds it.
func TestEveryRangeAtItsEnds(t *testing.T) {
	ranges := map[string]struct{ low, high, scale float64 }{
		"Sd": {10, 5000, 1e-4}, "Re": {0.05, 100, 1}, "Fs": {5, 1000, 1}, "Qes": {0.03, 20, 1}, "Qms": {0.2, 100, 1}, "Qts": {0.03, 3, 1},
		"Vas": {0.05, 5000, 1e-3}, "Mms": {0.5, 3000, 1e-3}, "Bl": {0.2, 200, 1}, "Cms": {0.001, 20, 1e-3}, "Sensitivity": {50, 115, 1},
		"Size": {2, 40, 0.0254}, "CoilLoad": {0.1, 64, 1}, "Le": {0.001, 100, 1e-3}, "Xmax": {0.1, 100, 1e-3}, "Power": {1, 50000, 1},
	}
	for i := range card {
		name := card[i].name
		r, known := ranges[name]
		if low, high, _, ok := Limits(name); !known || !ok || low != r.low || high != r.high {
			t.Errorf("%s: from %g to %g, not from %g to %g", name, low, high, r.low, r.high)
		}
		for _, at := range []struct {
			value float64
			fine  bool
		}{{r.low * (1 + 1e-9), true}, {r.high * (1 - 1e-9), true}, {r.low * (1 - 1e-6), false}, {r.high * (1 + 1e-6), false}} {
			var c Card
			reflect.ValueOf(&c).Elem().FieldByName(name).SetFloat(at.value * r.scale)
			_, _, err := Complete(c, room)
			var impossible *ImpossibleError
			refused := errors.As(err, &impossible) && slices.ContainsFunc(impossible.Numbers, func(n Impossible) bool {
				return n.Quantity == name && strings.Contains(n.Reason, "is not between")
			})
			if refused == at.fine {
				t.Errorf("%s of %.9g: %v", name, at.value, err)
			}
		}
	}
	if _, _, _, ok := Limits("Colour"); ok {
		t.Error("a colour has a range")
	}
}

// A Qms that follows from other values than stated Qs is believed between 1.2 and 40,
// though 0.2 to 100 may be stated.
func TestDerivedMechanicalLoss(t *testing.T) {
	for _, c := range []struct {
		qms  float64
		fine bool
	}{{1.25, true}, {39, true}, {1.15, false}, {42, false}} {
		whole := sound()
		derived := Card{Size: whole.Size, Coils: 1, CoilLoad: 4, Re: whole.Re, Fs: whole.Fs, Sd: whole.Sd, Mms: whole.Mms, Bl: whole.Bl}
		derived.Qts = 1 / (1/whole.Qes + 1/c.qms)
		d, _, err := Complete(derived, room)
		if kept := err == nil && math.Abs(d.Qms/c.qms-1) < 1e-6; kept != c.fine {
			t.Errorf("a Qms of %g follows: %.3f is used, %v", c.qms, d.Qms, err)
		}
	}
}

// What is no air is refused, not computed with.
func TestAirAtItsEnds(t *testing.T) {
	c := sound()
	for _, at := range []struct {
		density, speed float64
		fine           bool
	}{{0.101, 340, true}, {9.9, 340, true}, {1.2, 101, true}, {1.2, 999, true}, {0.1, 340, false}, {10, 340, false}, {1.2, 100, false}, {1.2, 1000, false}, {math.NaN(), 340, false}} {
		// Another air is another Vas: only the refusal counts.
		err := Possible(c, air.Air{Density: at.density, SoundSpeed: at.speed})
		if refused := err != nil && strings.Contains(err.Error(), "is not air"); refused == at.fine {
			t.Errorf("%g kg/m3, %g m/s: %v", at.density, at.speed, err)
		}
	}
}

// A coil of the trade is sold as what it is.
func TestNominalLoads(t *testing.T) {
	for _, load := range nominalLoads {
		for _, off := range []float64{0.9, 1, 1.1} {
			if got := loadOfResistance(off * load * resistanceShare); got != load {
				t.Errorf("%g ohm of a coil of %g ohm: sold as %g ohm", off*load*resistanceShare, load, got)
			}
		}
	}
}

// Each draw moves what it is the draw of by one spread, and what follows from it.
func TestEachDrawMovesItsOwn(t *testing.T) {
	d, _, err := Complete(sound(), room)
	if err != nil {
		t.Fatal(err)
	}
	d.Spread = Spread{Re: 0.01, Le: 0.02, Fs: 0.03, Qms: 0.04, Qes: 0.05, Vas: 0.06, Sd: 0.07, Xmax: 0.08, Power: 0.09}
	for i, value := range []func(*Driver) float64{
		func(d *Driver) float64 { return d.Re }, func(d *Driver) float64 { return d.Le }, func(d *Driver) float64 { return d.Fs },
		func(d *Driver) float64 { return d.Qms }, func(d *Driver) float64 { return d.Qes }, func(d *Driver) float64 { return d.Vas },
		func(d *Driver) float64 { return d.Sd }, func(d *Driver) float64 { return d.Xmax }, func(d *Driver) float64 { return d.Power },
	} {
		var z [9]float64
		z[i] = 1
		v := d.Vary(z)
		near(t, "moved by one spread", math.Log(value(&v)/value(&d)), 0.01*float64(i+1), 1e-9)
	}
}
