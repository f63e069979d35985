package front

// Where to set the high-pass: as low as the cones allow, because what the
// front speakers leave out the subwoofer must play, and above about 100 Hz the
// ears begin to notice that it plays from behind.

const (
	// lowestSetting, highestSetting and settingStep are the scale that the
	// filters of head units and amplifiers have, Hz (common practice, no
	// source).
	lowestSetting, highestSetting, settingStep = 50, 250, 10
)

// HighPassFor is the lowest setting, Hz, in steps of 10 Hz from 50 to 250, of
// a high-pass of the stage's Order at which its cones stand watts a side; what
// HighPass says does not count. It is 0 when they stand them without any, and
// ok is false when even 250 Hz is not enough.
func (s Stage) HighPassFor(watts float64) (hz float64, ok bool) {
	s.HighPass = 0
	s = s.complete(nil)
	if s.travelWatts() >= watts {
		return 0, true
	}
	for setting := lowestSetting; setting <= highestSetting; setting += settingStep {
		s.HighPass = float64(setting)
		if s.travelWatts() >= watts {
			return s.HighPass, true
		}
	}
	return 0, false
}
