package front

import "testing"

// The setting is the lowest at which the cones stand the power, whatever the power:
// they do there, and not one step lower, or without any filter. What the cones stand
// is held against the equation of motion elsewhere.
func TestLowestSettingForAnyPower(t *testing.T) {
	none := door.TravelWatts()
	without, with, refused := 0, map[float64]bool{}, false
	for watts := none / 3; watts < 1e4*none && !refused; watts *= 1.05 {
		hz, ok := door.HighPassFor(watts)
		stands := func(corner float64) bool {
			s := door
			s.HighPass = corner
			return s.TravelWatts() >= watts
		}
		if !ok {
			if refused = true; stands(highestSetting) {
				t.Errorf("%g W: %v Hz would do", watts, highestSetting)
			}
			continue
		}
		if hz == 0 {
			without++
		}
		if !stands(hz) {
			t.Errorf("%g W: %g Hz is too low", watts, hz)
		}
		switch lower := hz - settingStep; {
		case hz == lowestSetting && stands(0):
			t.Errorf("%g W: no filter is needed", watts)
		case hz > lowestSetting && stands(lower):
			t.Errorf("%g W: %g Hz would do", watts, lower)
		}
		with[hz] = true
	}
	if without < 20 || len(with) < 10 || !refused {
		t.Errorf("%d powers without a filter, %d settings, one refused: %v: this says little", without, len(with), refused)
	}
	if hz, ok := door.HighPassFor(none); hz != 0 || !ok {
		t.Errorf("just what they stand: %g Hz, %v", hz, ok)
	}
}
