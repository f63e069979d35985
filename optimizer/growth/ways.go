package growth

import (
	"context"
	"slices"

	"loudfor/catalog"
	"loudfor/optimizer"
)

// Which amplifier to live with. The trade argues about two ways: an amplifier for the
// bass now and one for the doors when there is money again, or one with four channels or
// more that does both. Each way is a question with fewer amplifiers on its shelf, so each
// has a best plan, found by the same search. Neither way is made to power the doors: where
// its plan leaves them to the radio, that is the best that the way can do.

// Way is one of them.
type Way int

const (
	Apart    Way = iota // amplifiers of fewer than four channels; one for the bass
	Together            // one amplifier of four channels or more at each step
	WayCount
)

// both is how many channels a bass and two doors take, the bass bridged.
const both = 4

// Plans are the best plans of the two ways by one goal. An Outcome that is Infeasible
// says that a way has none. At each step that both have, the second's build says how far
// it is from the first's, and whether that is a tie.
type Plans struct {
	Goal catalog.Goal
	Of   [WayCount]Plan
}

// Ways finds the best plan of each way, by each goal, the brief's own first.
func Ways(ctx context.Context, p optimizer.Problem) (all []Plans, err error) {
	if p.Shared == nil {
		p.Shared = new(optimizer.Shared)
	}
	bare := p.Bare
	p.Bare = true
	for _, goal := range []catalog.Goal{p.Brief.Goal, catalog.GoalReading + catalog.GoalMusic - p.Brief.Goal} {
		p.Brief.Goal = goal
		series, err := optimizer.NewSeries(p) // it knows builds by their parts, which each goal wires its own way
		if err != nil {
			return nil, err
		}
		plans := Plans{Goal: goal}
		for way := range WayCount {
			if plans.Of[way], err = Solve(ctx, Along(p, way)); err != nil {
				return nil, err
			}
		}
		a, b := plans.Of[Apart].Steps, plans.Of[Together].Steps
		for i := 0; !bare && i < max(len(a), len(b)); i++ {
			var pair []*optimizer.Build
			for _, steps := range [][]Step{a, b} {
				if i < len(steps) {
					pair = append(pair, &steps[i].Build)
				}
			}
			if err := series.Compare(p, pair); err != nil {
				return nil, err
			}
		}
		all = append(all, plans)
	}
	return all, nil
}

// Along is the question of one way.
func Along(p optimizer.Problem, way Way) optimizer.Problem {
	p.Brief.Amplifiers, p.FrontShares = 1, way == Together
	p.Brief.Never = slices.Clone(p.Brief.Never)
	for _, a := range p.Catalogue.ByKind(catalog.KindAmplifier) {
		if (a.Amplifier.Spec.Channels >= both) != (way == Together) {
			p.Brief.Never = append(p.Brief.Never, catalog.Mention{SKU: a.SKU, Count: 1})
		}
	}
	return p
}
