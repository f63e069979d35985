package supply

import "testing"

// A supply without a voltage, or with one that is no voltage, gives nothing at all,
// and says so; one too low to run on says how low it is.
func TestSupplyOfNothing(t *testing.T) {
	for volts, want := range map[float64]float64{-12: 0, 0: 0, 0.5: 0.5} {
		f := Feed{Volts: volts, Reserve: 100, BatteryVolts: 12.4, BatteryResistance: 0.01, CableResistance: 0.01}
		if v, amps, ok := f.Terminal(0, 0.5); ok || v != want || amps != 0 {
			t.Errorf("%g V: %g V, %g A, %v", volts, v, amps, ok)
		}
		if watts := f.Most(0.5); watts != 0 {
			t.Errorf("%g V: %g W", volts, watts)
		}
	}
}
