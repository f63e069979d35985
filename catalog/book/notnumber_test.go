package book

import (
	"math"
	"testing"
)

// No value of a reading that is not a number gets into the book, in whichever place.
func TestReadingOfNoNumber(t *testing.T) {
	b := opened(t, filled(t))
	must[int64](t)(b.AddReading(ctx, Reading{})) // nothing but the value is in the way
	before := len(must[[]Reading](t)(b.Readings(ctx, "")))
	for _, v := range []float64{math.NaN(), math.Inf(1), math.Inf(-1)} {
		for place, r := range map[string]Reading{
			"frequency": {Frequency: v}, "level": {Level: v}, "tolerance": {Tolerance: v},
			"clamp volts": {ClampVolts: v}, "amps": {Amps: v}, "supply volts": {SupplyVolts: v},
		} {
			if _, err := b.AddReading(ctx, r); err == nil {
				t.Errorf("%g as %s is booked", v, place)
			}
		}
	}
	if after := len(must[[]Reading](t)(b.Readings(ctx, ""))); after != before {
		t.Errorf("%d readings, %d before", after, before)
	}
}
