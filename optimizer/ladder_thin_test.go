package optimizer

import (
	"testing"

	"loudfor/catalog"
)

func rungs(levels ...float64) (steps []Step) {
	for i, db := range levels {
		s := Step{Build: Build{Objective: db, Cost: catalog.Money{Minor: int64(100 * i)}}, Draws: []float64{db, db + 1, db - 1}}
		steps = append(steps, s)
	}
	return steps
}

// What is listed gains enough over what is listed before it, except the last.
func TestThin(t *testing.T) {
	steps := rungs(100, 100.5, 101, 101.999, 102, 104, 104.2)
	got := Thin(steps, 1)
	for i, want := range []struct{ db, rise, extra float64 }{{100, 0, 0}, {101, 1, 200}, {102, 1, 200}, {104, 2, 100}, {104.2, 0.2, 100}} {
		if i >= len(got) || got[i].Build.Objective != want.db || got[i].Rise != want.rise || got[i].Extra.Minor != int64(want.extra) {
			t.Fatalf("%d of %d: %+v, want %+v", i, len(got), got[min(i, len(got)-1)], want)
		}
	}
	if len(got) != 5 || got[4].Chance != 1 || steps[6].Rise != 0 {
		t.Errorf("%d listed, the last %+v", len(got), got[4])
	}
	if all := Thin(steps, 0); len(all) != len(steps) {
		t.Errorf("%d of all %d", len(all), len(steps))
	}
	if Thin(nil, 1) != nil || len(Thin(steps[:1], 1)) != 1 {
		t.Error("none or one")
	}
}

func TestValueAndKnee(t *testing.T) {
	steps := rungs(100, 106, 108, 109, 109.4, 109.9)
	if got := Value(steps, 1); got != 3 {
		t.Errorf("value at %d", got)
	}
	if got := Value(nil, 1); got != -1 {
		t.Errorf("value of no steps at %d", got)
	}
	if got := Value(steps, 0); got != 5 {
		t.Errorf("value within nothing at %d", got)
	}
	// The line rises by 1.98 a step: 106 stands 4.02 above it, 108 4.04, 109 3.06.
	if got := Knee(steps); got != 2 {
		t.Errorf("knee at %d", got)
	}
	if Knee(rungs(100, 101, 102)) != -1 || Knee(rungs(100)) != -1 || Knee(nil) != -1 {
		t.Error("a knee in a straight line")
	}
}
