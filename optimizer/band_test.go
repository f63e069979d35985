package optimizer

import (
	"context"
	"math"
	"testing"

	"loudfor/catalog"
	"loudfor/optimizer/setting"
	"loudfor/optimizer/uncertainty"
)

// The music level of a build whose front is the weaker side scatters as the
// front does, and not at all as the bass: a band that leaves the front out is
// nothing of the kind.
func TestMusicBandIsThatOfItsWeakerSide(t *testing.T) {
	checked, bassLimits, frontLimits := 0, 0, 0
	for seed := uint64(1); seed <= 40; seed++ {
		p, car := garage(t).small(seed)
		p.Brief.Goal, p.Bare = catalog.GoalMusic, false
		p.Brief.BassLift = []float64{-40, 40}[seed%2] // either side far behind the other
		r, err := pickIn(context.Background(), p, car)
		if err != nil {
			t.Fatal(err)
		}
		for i := range r.Builds {
			b := &r.Builds[i]
			if b.Front.Power == FromNothing {
				continue
			}
			checked++
			bass := b.Music.Bass - p.Brief.BassLift
			clear := 2 * (b.Front.Band + b.Music.BassBand) // farther than any draw goes
			if bass > b.Front.DB+clear {
				frontLimits++
			}
			if b.Front.DB > bass+clear {
				bassLimits++
			}
			switch {
			case !(b.Front.Band > 0 && b.Music.Band > 0):
				t.Errorf("seed %d, build %d: bands of %g and %g dB", seed, i+1, b.Front.Band, b.Music.Band)
			case bass > b.Front.DB+clear && math.Abs(b.Music.Band-b.Front.Band) > 1e-9:
				t.Errorf("seed %d, build %d: the front limits, +/- %g dB; music +/- %g dB", seed, i+1, b.Front.Band, b.Music.Band)
			case b.Front.DB > bass+clear && math.Abs(b.Music.Band-b.Music.BassBand) > 1e-9:
				t.Errorf("seed %d, build %d: the bass limits, +/- %g dB; music +/- %g dB", seed, i+1, b.Music.BassBand, b.Music.Band)
			}
		}
	}
	if checked < 20 || bassLimits == 0 || frontLimits == 0 {
		t.Errorf("%d builds with a front that plays; %d clearly limited by the bass, %d by the front", checked, bassLimits, frontLimits)
	}
}

// Two builds with the same front and enough bass are as loud with music
// whatever the front does: it stands in both.
func TestSharedFrontCancels(t *testing.T) {
	p, car := garage(t).small(3)
	p.Bare = false
	r, err := pickIn(context.Background(), p, car)
	if err != nil || len(r.Builds) == 0 {
		t.Fatal(err, len(r.Builds))
	}
	task, err := readyIn(p, setting.Relaxation{}, car)
	if err != nil {
		t.Fatal(err)
	}
	rooms, err := uncertainty.Rooms(task.Setting)
	if err != nil {
		t.Fatal(err)
	}
	a, b := r.Builds[0], r.Builds[0]
	b.Bass.Driver.Power *= 2 // another bass beside the same front
	x, y := uncertainty.Scatter(task.Setting, &a, rooms), uncertainty.Scatter(task.Setting, &b, rooms)
	if d := uncertainty.Apart(x.Front, y.Front); d != 0 || uncertainty.HalfWidth(x.Front) == 0 {
		t.Errorf("the same front differs from itself by +/- %g dB, of +/- %g dB", d, uncertainty.HalfWidth(x.Front))
	}
}
