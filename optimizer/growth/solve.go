package growth

import (
	"context"
	"errors"
	"slices"
	"strings"

	"loudfor/catalog"
	"loudfor/optimizer"
	"loudfor/optimizer/build"
)

// Solve finds the best plan for a brief with steps. The problem's With, Known, Top and
// Distinct do not matter. The error is for problems that make no sense; see
// optimizer.Pick.
//
// The context is polled throughout: when it ends, the best plan so far comes back,
// with the gap that a plan not yet seen could leave.
func Solve(ctx context.Context, p optimizer.Problem) (Plan, error) {
	budgets := p.Brief.Budgets()
	if len(budgets) < 2 {
		return Plan{}, errors.New("a plan needs two steps or more: the brief has none")
	}
	if p.Shared == nil {
		p.Shared = new(optimizer.Shared)
	}
	p.With, p.Known, p.Top, p.Distinct = "", nil, 0, optimizer.DistinctParts
	p.Progress = nil
	inOrder := *p.Catalogue // parts are looked up by SKU
	inOrder.Parts = slices.Clone(p.Catalogue.Parts)
	slices.SortFunc(inOrder.Parts, func(a, b *catalog.Part) int { return strings.Compare(a.SKU, b.SKU) })
	p.Catalogue = &inOrder
	series, err := optimizer.NewSeries(p)
	if err != nil {
		return Plan{}, err
	}
	s := &solver{ctx: ctx, p: p, series: series, order: p.Brief.Order, budgets: budgets, owned: countsOf(p.Brief.Owned),
		least: leastPrices(p.Catalogue, &p.Brief), labour: catalog.LabourLines(&p.Brief, &p.Vehicle),
		shops: make([]*catalog.Catalogue, len(budgets)+1), unseen: build.Silent}
	s.oneUse, s.plain = s.amplifierUses()
	return s.solve()
}

// solver is one search for a plan.
type solver struct {
	ctx     context.Context
	p       optimizer.Problem
	series  *optimizer.Series
	order   catalog.PlanOrder
	budgets []catalog.Money
	owned   counts
	oneUse  bool // no build needs an amplifier but for the bass, nor is louder with one
	plain   bool // nor cheaper, at whatever step
	least   map[string]int64
	labour  []catalog.Labour
	shops   []*catalog.Catalogue // without ties, by visits

	nothing []*optimizer.Build // the best from nothing, by step
	best    *draft
	unseen  build.Level // of a search that was stopped: what nothing unseen exceeds, at the step that matters first
	stopped bool
	asked   int // searches
}

// errStopped ends a search from inside.
var errStopped = errors.New("stopped")

func (s *solver) solve() (Plan, error) {
	plan := Plan{Outcome: optimizer.Unknown}
	for i := range s.budgets {
		b, err := s.first(s.problem(i, s.budgets[i].Minor, nil))
		if err != nil && !errors.Is(err, errStopped) {
			return plan, err
		}
		s.nothing = append(s.nothing, b)
	}
	if !s.stopped && s.nothing[0] != nil {
		if err := s.grow(&draft{}); err != nil && !errors.Is(err, errStopped) {
			return plan, err
		}
	}
	switch {
	case s.stopped:
		switch err := s.ctx.Err(); {
		case err == nil:
			plan.Stop = optimizer.StopMemory
		case errors.Is(err, context.DeadlineExceeded):
			plan.Stop = optimizer.StopDeadline
		default:
			plan.Stop = optimizer.StopCancelled
		}
	case s.best == nil:
		plan.Outcome = optimizer.Infeasible
	}
	if s.best == nil {
		return plan, nil
	}
	plan.Outcome = optimizer.Optimal
	if s.stopped {
		plan.Outcome = optimizer.Feasible
	}
	s.fill(&plan)
	return plan, s.remark(&plan)
}

// problem is the question of one step: the money that is there, with what is held
// beside what was owned.
func (s *solver) problem(step int, cash int64, held counts) optimizer.Problem {
	p := s.p
	p.Bare = true
	p.Brief.Steps = nil
	p.Brief.Cap = catalog.Money{Minor: cash, Currency: s.budgets[step].Currency}
	own := s.owned.clone()
	for sku, n := range held {
		own[sku] += n
	}
	p.Brief.Owned = own.mentions()
	return p
}

// first is the best build of a problem; nil if there is none.
func (s *solver) first(p optimizer.Problem) (*optimizer.Build, error) {
	if p.Brief.Cap.Minor < 0 {
		return nil, nil
	}
	s.asked++
	b, whole, err := s.series.First(s.ctx, p)
	if err == nil && !whole {
		s.stopped = true
		return nil, errStopped
	}
	return b, err
}

// rules narrow the builds of a step: so many pieces of a part at least, at most.
type rules struct{ least, most counts }

// risky parts may be idle where a must names them, so no must can ask for them.
func risky(k catalog.Kind) bool {
	return k == catalog.KindAmplifier || k == catalog.KindConverter || k == catalog.KindBlocker
}

// deepest is how many builds of one ranking are looked through.
const deepest = 1 << 20

// find is the best build of a problem that keeps rules and that has not been seen, with
// some of those after it; whole says that there are no others. The
// rules are laid into the question as far as it can take them: at least so many of
// what is never idle as a must, one part of the others by Problem.With, at most
// so many by what may be bought, but of blockers, since whether one can be had
// decides what else is idle. The rest is looked for down the ranking.
func (s *solver) find(p optimizer.Problem, r rules, seen func(*optimizer.Build) bool) (found []optimizer.Build, whole bool, err error) {
	p.Brief.Must = slices.Clone(p.Brief.Must)
	musts, own := countsOf(p.Brief.Must), countsOf(p.Brief.Owned)
	for _, sku := range sorted(r.least) {
		part := s.p.Catalogue.Part(sku)
		switch n := r.least[sku] - musts[sku]; {
		case n <= 0:
		case !risky(part.Kind):
			p.Brief.Must = append(p.Brief.Must, catalog.Mention{SKU: sku, Count: n})
		case part.Kind == catalog.KindAmplifier && s.plain: // so it is that for the bass
			before := p.Aside
			p.Aside = func(c optimizer.Core) int64 {
				if c.Amp != nil && (c.Amp.SKU != sku || c.Amps < r.least[sku]) || before != nil && before(c) > 0 {
					return build.NoAside
				}
				return 0
			}
		case p.With == "" && musts[sku] == 0:
			p.With = sku
		}
	}
	var fewer []*catalog.Part
	for _, sku := range sorted(r.most) {
		part := p.Catalogue.Part(sku)
		if part.Kind == catalog.KindBlocker {
			continue
		}
		q := *part
		if n := max(0, r.most[sku]-own[sku]); q.Limit == catalog.Unlimited || q.Limit > n {
			q.Limit = n
		}
		fewer = append(fewer, &q)
	}
	if len(fewer) > 0 {
		p.Catalogue = p.Catalogue.With(fewer...)
	}
	keeps := func(b *optimizer.Build) bool {
		for sku, n := range r.least {
			if b.Holds(sku) < n {
				return false
			}
		}
		for sku, n := range r.most {
			if b.Holds(sku) > n {
				return false
			}
		}
		return seen == nil || !seen(b)
	}
	b, err := s.first(p)
	if b == nil || err != nil {
		return nil, true, err
	}
	if keeps(b) {
		return []optimizer.Build{*b}, false, nil
	}
	for top := 16; top <= deepest; top *= 8 {
		p.Top = top
		s.asked++
		r, err := s.series.Pick(s.ctx, p)
		if err != nil {
			return nil, false, err
		}
		if r.Stop != optimizer.StopComplete {
			s.stopped = true
			return nil, false, errStopped
		}
		for i := range r.Builds {
			if keeps(&r.Builds[i]) {
				found = append(found, r.Builds[i])
			}
		}
		if whole = len(r.Builds) < top; whole || len(found) > 0 {
			return found, whole, nil
		}
	}
	return nil, false, errors.New("more builds of one step than can be looked through")
}
