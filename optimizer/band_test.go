package optimizer

import (
	"context"
	"math"
	"testing"

	"loudfor/catalog"
	"loudfor/model/bass"
	"loudfor/model/cabin"
	"loudfor/model/driver"
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
			low := b.Music.Bass - p.Brief.BassLift
			clear := 2 * (b.Front.Band + b.Music.BassBand) // farther than any draw goes
			if low > b.Front.DB+clear {
				frontLimits++
			}
			if b.Front.DB > low+clear {
				bassLimits++
			}
			switch {
			case !(b.Front.Band > 0 && b.Music.Band > 0):
				t.Errorf("seed %d, build %d: bands of %g and %g dB", seed, i+1, b.Front.Band, b.Music.Band)
			case low > b.Front.DB+clear && math.Abs(b.Music.Band-b.Front.Band) > 1e-9:
				t.Errorf("seed %d, build %d: the front limits, +/- %g dB; music +/- %g dB", seed, i+1, b.Front.Band, b.Music.Band)
			case b.Front.DB > low+clear && math.Abs(b.Music.Band-b.Music.BassBand) > 1e-9:
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
	if d := uncertainty.Apart(0, x.Front, y.Front); d.Band != 0 || uncertainty.HalfWidth(x.Front) == 0 {
		t.Errorf("the same front differs from itself by +/- %g dB, of +/- %g dB", d.Band, uncertainty.HalfWidth(x.Front))
	}
}

// What would be noticed is no tie, however wide its band; and what is certain
// is none however small.
func TestTie(t *testing.T) {
	for _, c := range []struct {
		d              Difference
		tie, uncertain bool
	}{
		{Difference{DB: 0.4, Band: 0.9}, true, false},
		{Difference{DB: -Noticed, Band: 5}, true, false},
		{Difference{DB: -Noticed - 0.001, Band: 5}, false, true},
		{Difference{DB: 4.5, Band: 5.3}, false, true},
		{Difference{DB: 4.5, Band: 4.4}, false, false},
		{Difference{DB: 0.4, Band: 0.3}, false, false},
	} {
		if c.d.Tie() != c.tie || c.d.Uncertain() != c.uncertain {
			t.Errorf("%+v: tie %v, uncertain %v", c.d, c.d.Tie(), c.d.Uncertain())
		}
	}
	up, down := uncertainty.Apart(2, []float64{3, 1, 0, 5}, []float64{1, 2, 0, 1}), uncertainty.Apart(-2, []float64{3, 1, 0, 5}, []float64{1, 2, 0, 1})
	if up.Chance != 0.625 || down.Chance != 0.375 || up.Band != down.Band {
		t.Errorf("two of four draws above, one equal: %+v, %+v", up, down)
	}
}

// What no card states moves the level too: how losses grow with travel and how fast
// the coil heats are drawn, in the same car, with the same source and a stated box.
func TestWhatNoCardStatesIsDrawn(t *testing.T) {
	p, car := garage(t).small(3)
	r, err := pickIn(context.Background(), p, car)
	if err != nil || len(r.Builds) == 0 {
		t.Fatal(err, len(r.Builds))
	}
	task, err := readyIn(p, setting.Relaxation{}, car)
	if err != nil {
		t.Fatal(err)
	}
	b := r.Builds[0]
	b.Bass.Driver.Spread = driver.Spread{}
	b.Bass.Box.LeakQ, b.Bass.Box.AbsorptionQ = 20, 50
	rooms := make([]cabin.Response, 64)
	for i := range rooms {
		rooms[i] = *task.Room
	}
	band := func() float64 {
		drive := b.Drive()
		var levels []float64
		uncertainty.Redraw(task.Setting, &b, rooms, func(p *bass.Prepared, _ bass.Drive) {
			levels = append(levels, p.Loudest(drive, task.Reading).Level)
		})
		return uncertainty.HalfWidth(levels)
	}
	stated := band()
	if stated < 0.02 {
		t.Errorf("growth of losses and time of heating: +/- %g dB", stated)
	}
	b.Bass.Box.LeakQ, b.Bass.Box.AbsorptionQ = 0, 0
	if all := band(); all == stated {
		t.Errorf("with unstated losses of the box +/- %g dB, the same as with stated ones", all)
	}
}

// A stopped answer of many builds has its bands sooner, from fewer draws, and says so;
// one of few is as it would be.
func TestAStoppedAnswerHasRoughBands(t *testing.T) {
	c := garage(t)
	p, car := c.small(1)
	b := best(t, p, car)
	for seed := uint64(2); b == nil; seed++ {
		p, car = c.small(seed)
		b = best(t, p, car)
	}
	stopped, stop := context.WithCancel(context.Background())
	stop()
	for _, many := range []int{3, 300} {
		whole, hurried := make([]Build, many), make([]Build, many)
		for i := range many {
			whole[i], hurried[i] = *b, *b
		}
		rough, err := uncertainty.Ranking(context.Background(), car.Setting, whole)
		if err != nil || rough {
			t.Fatalf("%d builds, not stopped: rough %v, %v", many, rough, err)
		}
		if rough, err = uncertainty.Ranking(stopped, car.Setting, hurried); err != nil || rough != (many == 300) {
			t.Fatalf("%d builds, stopped: rough %v, %v", many, rough, err)
		}
		for i := range many {
			full, few := whole[i].Reading.Band, hurried[i].Reading.Band
			if few <= 0 || (few == full) == rough || few < full/2 || few > 2*full || i > 0 && !hurried[i].Tie {
				t.Fatalf("%d builds: band %g dB, whole %g dB, tie %v", many, few, full, hurried[i].Tie)
			}
		}
	}
}
