package optimizer

import (
	"cmp"
	"context"

	"loudfor/catalog"
	"loudfor/optimizer/build"
	"loudfor/optimizer/setting"
	"loudfor/optimizer/uncertainty"
)

// The answers over all tours; tours.go says why they are right.

// pickTouring is Pick where shops have to be chosen.
func pickTouring(ctx context.Context, p Problem, car *task) (Result, error) {
	all, first, err := bestOfTours(ctx, p, car)
	if err != nil {
		return Result{}, err
	}
	if len(all.Builds) == 0 {
		return all, blockedTours(ctx, &all, p, car)
	}
	if p.Bare {
		return all, nil
	}
	t, err := readyIn(first.p, setting.Relaxation{}, car)
	if err != nil {
		return Result{}, err
	}
	all.Rough, err = uncertainty.Ranking(ctx, t.Setting, all.Builds)
	return all, err
}

// bestOfTours is the ranking alone, with the tour of the first build. Why there
// is none is not asked.
func bestOfTours(ctx context.Context, p Problem, car *task) (all Result, first *tour, err error) {
	tours, err := toursOf(&p, needed(&p.Brief))
	if err != nil {
		return Result{}, nil, err
	}
	all = Result{Outcome: Infeasible, Proof: build.EmptyProof()}
	var list []found
	upper := build.Silent // nothing unseen is louder
	for _, t := range tours {
		r, err := pickIn(ctx, t.p, car)
		if err != nil {
			return Result{}, nil, err
		}
		joinTour(&all, r.Outcome, r.Stop, r.Proof)
		upper = max(upper, r.OpenBound)
		for _, b := range r.Builds {
			list = append(list, newFound(b, t))
		}
	}
	list = ranked(list, p.Distinct)
	top := p.Top
	if top <= 0 {
		top = DefaultTop
	}
	list = list[:min(top, len(list))]
	for i := range list {
		list[i].tour.home(&list[i].build)
		list[i].build.Rank = i + 1
		all.Builds = append(all.Builds, list[i].build)
	}
	if len(all.Builds) == 0 {
		return all, nil, nil
	}
	if all.Outcome = Optimal; all.Stop != StopComplete {
		all.Outcome = Feasible
		all.Proof.GapDB = max(0, upper.DB()-all.Builds[0].Objective)
	}
	return all, list[0].tour, nil
}

// cheapestCost is what the cheapest build costs, in minor units, whatever its level
// and whatever the cap; on its best tour where shops have to be chosen.
func cheapestCost(ctx context.Context, p Problem, car *task) (cost int64, ok bool, stop Stop, err error) {
	p.Brief.Cap = catalog.Money{}
	problems := []Problem{p}
	if touring(&p) {
		tours, err := toursOf(&p, needed(&p.Brief))
		if err != nil {
			return 0, false, StopComplete, err
		}
		problems = nil
		for _, tour := range tours {
			problems = append(problems, tour.p)
		}
	}
	for _, q := range problems {
		t, err := readyIn(q, setting.Relaxation{}, car)
		if err != nil {
			return 0, false, StopComplete, err
		}
		t.Until(ctx)
		sum, some := t.cheapest()
		if t.Ended() {
			return 0, false, t.Stop(), nil
		}
		if c := t.Tax.Figure(sum); some && (!ok || c < cost) {
			cost, ok = c, true
		}
	}
	return cost, ok, StopComplete, nil
}

// predictTouring is Predict where shops have to be chosen: on the cheapest tour of
// those that sell the most of what has to be bought. A part that no shop of a tour
// sells costs nothing to go to, so a tour without it is no cheaper way to buy it.
func predictTouring(ctx context.Context, p Problem, parts []catalog.Mention, mode string, load float64) (Build, error) {
	tours, err := toursOf(&p, anyNumber) // whatever the brief allows
	if err != nil {
		return Build{}, err
	}
	var best *tour
	var least int
	var cost int64
	var first error
	for i := range tours {
		q := tours[i].p
		q.Bare = true
		b, err := Predict(ctx, q, parts, mode, load)
		if ctx.Err() != nil {
			return Build{}, ctx.Err() // half the tours have no cheapest
		}
		if err != nil {
			first = cmp.Or(first, err)
			continue
		}
		lacks := lacking(&b)
		if best == nil || lacks < least || lacks == least && b.Cost.Minor < cost {
			best, least, cost = tours[i], lacks, b.Cost.Minor
		}
	}
	if best == nil {
		return Build{}, first
	}
	b, err := Predict(ctx, best.p, parts, mode, load)
	if err == nil {
		best.home(&b)
	}
	return b, err
}

// lacking counts the pieces of a tour's build that have to be bought and that none of
// the tour's shops has.
func lacking(b *Build) (pieces int) {
	for _, l := range b.Lines {
		switch buy := l.Count - l.Owned; {
		case !l.Part.Priced:
			pieces += buy
		case l.Part.Stock != catalog.Unlimited:
			pieces += max(0, buy-l.Part.Stock)
		}
	}
	return pieces
}
