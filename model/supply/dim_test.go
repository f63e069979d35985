package supply

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// Ohm's law by hand for a car whose engine is off: the rested battery of six cells
// of 2.1 V behind its 10 mohm (EN 50342-1 and what clamps and ground add: see
// TypicalBatteryResistance), and a cable of 8 mohm behind that, which no lamp sees.
func TestDipByOhm(t *testing.T) {
	f := Feed{Volts: 14.4, BatteryVolts: 12.6, BatteryResistance: 0.010, CableResistance: 0.008}
	// 60 A: the battery falls by 60 x 0.010 = 0.6 V to 12.0 V, and 60 x 0.008 = 0.48 V
	// more are lost before the amplifier, which gets 11.52 V x 60 A = 691.2 W.
	volts, amps, ok := f.Battery(691.2*0.8, 0.8)
	if !ok {
		t.Fatal("not delivered")
	}
	near(t, "amps", amps, 60, 1e-9)
	near(t, "at the battery", volts, 12.0, 1e-9)
	// A dip of half a volt is 0.5/0.010 = 50 A, at (12.1 - 0.4) V: 585 W from the
	// supply.
	near(t, "watts at which lamps dim", f.WattsAt(VisibleDip, 0.8), 585*0.8, 1e-9)
	if f.Idle() != 12.6 {
		t.Errorf("silent, the battery has %g V", f.Idle())
	}

	// Engine on with 24 A to spare: at 13.9 V the alternator at full field gives
	// 24 x (1 + 0.5/10) = 25.2 A and the battery, above 12.6 V, nothing.
	f.Reserve = 24
	near(t, "watts at which lamps dim, engine on", f.WattsAt(VisibleDip, 0.8), 25.2*(13.9-25.2*0.008)*0.8, 1e-9)
	// For twice that current at that dip: twice the reserve.
	amps, ok = f.ReserveAt(VisibleDip, 50.4*(13.9-50.4*0.008)*0.8, 0.8)
	near(t, "reserve", amps, 48, 1e-9)
	if !ok {
		t.Error("48 A are not enough")
	}
}

// What is said to be enough is enough, and a little less is not.
func TestDipHoldsAtItsEdge(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f := Feed{Volts: 14.4, BatteryVolts: 12.6,
			Reserve:           rapid.SampledFrom([]float64{0, 5, 24, 80}).Draw(t, "reserve"),
			BatteryResistance: rapid.Float64Range(0.004, 0.02).Draw(t, "battery"), CableResistance: rapid.Float64Range(0, 0.01).Draw(t, "cable")}
		dip, efficiency := rapid.Float64Range(0.05, 1.5).Draw(t, "dip"), rapid.Float64Range(0.4, 0.9).Draw(t, "efficiency")
		watts := f.WattsAt(dip, efficiency)
		if watts >= f.Most(efficiency) {
			return
		}
		volts, _, ok := f.Battery(watts, efficiency)
		// A long cable may peak before the battery has fallen so far; nowhere near
		// what dims a lamp.
		if short := dip - (f.Idle() - volts); !ok || short < -1e-6 || short > 1e-6 && dip <= VisibleDip {
			t.Fatalf("%+v: %g W pull the battery down by %g V, want %g V (%t)", f, watts, f.Idle()-volts, dip, ok)
		}
		more := rapid.Float64Range(1, 4).Draw(t, "more") * watts
		if reserve, ok := f.ReserveAt(dip, more, efficiency); ok && reserve > 0 {
			g := f
			g.Reserve = reserve
			if volts, _, _ := g.Battery(more, efficiency); g.Idle()-volts > dip+1e-6 {
				t.Fatalf("%+v: with %g A to spare the battery falls by %g V, more than %g V", f, reserve, g.Idle()-volts, dip)
			}
		}
	})
}

// A cable passes at most U^2/4R, from the matched load of circuit theory: up to there some
// alternator holds the voltage, and beyond none.
func TestNoReserveBeyondTheMatchedLoad(t *testing.T) {
	f := Feed{Volts: 14.4, BatteryVolts: 12.6, BatteryResistance: 0.01, CableResistance: 0.01}
	most := 0.8 * math.Pow(f.Volts-VisibleDip, 2) / 4 / f.CableResistance
	if amps, ok := f.ReserveAt(VisibleDip, 0.9999*most, 0.8); !ok || amps <= 0 {
		t.Errorf("%g A, %v just below it", amps, ok)
	}
	if _, ok := f.ReserveAt(VisibleDip, 1.0001*most, 0.8); ok {
		t.Error("an alternator for more than the cable passes")
	}
}
