package driver

import (
	"errors"
	"math"
	"testing"
)

// Any floats at all: either a refusal that names numbers, or a driver that is
// finite, positive and consistent, also after it was varied.
func FuzzComplete(f *testing.F) {
	nan, inf := math.NaN(), math.Inf(1)
	f.Add(12*inch, 2, 4.0, 0.0, 0.0, 0.0, 31.0, 0.0, 0.0, 0.60, 0.058, 0.0, 0.0, 0.0, 0.009, 250.0, 0.0)
	f.Add(12*inch, 1, 4.0, 3.4, 0.002, 13.0, 30.0, 5.5, 0.6, 0.54, 0.058, 0.05, 0.16, 1.7e-4, 0.01, 250.0, 86.0)
	f.Add(0.0, 0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0)
	f.Add(0.3, 9, nan, inf, -inf, -1.0, 1e300, 1e-300, 0.6, 0.6, 0.058, 0.05, 0.16, 1.7e-4, 0.01, 250.0, 1000.0)
	f.Add(0.2, 4, 8.0, 0.0, 0.0, 0.3, 300.0, 0.0, 0.0, 2.9, 1e-4, 0.0, 2.9, 0.0, 0.0, 0.0, 114.0)
	f.Fuzz(func(t *testing.T, size float64, coils int, load, re, le, bl, fs, qms, qes, qts, vas, sd, mms, cms, xmax, power, sensitivity float64) {
		c := Card{size, coils, load, re, le, bl, fs, qms, qes, qts, vas, sd, mms, cms, xmax, power, sensitivity, false}
		d, notes, err := Complete(c, room)
		if same := Possible(c, room); (same == nil) != (err == nil) || err != nil && same.Error() != err.Error() {
			t.Fatalf("Possible gives %v, Complete %v", same, err)
		}
		if err != nil {
			var impossible *ImpossibleError
			if !errors.As(err, &impossible) || len(impossible.Numbers) == 0 || err.Error() == "" {
				t.Fatalf("%v names no number", err)
			}
			return
		}
		holds(t, d, room)
		for _, n := range notes {
			if math.IsNaN(n.Value+n.Spread) || math.IsInf(n.Value+n.Spread, 0) || n.Quantity == "" || n.Source == "" || len(n.Fields) == 0 {
				t.Fatalf("note %+v", n)
			}
		}
		holds(t, d.Vary([9]float64{3, -3, 3, -3, 3, -3, 3, -3, 3}), room)
		for _, v := range []float64{real(d.CoilImpedance(300, 200)), d.HeatResistance(), d.HeatTime(), d.Sensitivity(room), d.Load(1)} {
			if math.IsNaN(v) || math.IsInf(v, 0) {
				t.Fatalf("not finite: %+v", d)
			}
		}
	})
}
