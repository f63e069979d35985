package air

import (
	"math"
	"testing"
)

// TestStandardAtmosphere holds air against the table of ISO 2533 at the pressure of
// sea level and 15 degrees, and against the density and speed of sound at other
// temperatures that handbooks give for one atmosphere (ISO 2533; D. Lide, Handbook of
// Chemistry and Physics, from memory: 1.2929 kg/m3 at 0 degrees, 331.3 m/s).
func TestStandardAtmosphere(t *testing.T) {
	for _, c := range []struct{ celsius, density, speed, within float64 }{
		{15, 1.225, 340.294, 1e-4},
		{0, 1.2929, 331.3, 5e-4},
		{20, 1.204, 343.2, 5e-4},
	} {
		a := At(c.celsius)
		if math.Abs(a.Density/c.density-1) > c.within || math.Abs(a.SoundSpeed/c.speed-1) > c.within {
			t.Errorf("%g degrees: %.4f kg/m3, %.3f m/s; the table has %g, %g", c.celsius, a.Density, a.SoundSpeed, c.density, c.speed)
		}
	}
}

// TestLevel: 1 Pa is 93.98 dB (the calibrators of IEC 60942), ten times the pressure
// 20 dB more, and the pressure of a level has that level.
func TestLevel(t *testing.T) {
	if got := Level(1); math.Abs(got-93.979) > 1e-3 {
		t.Errorf("1 Pa: %.3f dB", got)
	}
	if got := Level(10) - Level(1); math.Abs(got-20) > 1e-12 {
		t.Errorf("ten times the pressure: %g dB more", got)
	}
	for _, l := range []float64{0, 94, 150} {
		if got := Level(Pressure(l)); math.Abs(got-l) > 1e-9 {
			t.Errorf("%g dB: its pressure has %g dB", l, got)
		}
	}
}
