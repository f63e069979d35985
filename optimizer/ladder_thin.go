package optimizer

import (
	"loudfor/optimizer/build"
	"loudfor/optimizer/uncertainty"
)

// A ladder holds every step, down to thousandths of a decibel, since that is
// what is exact. What a customer is shown is another matter: a step that nobody
// notices is none.

// Thin lists the steps that gain at least so many dB over the step listed before
// them, and the first and the last in any case. What they gain, and what for, is
// over the step listed before.
func Thin(steps []Step, least float64) (listed []Step) {
	for i := range steps {
		s := steps[i]
		if len(listed) == 0 {
			listed = append(listed, s)
			continue
		}
		below := &listed[len(listed)-1]
		rise := build.Round(s.Build.Objective) - build.Round(below.Build.Objective)
		if rise < build.Round(least) && i+1 < len(steps) {
			continue
		}
		s.Rise = rise.DB()
		s.Extra.Minor = s.Build.Cost.Minor - below.Build.Cost.Minor
		if s.Draws != nil {
			uncertainty.Over(&s, s.Rise, s.Draws, below.Draws)
		}
		listed = append(listed, s)
	}
	return listed
}

// Value is the place of the cheapest step at most so many dB below the last.
func Value(steps []Step, within float64) int {
	for i := range steps {
		if build.Round(steps[i].Build.Objective) >= build.Round(steps[len(steps)-1].Build.Objective)-build.Round(within) {
			return i
		}
	}
	return -1
}

// Knee is the place of the step that stands the highest above the straight line
// from the first step to the last: up to it money buys more than on the whole,
// beyond it less (common practice, no source). -1 where no step stands above.
func Knee(steps []Step) int {
	knee, most := -1, 0.0
	for i := range steps {
		first, last := &steps[0].Build, &steps[len(steps)-1].Build
		along := float64(steps[i].Build.Cost.Minor-first.Cost.Minor) / max(float64(last.Cost.Minor-first.Cost.Minor), 1)
		if above := steps[i].Build.Objective - first.Objective - along*(last.Objective-first.Objective); above > most+build.LevelStep {
			knee, most = i, above
		}
	}
	return knee
}
