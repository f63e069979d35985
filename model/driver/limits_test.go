package driver

import (
	"errors"
	"math"
	"reflect"
	"slices"
	"strings"
	"testing"
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
