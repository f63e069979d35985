package front

// Where to set the high-pass: as low as the cones allow, because what the
// front speakers leave out the subwoofer must play, and above about 100 Hz the
// ears begin to notice that it plays from behind. Which setting plays loudest
// with an amplifier is asked of Play, one setting after the other: beyond the
// one at which the cones stand all the power, each leaves only more of a hole.

const (
	// lowestSetting, highestSetting and settingStep are the scale that the
	// filters of head units and amplifiers have, Hz (common practice, no
	// source).
	lowestSetting, highestSetting, settingStep = 50, 250, 10
)

// Settings are those of the scale, Hz, lowest first.
func Settings() (all []float64) {
	for setting := lowestSetting; setting <= highestSetting; setting += settingStep {
		all = append(all, float64(setting))
	}
	return all
}

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
	for _, s.HighPass = range Settings() {
		if s.travelWatts() >= watts {
			return s.HighPass, true
		}
	}
	return 0, false
}
