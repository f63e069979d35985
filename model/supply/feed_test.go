package supply

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

var smallCar = Feed{Volts: 14.4, Reserve: 24, BatteryVolts: 12.6, BatteryResistance: 0.006, CableResistance: 0.008}

func TestTerminalByHand(t *testing.T) {
	// Inside the reserve only the cable drops: 14.4 V - I x 8 mohm.
	v, i, ok := smallCar.Terminal(120, 0.6)
	near(t, "volts", v, 14.4-i*0.008, 1e-12)
	near(t, "power", v*i, 200, 1e-12)
	if !ok || i > 24 {
		t.Errorf("%g A, ok %v", i, ok)
	}

	// Far beyond it the battery gives: at the bus, alternator
	// 24 (1 + (14.4 - V)/10) and battery (12.6 - V)/0.006 add up.
	v, i, ok = smallCar.Terminal(600, 0.6)
	bus := v + i*0.008
	near(t, "branches", 24*(1+(14.4-bus)/10)+(12.6-bus)/0.006, i, 1e-9)
	near(t, "power", v*i, 1000, 1e-12)
	if !ok || bus >= 12.6 {
		t.Errorf("bus at %g V, ok %v", bus, ok)
	}

	// Engine off: 12.6 V behind both resistances; I = (12.6 - sqrt(12.6^2 - 4 R P))/(2 R).
	off := smallCar
	off.Reserve = 0
	_, i, _ = off.Terminal(300, 0.6)
	near(t, "engine off", i, (12.6-math.Sqrt(12.6*12.6-4*0.014*500))/(2*0.014), 1e-9)
	if v, _, _ := off.Terminal(0, 0.6); v != 12.6 {
		t.Errorf("engine off, no load: %g V", v)
	}
	if v, i, ok := smallCar.Terminal(0, 0.6); v != 14.4 || i != 0 || !ok {
		t.Errorf("no load: %g V, %g A", v, i)
	}
}

func TestTooMuch(t *testing.T) {
	most := smallCar.Most(0.6)
	if _, _, ok := smallCar.Terminal(most*0.999, 0.6); !ok {
		t.Error("just inside is not delivered")
	}
	v, i, ok := smallCar.Terminal(most*1.001, 0.6)
	if ok {
		t.Error("more than the most is delivered")
	}
	near(t, "the most is reported", v*i*0.6, most, 1e-9)
	if v < DropoutVolts-1e-9 {
		t.Errorf("%g V is below dropout", v)
	}
	for _, f := range []Feed{{}, {Volts: 14.4}, {Volts: 8, Reserve: 50}, {BatteryVolts: 12.6}} {
		if _, _, ok := f.Terminal(10, 0.6); ok {
			t.Errorf("%+v delivers", f)
		}
	}
	for _, bad := range [][2]float64{{-1, 0.6}, {math.NaN(), 0.6}, {10, 0}, {10, math.NaN()}, {math.Inf(1), 0.6}} {
		v, i, ok := smallCar.Terminal(bad[0], bad[1])
		if ok || math.IsNaN(v+i) || math.IsInf(v+i, 0) {
			t.Errorf("%v: %g V, %g A, ok %v", bad, v, i, ok)
		}
	}
}

func TestStiffHolds(t *testing.T) {
	if v, _, ok := Stiff().Terminal(20000, 0.5); v != RunningVolts || !ok {
		t.Errorf("%g V, ok %v", v, ok)
	}
}

func anyFeed(t *rapid.T) Feed {
	return Feed{
		Volts:             rapid.Float64Range(13, 15).Draw(t, "volts"),
		Reserve:           rapid.OneOf(rapid.Just(0.0), rapid.Float64Range(0, 250)).Draw(t, "reserve"),
		BatteryVolts:      rapid.OneOf(rapid.Just(0.0), rapid.Float64Range(11.5, 14.8)).Draw(t, "rested"),
		BatteryResistance: rapid.OneOf(rapid.Just(0.0), rapid.Float64Range(0, 0.05)).Draw(t, "battery"),
		CableResistance:   rapid.OneOf(rapid.Just(0.0), rapid.Float64Range(0, 0.1)).Draw(t, "cable"),
	}
}

func TestVoltsNeverRiseWithWatts(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f := anyFeed(t)
		less := rapid.Float64Range(0, 4000).Draw(t, "watts")
		more := less + rapid.OneOf(rapid.Float64Range(0, 1), rapid.Float64Range(0, 4000)).Draw(t, "more")
		v1, i1, ok1 := f.Terminal(less, 0.6)
		v2, i2, ok2 := f.Terminal(more, 0.6)
		if v2 > v1+1e-9 || i2 < i1-1e-9 || ok2 && !ok1 {
			t.Fatalf("%+v: %g W: %g V %g A %v; %g W: %g V %g A %v", f, less, v1, i1, ok1, more, v2, i2, ok2)
		}
		if ok2 && math.Abs(v2*i2-more/0.6) > 1e-9*more {
			t.Fatalf("%+v: %g V x %g A is not %g W", f, v2, i2, more/0.6)
		}
	})
}

func TestLineIsContinuous(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f := anyFeed(t)
		p := f.pieces()
		for k := range 2 {
			if p[k].end != p[k+1].start {
				t.Fatalf("%+v: gap between pieces", f)
			}
			before := p[k].open - p[k].slope*p[k].end
			after := p[k+1].open - p[k+1].slope*p[k+1].start
			if f.Reserve >= leastReserve && math.Abs(before-after) > 1e-9 {
				t.Fatalf("%+v: %g V meets %g V", f, before, after)
			}
		}
	})
}

func TestBetterSupplyIsNeverWorse(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f, watts := anyFeed(t), rapid.Float64Range(0, 4000).Draw(t, "watts")
		better := f
		if f.Reserve >= leastReserve { // starting the engine may turn a battery above the regulator's voltage into one below
			better.Reserve *= rapid.Float64Range(1, 3).Draw(t, "reserve")
		}
		better.CableResistance *= rapid.Float64Range(0, 1).Draw(t, "cable part")
		better.BatteryResistance *= rapid.Float64Range(0, 1).Draw(t, "battery part")
		v1, _, ok1 := f.Terminal(watts, 0.6)
		v2, _, ok2 := better.Terminal(watts, 0.6)
		if ok1 && (!ok2 || v2 < v1-1e-9) {
			t.Fatalf("%+v: %g V; %+v: %g V, ok %v", f, v1, better, v2, ok2)
		}
	})
}

func BenchmarkTerminal(b *testing.B) {
	b.ReportAllocs()
	for i := range b.N {
		smallCar.Terminal(float64(i%1000), 0.6)
	}
}
