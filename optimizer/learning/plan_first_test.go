package learning

import (
	"math"
	"testing"
)

// TestPlanTakesTheBest: each step is the candidate that alone narrows the band most
// after those before it, as found by planning one step with each alone.
func TestPlanTakesTheBest(t *testing.T) {
	w := randomWorld(t, 9)
	f, err := w.study.Prior()
	if err != nil {
		t.Fatal(err)
	}
	targets := grid([]string{"dash", "headrest"}, []string{"shut"}, 30, 50)
	candidates := grid([]string{"dash", "headrest"}, []string{"shut", "windows open"}, 28, 44, 68)
	_, steps, err := f.Plan(candidates, targets, 2, meterNoise)
	if err != nil || len(steps) != 2 {
		t.Fatal(steps, err)
	}
	first, second := math.Inf(1), math.Inf(1)
	for _, c := range candidates {
		_, alone, err := f.Plan([]Setting{c}, targets, 1, meterNoise)
		if err != nil {
			t.Fatal(err)
		}
		_, both, err := f.Plan([]Setting{steps[0].Setting, c}, targets, 2, meterNoise)
		if err != nil {
			t.Fatal(err)
		}
		first = min(first, alone[0].Band)
		if c != steps[0].Setting {
			second = min(second, both[len(both)-1].Band)
		}
	}
	if math.Abs(steps[0].Band-first) > 1e-9*first || math.Abs(steps[1].Band-second) > 1e-9*second {
		t.Errorf("the plan narrows to %.6f and %.6f dB, the best would be %.6f and %.6f", steps[0].Band, steps[1].Band, first, second)
	}
}
