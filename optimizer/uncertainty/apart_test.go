package uncertainty

import (
	"context"
	"math"
	"testing"

	"loudfor/catalog"
	"loudfor/optimizer/build"
)

// By hand: of the draws 1, 0, 1 and 1 apart half of one and three agree with a plus; with
// no difference at all each is neither way.
func TestApart(t *testing.T) {
	a, b := []float64{1, 2, 3, 4}, []float64{0, 2, 2, 3}
	for _, c := range []struct{ db, chance float64 }{{0.2, 3.5 / 4}, {30, 3.5 / 4}, {-0.2, 0.5 / 4}, {0, 0.5}} {
		d := Apart(c.db, a, b)
		if d.DB != c.db || d.Chance != c.chance || math.Abs(d.Band-HalfWidth([]float64{1, 0, 1, 1})) > 1e-12 {
			t.Errorf("%g dB: %+v, want a chance of %g", c.db, d, c.chance)
		}
	}
}

// What is no build shows nothing, anywhere.
func TestNothingElsewhere(t *testing.T) {
	part := &catalog.Part{}
	for _, b := range []build.Bass{{}, {Amplifier: part}, {Part: part}} {
		if all, err := Elsewhere(context.Background(), build.Problem{}, &build.Build{Bass: b}, nil, Passed{}); err == nil || all != nil {
			t.Errorf("%+v: %v", b, all)
		}
	}
}

// A sample is ranked by what its goal says, and a front that nothing drives has no band.
func TestSampleOfAGoal(t *testing.T) {
	s := Sample{Reading: []float64{120, 122, 121}, Music: []float64{90, 91, 95}, bass: []float64{100, 101, 99}, Front: []float64{80, 90, 85}}
	if s.Objective(true)[0] != 90 || s.Objective(false)[0] != 120 {
		t.Error("the other goal's sample")
	}
	b := build.Build{Front: build.Front{Power: build.FromSource}}
	s.Fill(&b)
	if b.Reading.Band != HalfWidth(s.Reading) || b.Music.Band != HalfWidth(s.Music) || b.Music.BassBand != HalfWidth(s.bass) || b.Front.Band != HalfWidth(s.Front) {
		t.Errorf("%+v, %+v, %+v", b.Reading, b.Music, b.Front)
	}
	b = build.Build{}
	if s.Fill(&b); b.Front.Band != 0 {
		t.Errorf("a silent front is known to %g dB", b.Front.Band)
	}
}
