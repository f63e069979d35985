package optimizer

import (
	"context"
	"math"
	"sort"

	"loudfor/catalog"
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
//     higher price. At every cap that allows what is left out, that rival is
//     allowed too, and comes first (ladder_order.go). The test is monotone: what
//     is louder and cheaper passes whenever anything passes that it bounds. So
//     envelopes, horizons, choices and staircases bound as before; and
//     targets, since the level to beat rises with the price: what cannot reach
//     it rounded down to a tier cannot reach it, and what the strongest of some
//     treads cannot reach at the lowest of their levels none of them can reach
//     at its own (ladder_aim.go).
//   - Sharp pairs: for a reading each wiring of a pair with each kit is judged by
//     itself, and first those that no other is as good as for no more money
//     (outfit.go, yardstick.go). Where one passes, those behind it are asked too.
//   - Depth: a part is left out when one other is strictly cheaper and does all
//     that it does, or as much for as much and has the earlier SKU. The build
//     with the other in its place comes first at every cap.
//
// Rounds work as in a ranking: the ladder to beat is frozen, finds are merged in
// the order of the groups, so nothing depends on the number of workers.

// LadderResult is the answer of Ladder. It answers for every cap up to the one
// that it was made for: At only looks among the steps, where another cap would
// otherwise be another search. It stands on nothing that changes, so it may be kept as long
// as catalogue, brief and vehicle are what they were, and asked by several
// goroutines at once. Steps carry no curve and no notes; Predict gives those of
// one step's parts when somebody wants to see them:
//
//	ladder, err := optimizer.Ladder(ctx, p) // once, with the highest cap
//	...
//	b := ladder.At(sum) // for every move of the budget
//	if b != nil {
//		full, err := optimizer.Predict(ctx, p, optimizer.Mentions(b.Lines), "", 0)
//	}
type LadderResult struct {
	Outcome Outcome
	Stop    Stop
	Steps   []Step // cheapest first; price and objective rise from each to the next
	Proof   Proof  // its gap is the widest of the steps' gaps

	// Complete is the cheapest system whose front stage is new as well: the
	// loudest of the builds with the lowest price under the rule "replace",
	// whatever the cap. Nil when there is none, or the search was stopped.
	Complete *Build

	// Below, of a search that was stopped, is a price from which on there may
	// be builds cheaper than the first step; zero when there are none.
	Below catalog.Money

	Conflicts [][]Requirement // as in Result

	unseen []shade // of a search that was stopped
}

// shade is what builds that a stopped search has not seen could be: for no less
// than a price, no louder than a level.
type shade struct {
	cost  int64 // minor units, everything included
	level level
}

// Step is the best build from its own price up to the next step's.
type Step struct {
	Build Build // without curve and notes. Rank counts the steps from 1

	// Over the step below; zero for the first.
	Rise  float64 // dB of the objective
	Extra catalog.Money

	// Band is the half-width of the 90 % interval of Rise, dB. The steps stand
	// in one car, so it is much smaller than that of either level. Chance and
	// Tie are those of a Difference.
	Band   float64
	Chance float64
	Tie    bool

	// Next is what LadderRise more would cost, by the first step that is so
	// much louder. Where there is none up to the cap (Open), it costs more
	// than Next, which is what the cap leaves; with no cap Next is zero.
	Next catalog.Money
	Open bool

	Gap float64 // dB that an unseen build for less than the next step could be louder

	draws []float64 // of the objective; nil: no band was drawn
}

// LadderRise is the step in dB for which Step.Next gives the price: what most
// people notice, and about what twice the power buys (common practice, no
// source).
const LadderRise = 2.0

// Over is the difference to the step below.
func (s *Step) Over() Difference { return Difference{DB: s.Rise, Band: s.Band, Chance: s.Chance} }

// Steep says whether LadderRise more costs more than a stated amount.
func (s *Step) Steep(worth catalog.Money) bool {
	if s.Open {
		return s.Next.Minor >= worth.Minor
	}
	return s.Next.Minor > worth.Minor
}

// WorthUpTo is the place of the first step from which LadderRise more costs
// more than a stated amount; -1 when it never is known to.
func (r *LadderResult) WorthUpTo(worth catalog.Money) int {
	for i := range r.Steps {
		if r.Steps[i].Steep(worth) {
			return i
		}
	}
	return -1
}

// At is the best build for a sum, tax included; nil when there is none.
func (r *LadderResult) At(sum catalog.Money) *Build {
	dearer := sort.Search(len(r.Steps), func(i int) bool { return r.Steps[i].Build.Cost.Minor > sum.Minor })
	if dearer == 0 {
		return nil
	}
	return &r.Steps[dearer-1].Build
}

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
	t, err := readyIn(p, relaxed{}, car)
	if err != nil {
		return LadderResult{}, err
	}
	t.ladder = true
	s := t.search(ctx)
	if err := s.reconsider(); err != nil {
		return LadderResult{}, err
	}
	r := LadderResult{Proof: s.books.proof(s.kits64, s.rests64), Stop: stopOf(ctx, s)}
	for i := len(s.total.best) - 1; i >= 0; i-- {
		b, err := t.finish(&s.total.best[i])
		if err != nil {
			return LadderResult{}, err
		}
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
		if p.tour == nil { // else one asks about all of them: touring.go
			r.Conflicts = conflicts(ctx, p, t)
		}
	}
	if len(r.Steps) > 0 && s.finished {
		if r.Complete, err = complete(ctx, p, t, r.Steps); err != nil {
			return r, err
		}
	}
	if !bare {
		err = t.ladderBands(ctx, &r)
	}
	return r, err
}

// ladderBands fills in how far levels and rises may be off.
func (t *task) ladderBands(ctx context.Context, r *LadderResult) error {
	var all []*Build
	for i := range r.Steps {
		all = append(all, &r.Steps[i].Build)
	}
	if r.Complete != nil {
		all = append(all, r.Complete)
	}
	samples, err := t.samples(ctx, all)
	if err != nil || samples == nil {
		return err
	}
	for i := 1; i < len(r.Steps); i++ {
		s := &r.Steps[i]
		s.over(s.Rise, samples[i], samples[i-1])
	}
	for i := range r.Steps {
		r.Steps[i].draws = samples[i]
	}
	return nil
}

// measure fills in what lies between the steps.
func (t *task) measure(steps []Step) {
	for i := range steps {
		s := &steps[i]
		s.Build.Rank = i + 1
		s.Extra, s.Next = t.money(0), t.money(0)
		if i > 0 {
			s.Extra = t.money(s.Build.Cost.Minor - steps[i-1].Build.Cost.Minor)
			s.Rise = (round(s.Build.Objective) - round(steps[i-1].Build.Objective)).dB()
		}
		s.Open = true
		if t.brief.Cap != (catalog.Money{}) {
			s.Next = t.money(t.brief.Cap.Minor - s.Build.Cost.Minor)
		}
		for k := i + 1; k < len(steps); k++ {
			if round(steps[k].Build.Objective)-round(s.Build.Objective) >= round(LadderRise) {
				s.Next, s.Open = t.money(steps[k].Build.Cost.Minor-s.Build.Cost.Minor), false
				break
			}
		}
	}
}

// gaps bounds what a stopped search has not seen: at every price, no unseen
// build is louder than the highest ceiling of the groups that are left and
// could cost so little.
func (s *search) gaps(r *LadderResult) {
	for _, x := range s.unseen.sort() {
		r.unseen = append(r.unseen, shade{s.till.figure(x.price), x.level})
	}
	r.gaps(s.currency())
}

// gaps fills in the gaps that the unseen leaves.
func (r *LadderResult) gaps(currency string) {
	for i := range r.Steps {
		step := &r.Steps[i]
		below := int64(math.MaxInt64)
		if i+1 < len(r.Steps) {
			below = r.Steps[i+1].Build.Cost.Minor
		}
		step.Gap = 0
		for _, x := range r.unseen {
			if x.cost < below {
				step.Gap = max(step.Gap, x.level.dB()-step.Build.Objective)
			}
		}
		r.Proof.GapDB = max(r.Proof.GapDB, step.Gap)
	}
	for _, x := range r.unseen {
		if len(r.Steps) > 0 && x.cost < r.Steps[0].Build.Cost.Minor && (r.Below.Minor == 0 || x.cost < r.Below.Minor) {
			r.Below = catalog.Money{Minor: x.cost, Currency: currency}
		}
	}
}

// complete finds the cheapest system with a new front stage.
func complete(ctx context.Context, p Problem, car *task, steps []Step) (*Build, error) {
	if p.Brief.Front == catalog.FrontReplace {
		return &steps[0].Build, nil
	}
	p.Brief.Front, p.Brief.Cap = catalog.FrontReplace, catalog.Money{}
	t, err := readyIn(p, relaxed{}, car)
	if err != nil {
		return nil, err
	}
	price, ok := t.cheapest()
	if !ok {
		return nil, nil
	}
	p.Brief.Cap = car.money(t.till.figure(price))
	r, err := pickIn(ctx, p, car)
	if err != nil || len(r.Builds) == 0 || r.Outcome != Optimal {
		return nil, err
	}
	return &r.Builds[0], nil
}
