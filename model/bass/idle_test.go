package bass

import (
	"math"
	"testing"

	"loudfor/model/amplifier"
	"loudfor/model/supply"
)

// TestIdle: an amplifier's voltage is stated at 14.4 V and goes with the supply's: 24 V
// are 21 V at 12.6 V, half of that on each of two coils in series, and all of its
// current through one of them, half of it through each of two in parallel. Peaks are
// the root of 2 above that.
func TestIdle(t *testing.T) {
	stiff := func(volts float64) supply.Feed { return supply.Feed{Volts: volts, Reserve: 1e6, BatteryVolts: volts} }
	source := amplifier.Source{OpenVoltage: 24, Current: 6, Efficiency: 0.8}
	for _, c := range []struct {
		series, parallel int
		volts            float64
		open, current    float64
	}{
		{1, 1, 14.4, 24, 6}, {1, 1, 12.6, 21, 6}, {2, 1, 12.6, 10.5, 6}, {1, 2, 14.4, 24, 3}, {2, 3, 14.4, 12, 2}, {1, 1, 5, 0, 6},
	} {
		d := Drive{Outputs: 1, Series: c.series, Parallel: c.parallel, Source: source, Feed: stiff(c.volts)}
		open2, current2 := d.Idle()
		if math.Abs(open2-2*c.open*c.open) > 1e-9*max(1, open2) || math.Abs(current2-2*c.current*c.current) > 1e-9 {
			t.Errorf("%+v: %g V, %g A", c, math.Sqrt(open2/2), math.Sqrt(current2/2))
		}
	}
}
