package optimizer

import (
	"cmp"
	"context"
	"math"
	"slices"

	"loudfor/catalog"
	"loudfor/optimizer/build"
	"loudfor/optimizer/setting"
	"loudfor/optimizer/uncertainty"
)

// The ladder: the best build at every price up to the cap, found in one search.
// It is not a sample of prices. Between the price of one step and that of the
// next there is no better build than the lower step, and a cent below a step
// there is none as good.
//
// Why the search is right for it. For each cap c up to the brief's, the step at
// c is the first build of the ranking for cap c; so the ladder is right when
// nothing is left out that would be first for some c. The reasons of the
// package page, with a ranking of one build (K = 1):
//
//   - Price: only what is above the brief's cap is left out, and with it what
//     is above any lower one.
//   - Bound: what is left out costs at least a floor and does not reach the
//     best held that costs no more than the floor, or reaches its level at a
//     higher price. At every cap that allows what is left out, that incumbent is
//     allowed too, and comes first (ladder_order.go). The test is monotone: what
//     is louder and cheaper passes whenever anything passes that it bounds. So
//     envelopes, horizons, choices and staircases bound as before; and
//     targets, since the level to beat rises with the price: what cannot reach
//     it rounded down to a tier cannot reach it, and what the strongest of some
//     treads cannot reach at the lowest of their levels none of them can reach
//     at its own (ladder_aim.go).
//   - Sharp pairs: for a reading each wiring of a pair with each kit is judged by
//     itself, and first those that no other is as good as for no more money
//     (drive/feed.go, drive/dominance.go). Where one passes, those behind it are asked too.
//   - Depth: a part is left out when one other is strictly cheaper and does all
//     that it does, or as much for as much and has the earlier SKU. The build
//     with the other in its place comes first at every cap.
//
// Rounds work as in a ranking: the ladder to beat is frozen, finds are merged in
// the order of the groups, so nothing depends on the number of workers.

// Ladder finds the best build at every price up to the brief's cap. Top and
// Distinct of the problem do not matter; errors are as in Pick.
//
// The context is polled throughout: when it ends, the steps found so far come
// back, each with the gap that a build not yet seen could leave, and Stop says
// why. With Bare, steps are not given bands either.
func Ladder(ctx context.Context, p Problem) (LadderResult, error) {
	return ladderIn(ctx, p, nil)
}

func ladderIn(ctx context.Context, p Problem, car *task) (LadderResult, error) {
	if touring(&p) {
		return ladderTouring(ctx, p, car)
	}
	bare := p.Bare
	p.Top, p.Distinct, p.Bare = 1, DistinctParts, true
	t, err := readyIn(p, setting.Relaxation{}, car)
	if err != nil {
		return LadderResult{}, err
	}
	t.ladder = true
	s := t.search(ctx)
	s.reconsider()
	r := LadderResult{Proof: s.ledger.proof(s.kits64, s.rests64), Stop: stopOf(s)}
	builds, err := t.finishAll(s.total.best)
	if err != nil {
		return LadderResult{}, err
	}
	for _, b := range slices.Backward(builds) {
		if n := len(r.Steps); n > 0 && r.Steps[n-1].Build.Cost == b.Cost {
			r.Steps = r.Steps[:n-1] // the till rounds both to one price
		}
		r.Steps = append(r.Steps, Step{Build: b})
	}
	t.measure(r.Steps)
	if !s.finished {
		s.gaps(&r)
	}
	switch {
	case len(r.Steps) > 0 && s.finished:
		r.Outcome = Optimal
	case len(r.Steps) > 0:
		r.Outcome = Feasible
	case s.finished:
		r.Outcome = Infeasible
		if p.Shops == nil { // else one asks about all of them: touring.go
			r.Conflicts, r.Stop = blockers(ctx, p, t)
		}
	}
	if p.Shops == nil { // else one asks about all of them: tour_ladder.go
		if err := completed(ctx, p, t, &r); err != nil {
			return r, err
		}
	}
	if !bare {
		err = uncertainty.Ladder(ctx, t.Setting, &r)
	}
	return r, err
}

// measure fills in what lies between the steps.
func (t *task) measure(steps []Step) {
	for i := range steps {
		s := &steps[i]
		s.Build.Rank = i + 1
		s.Extra, s.Next = t.Money(0), t.Money(0)
		if i > 0 {
			s.Extra = t.Money(s.Build.Cost.Minor - steps[i-1].Build.Cost.Minor)
			s.Rise = (build.Round(s.Build.Objective) - build.Round(steps[i-1].Build.Objective)).DB()
		}
		s.Open = true
		if t.Brief.Cap != (catalog.Money{}) {
			s.Next = t.Money(t.Brief.Cap.Minor - s.Build.Cost.Minor)
		}
		for k := i + 1; k < len(steps); k++ {
			if build.Round(steps[k].Build.Objective)-build.Round(s.Build.Objective) >= build.Round(LadderRise) {
				s.Next, s.Open = t.Money(steps[k].Build.Cost.Minor-s.Build.Cost.Minor), false
				break
			}
		}
	}
}

// gaps bounds what a stopped search has not seen: at every price, no unseen
// build is louder than the highest ceiling of the groups that are left and
// could cost so little.
func (s *search) gaps(r *LadderResult) {
	for _, x := range s.openFront.Sort() {
		r.OpenFront = append(r.OpenFront, build.OpenPoint{Cost: s.Tax.Figure(x.Price), Level: x.Level})
	}
	openGaps(r, s.Currency())
}

// openGaps fills in the gaps that what is open leaves.
func openGaps(r *LadderResult, currency string) {
	for i := range r.Steps {
		step := &r.Steps[i]
		below := int64(math.MaxInt64)
		if i+1 < len(r.Steps) {
			below = r.Steps[i+1].Build.Cost.Minor
		}
		step.Gap = 0
		for _, x := range r.OpenFront {
			if x.Cost < below {
				step.Gap = max(step.Gap, x.Level.DB()-step.Build.Objective)
			}
		}
		r.Proof.GapDB = max(r.Proof.GapDB, step.Gap)
	}
	for _, x := range r.OpenFront {
		if len(r.Steps) > 0 && x.Cost < r.Steps[0].Build.Cost.Minor && (r.Below.Minor == 0 || x.Cost < r.Below.Minor) {
			r.Below = catalog.Money{Minor: x.Cost, Currency: currency}
		}
	}
}

// completed finds the cheapest system with a new front stage, whatever the cap: also
// where nothing is within that.
func completed(ctx context.Context, p Problem, car *task, r *LadderResult) error {
	if r.Stop != StopComplete {
		return nil
	}
	if p.Brief.Front == catalog.FrontReplace && len(r.Steps) > 0 {
		r.Complete = &r.Steps[0].Build
		return nil
	}
	currency := cmp.Or(p.Catalogue.Currency, p.Brief.Cap.Currency)
	p.Brief.Front, p.Bare, p.Top, p.Distinct, p.Known = catalog.FrontReplace, true, 1, DistinctParts, nil
	cost, ok, stop, err := cheapestCost(ctx, p, car)
	if r.Stop = stop; !ok || err != nil {
		return err
	}
	p.Brief.Cap = catalog.Money{Minor: cost, Currency: currency}
	best, err := pickIn(ctx, p, car)
	if r.Stop = best.Stop; err == nil && best.Outcome == Optimal {
		r.Complete = &best.Builds[0]
	}
	return err
}
