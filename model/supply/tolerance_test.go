package supply

import (
	"errors"
	"math"
	"testing"
)

// areaFor is the cable, m2, that may carry a current in A: found by halving.
func areaFor(amps float64) float64 {
	low, high := 0.0, AreaOfGauge(thickest)
	for range 200 {
		if middle := (low + high) / 2; Ampacity(middle, false) < amps {
			low = middle
		} else {
			high = middle
		}
	}
	return high
}

// TestFuseOfTheCable: every question about a fuse and a cable draws one and the same
// line, one in a hundred above what the cable may carry, and none draws it below.
func TestFuseOfTheCable(t *testing.T) {
	for _, fuse := range fuses {
		if fuse > 350 {
			continue // beyond the largest cable
		}
		for _, c := range []struct {
			above float64 // of the fuse over the ampacity
			right bool
		}{{-0.005, true}, {0, true}, {0.005, true}, {0.015, false}, {0.05, false}} {
			ampacity := fuse / (1 + c.above)
			k := Kit{Area: areaFor(ampacity), Length: 5, Fuse: fuse}
			if got := Ampacity(k.Area, false); math.Abs(got-ampacity) > 1e-9*ampacity {
				t.Fatalf("a cable for %g A is found to carry %g A", ampacity, got)
			}
			amps := fuse * 0.9
			v := k.Carries(amps, 0)
			if err := k.CheckFuse(fuse); (err == nil) != c.right || v.OK != c.right || (v.Fuse == fuse) != c.right {
				t.Errorf("a fuse of %g A, %g %% above its cable: %v; %+v", fuse, 100*c.above, err, v)
			}
			if k.Area < Thinnest() {
				continue
			}
			k.Fuse = 0
			if v := k.Carries(0, 0); (v.Fuse >= fuse) != c.right {
				t.Errorf("to a cable for %g A a fuse of %g A is added", ampacity, v.Fuse)
			}
			if got, err := k.FuseFor(0); err != nil || (got >= fuse) != c.right {
				t.Errorf("to a cable for %g A a fuse of %g A is named, %v", ampacity, got, err)
			}
		}
	}
}

// TestThinnerThanTheTable: below the table a cable may carry the share of its area,
// no fuse is named for it, and the table begins where it says, give or take one in a
// hundred: a metric 0.82 mm2 is an 18 AWG.
func TestThinnerThanTheTable(t *testing.T) {
	for _, share := range []float64{0.1, 0.5, 0.9} {
		if got, want := Ampacity(share*AreaOfGauge(18), false), share*10; math.Abs(got-want) > 1e-9 {
			t.Errorf("%g of 18 AWG: %g A, want %g A", share, got, want)
		}
	}
	for mm2, named := range map[float64]bool{0.8: false, 0.82: true, 0.823: true, 0.85: true} {
		_, err := Kit{Area: mm2 * 1e-6}.FuseFor(3)
		var r *Refusal
		if (err == nil) != named || !named && (!errors.As(err, &r) || r.Quantity != "cable of") {
			t.Errorf("%g mm2: %v", mm2, err)
		}
	}
}

// TestTableOfAWire: a round wire in air loses heat from its surface and makes it in its
// area, so the current that heats it as much goes with the power 3/2 of its diameter
// (W. H. Preece, 1884), the power 3/4 of its area. The table, rounded to 5 A and made
// for one wire after the other, follows that within a fifth, and always rises.
func TestTableOfAWire(t *testing.T) {
	mean := 0.0
	for _, row := range allowed {
		mean += math.Log(row.amps/math.Pow(AreaOfGauge(row.awg), 0.75)) / float64(len(allowed))
	}
	for i, row := range allowed {
		if by := row.amps / (math.Exp(mean) * math.Pow(AreaOfGauge(row.awg), 0.75)); by < 1/1.2 || by > 1.2 {
			t.Errorf("%s: %g A, %.2f times what its size says", GaugeName(row.awg), row.amps, by)
		}
		if i > 0 && !(row.amps > allowed[i-1].amps && AreaOfGauge(row.awg) > AreaOfGauge(allowed[i-1].awg)) {
			t.Errorf("%s does not carry more than %s", GaugeName(row.awg), GaugeName(allowed[i-1].awg))
		}
	}
}

// TestNoBattery: a car whose engine is off and whose battery is none gives nothing, as
// does a battery of less than no voltage.
func TestNoBattery(t *testing.T) {
	for _, volts := range []float64{0, -3} {
		f := Feed{Volts: 14.4, BatteryVolts: volts, BatteryResistance: 0.01}
		if v, amps, ok := f.Terminal(10, 0.8); ok || v != 0 || amps != 0 {
			t.Errorf("%g V: %g V, %g A, %t", volts, v, amps, ok)
		}
	}
}

// TestFuseThatMelts: a kit's fuse that melts at the current is replaced by the smallest
// that does not, if the cable allows one: up to the largest that protects it. 8 AWG
// carries 65 A (ABYC E-11, from memory), so that is 60 A.
func TestFuseThatMelts(t *testing.T) {
	for amps, want := range map[float64]float64{31: 35, 45: 50, 55: 60, 60: 60, 61: 0} {
		k := Kit{Area: AreaOfGauge(8), Length: 5, Fuse: 30}
		if v := k.Carries(amps, 0); v.OK || v.Fuse != want {
			t.Errorf("%g A: %+v, want a fuse of %g A", amps, v, want)
		}
	}
}
