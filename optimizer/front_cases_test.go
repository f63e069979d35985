package optimizer

import (
	"context"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"loudfor/catalog"
	"loudfor/optimizer/setting"
)

// fronts makes a random problem in which the front decides: new speakers that a
// source may drive by itself, or only behind a blocker, or not at all, so that
// amplifiers and blockers are now needed and now idle.
func (c *cars) fronts(seed uint64) (Problem, *task) {
	p, car := c.drawn(seed, mixedMost)
	g := rand.New(rand.NewPCG(seed, 0x66726f6e))
	p.Brief.Goal, p.Brief.Front = catalog.GoalReading, []catalog.FrontRule{catalog.FrontReplace, catalog.FrontEither}[g.IntN(2)]
	p.Brief.FrontWatts, p.Brief.Must, p.Brief.Stores = 15, nil, nil
	p.Brief.Space = catalog.Size3{}
	p.Distinct = DistinctParts
	dear := g.IntN(2) == 0 // a blocker costs more than an amplifier
	var parts []*catalog.Part
	for _, part := range p.Catalogue.Parts {
		q := *part
		switch q.Kind {
		case catalog.KindSource:
			s := *q.Source
			s.HighPass, s.Channels, s.Load, s.Power = g.IntN(4) == 0, 4, 4, []float64{5, 14, 16, 22, 40}[g.IntN(5)]
			q.Source = &s
		case catalog.KindFront:
			f := *q.Front
			f.Load, f.Power, f.Fs, f.Xmax = 4, 60, 60+60*g.Float64(), 0.001+0.008*g.Float64()
			q.Front = &f
		case catalog.KindBlocker:
			b := *q.Blocker
			b.Capacitance = []float64{100e-6, 200e-6, 400e-6, 900e-6}[g.IntN(4)]
			q.Blocker = &b
			if q.Price.Minor = int64(100 + g.IntN(3000)); dear {
				q.Price.Minor += 3000
			}
		case catalog.KindAmplifier:
			if q.Price.Minor = q.Price.Minor * int64(10+g.IntN(90)) / 100; dear {
				q.Price.Minor /= 8
			}
		}
		parts = append(parts, &q)
	}
	p.Catalogue = &catalog.Catalogue{Currency: p.Catalogue.Currency, Parts: parts}
	return p, car
}

// Rankings of any length, the ladder, and the best build with a part, where the
// rules about idle parts decide: a part that does more is then no substitute for
// one that does less, since it may leave another without a use.
func TestOracleOfFronts(t *testing.T) {
	c := garage(t)
	solved, asked := 0, 0
	for seed := firstSeed(t); seed < firstSeed(t)+caseCount(t, cases); seed++ {
		p, car := c.fronts(seed)
		full, err := readyIn(p, setting.Relaxation{}, car)
		if err != nil {
			t.Fatal(err)
		}
		o := &oracle{p: p, t: full}
		all := o.all()
		hold := func(what string, p Problem, keep func(b *oracleBuild) bool) {
			r, err := pickIn(context.Background(), p, car)
			if err != nil {
				t.Fatalf("seed %d, %s: %v", seed, what, err)
			}
			var builds []*Build
			for i := range r.Builds {
				builds = append(builds, &r.Builds[i])
			}
			want := o.rank(slices.DeleteFunc(slices.Clone(all), func(b oracleBuild) bool { return !keep(&b) }), p.Brief.Cap, p.Distinct, p.Top)
			sameBuilds(t, seed, what, builds, want)
			asked++
		}
		for _, p.Top = range []int{1, 2, 5} {
			hold("the ranking", p, func(*oracleBuild) bool { return true })
		}
		p.Top = 1
		ladder, err := ladderIn(context.Background(), p, car)
		if err != nil {
			t.Fatal(err)
		}
		var steps []*Build
		for i := range ladder.Steps {
			steps = append(steps, &ladder.Steps[i].Build)
		}
		sameBuilds(t, seed, "the ladder", steps, pareto(o.rank(all, p.Brief.Cap, DistinctParts, math.MaxInt)))
		for _, part := range p.Catalogue.Parts {
			if part.Kind == catalog.KindSubwoofer || part.Kind == catalog.KindEnclosure || part.Kind == catalog.KindLoaded {
				continue
			}
			q := p
			q.With = part.SKU
			hold("with "+part.SKU, q, func(b *oracleBuild) bool { return slices.Contains(b.skus, part.SKU) })
		}
		if len(ladder.Steps) > 0 {
			solved++
		}
	}
	t.Logf("%d problems have builds, %d questions asked", solved, asked)
}
