package optimizer

import (
	"context"
	"math"
	"reflect"
	"strings"

	"loudfor/catalog"
	"loudfor/model/bass"
	"loudfor/model/cabin"
	"loudfor/model/parallel"
	"loudfor/optimizer/build"
	"loudfor/optimizer/setting"
	"loudfor/optimizer/uncertainty"
)

// Many questions about one car. What a customer's trade-off talk asks (a part
// forbidden, a price changed, a part demanded, more money) changes the shelf
// and the cap, never the car; so the cabin's response, which costs more than
// most searches, is computed once, and so are the draws of the car behind the
// bands. Answers are those of Pick, Ladder and Predict to the last digit.

// Series answers questions that differ in anything but the car, the place of
// the meter, the openings and the temperature. A question about another car is
// answered as well, at the full price.
type Series struct {
	p     Problem
	car   *task
	rooms []cabin.Response // drawn when first asked for
	known map[string]*uncertainty.Sample
}

// NewSeries computes what the questions have in common.
func NewSeries(p Problem) (*Series, error) {
	p.With = ""
	t, err := ready(p, setting.Relaxation{})
	if err != nil {
		return nil, err
	}
	return &Series{p: p, car: t, known: make(map[string]*uncertainty.Sample)}, nil
}

// in is the car for a question; nil when it is about another one.
func (s *Series) in(p *Problem) *task {
	a, b := &s.p, p
	if a.Brief.Place != b.Brief.Place || a.Brief.Openings != b.Brief.Openings || a.Brief.Celsius != b.Brief.Celsius ||
		a.Brief.Vehicle != b.Brief.Vehicle || a.Vehicle.Name != b.Vehicle.Name || !reflect.DeepEqual(a.Vehicle.Body, b.Vehicle.Body) {
		return nil
	}
	return s.car
}

// Pick is the function Pick.
func (s *Series) Pick(ctx context.Context, p Problem) (Result, error) {
	return pickIn(ctx, p, s.in(&p))
}

// First is the first build of Pick's ranking, without curve, notes and bands;
// nil when there is none, and then it is not asked what blocks, which would take
// longer than the search. whole is false when the context ended it.
func (s *Series) First(ctx context.Context, p Problem) (b *Build, whole bool, err error) {
	p.Top, p.Distinct, p.Bare = 1, DistinctParts, true
	if touring(&p) {
		r, _, err := bestOfTours(ctx, p, s.in(&p))
		if len(r.Builds) > 0 {
			b = &r.Builds[0]
		}
		return b, r.Stop == StopComplete, err
	}
	t, err := readyIn(p, setting.Relaxation{}, s.in(&p))
	if err != nil {
		return nil, false, err
	}
	found := t.search(ctx)
	if found.reconsider(); len(found.total.best) == 0 {
		return nil, found.finished, nil
	}
	built, err := t.finishAll(found.total.best)
	if err != nil {
		return nil, false, err
	}
	return &built[0], found.finished, nil
}

// Ladder is the function Ladder.
func (s *Series) Ladder(ctx context.Context, p Problem) (LadderResult, error) {
	return ladderIn(ctx, p, s.in(&p))
}

// From is the ladder from a level in dB on, cheapest first: the cheapest build
// that reaches it, and what every sum beyond buys. The builds have neither
// curves nor bands. Nothing quieter is looked at, which makes this the quickest
// of all searches. whole is false when the context ended it: then builds may
// be missing.
//
// Two builds that differ by less than the till's rounding are both there, so
// that the order of their prices can be told.
func (s *Series) From(ctx context.Context, p Problem, least float64) (builds []Build, whole bool, err error) {
	p.Top, p.Distinct, p.Bare = 1, DistinctParts, true
	if touring(&p) {
		r, err := ladderIn(ctx, p, s.in(&p))
		for _, step := range r.Steps {
			if build.Round(step.Build.Objective) >= build.Round(least) {
				step.Build.Rank = len(builds) + 1
				builds = append(builds, step.Build)
			}
		}
		return builds, err == nil && r.Stop == StopComplete, err
	}
	t, err := readyIn(p, setting.Relaxation{}, s.in(&p))
	if err != nil {
		return nil, false, err
	}
	t.ladder, t.floor = true, max(build.Round(least), 1)
	found := t.search(ctx)
	var fault error // of what cannot be put together
	for i := len(found.total.best) - 1; i >= 0; i-- {
		c := &found.total.best[i]
		if c.parts == nil {
			continue // the ground
		}
		if !found.finished { // see stopped.go
			g, box, err := t.blockOf(c.parts)
			if err != nil {
				return nil, false, err
			}
			if a, ok, err := t.arrange(c.parts, g, box, demands{}); err == nil && ok {
				c.level, _ = t.merits(&a)
			}
		}
		b, err := t.finish(c)
		if err != nil {
			fault = err
			continue
		}
		b.Rank = len(builds) + 1
		builds = append(builds, b)
	}
	if len(builds) > 0 {
		fault = nil
	}
	return builds, found.finished, fault
}

// ground is what a ladder with a floor stands on: no build, for no money, just
// below the floor. Whatever does not reach the floor is beaten by it.
func (t *task) ground() candidate {
	return candidate{level: t.floor - 1, price: math.MinInt64 / 4}
}

// Compare fills in the bands of builds of this car, and how far each is from
// the first, with ties. They may come from different questions, as long as the
// parts are the same but for their prices.
func (s *Series) Compare(p Problem, builds []*Build) error {
	t, err := readyIn(p, setting.Relaxation{}, s.in(&p))
	if err != nil || len(builds) == 0 {
		return err
	}
	if s.rooms == nil {
		if s.rooms, err = uncertainty.Rooms(t.Setting); err != nil {
			return err
		}
	}
	all := make([]*uncertainty.Sample, len(builds))
	missing := make([]int, 0, len(builds))
	for i, b := range builds {
		if all[i] = s.known[soundKey(b)]; all[i] == nil {
			missing = append(missing, i)
		}
	}
	parallel.Each(t.Workers(), len(missing), func(k int) {
		all[missing[k]] = uncertainty.Scatter(t.Setting, builds[missing[k]], s.rooms)
	})
	for i, b := range builds {
		s.known[soundKey(b)] = all[i]
		all[i].Fill(b)
		b.Difference, b.Tie = Difference{}, false
		if i > 0 {
			b.Difference = uncertainty.Apart((build.Round(b.Objective) - build.Round(builds[0].Objective)).DB(), all[i].Objective(t.Music()), all[0].Objective(t.Music()))
			b.Tie = b.Difference.Tie()
		}
	}
	return nil
}

// Apart is how far a build is from another, both compared before.
func (s *Series) Apart(b, from *Build) (d Difference, tie bool) {
	d.DB = (build.Round(b.Objective) - build.Round(from.Objective)).DB()
	if x, y := s.known[soundKey(b)], s.known[soundKey(from)]; x != nil && y != nil {
		d = uncertainty.Apart(d.DB, x.Objective(b.ByMusic), y.Objective(b.ByMusic))
		tie = d.Tie()
	}
	return d, tie
}

// soundKey tells builds apart that sound different.
func soundKey(b *Build) string { return strings.Join(b.SKUs(), "\x00") }

// Spread is the half width of the band of each of some figures of a build of this car,
// over the draws that Compare takes; none where every draw is at the edge.
func (s *Series) Spread(p Problem, b *Build, figures func(p *bass.Prepared, drive bass.Drive) []float64) ([]float64, error) {
	t, err := s.bare(p)
	if err == nil && s.rooms == nil {
		s.rooms, err = uncertainty.Rooms(t.Setting)
	}
	if err != nil {
		return nil, err
	}
	return uncertainty.Spread(t.Setting, b, s.rooms, figures), nil
}

// Chain is a build's bass as the model takes it: the driver in its box in this
// car, what drives it, and the limits of a reading under the brief. It is for
// questions about other limits than those that hold.
func (s *Series) Chain(p Problem, b *Build) (*bass.Prepared, bass.Drive, bass.Limits, error) {
	t := setting.New(p, setting.Relaxation{})
	var near *setting.Setting
	if car := s.in(&p); car != nil {
		near = car.Setting
	}
	if err := t.Enter(near); err != nil {
		return nil, bass.Drive{}, bass.Limits{}, err
	}
	prepared, err := bass.Prepare(b.Setup(t.Air), t.Room)
	return prepared, b.Drive(), t.Reading, err
}

// Cheapest is what the cheapest build of a problem costs, whatever its level
// and whatever the cap; ok is false when nothing can be built.
func (s *Series) Cheapest(p Problem) (cost catalog.Money, ok bool, err error) {
	cost.Currency = p.Catalogue.Currency
	cost.Minor, ok, _, err = cheapestCost(context.Background(), p, s.in(&p))
	return cost, ok, err
}
