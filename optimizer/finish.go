package optimizer

import (
	"context"
	"errors"
	"fmt"

	"loudfor/catalog"
	"loudfor/model/parallel"
	"loudfor/optimizer/build"
	"loudfor/optimizer/drive"
	"loudfor/optimizer/pricing"
	"loudfor/optimizer/setting"
	"loudfor/optimizer/uncertainty"
	"loudfor/optimizer/verify"
)

// Pick ranks the best builds of a problem. The error is for problems that make
// no sense (no catalogue, two currencies, an unknown place); a problem without
// a solution is a Result with the outcome Infeasible. A build that the recheck
// refuses is there, with what is wrong as its Fault.
//
// The context is polled throughout: when it ends, the best builds so far come
// back with a valid gap, and Stop says why.
func Pick(ctx context.Context, p Problem) (Result, error) {
	return pickIn(ctx, p, nil)
}

// pickIn is Pick with the cabin of another task of the same car and place.
func pickIn(ctx context.Context, p Problem, car *task) (Result, error) {
	r, _, err := pickWith(ctx, p, car)
	return r, err
}

// pickRepeating is pickWith with sets of parts that stand there twice.
func pickRepeating(ctx context.Context, p Problem, car *task) (Result, *search, error) {
	if touring(&p) {
		r, err := pickTouring(ctx, p, car)
		return r, nil, err
	}
	t, err := readyIn(p, setting.Relaxation{}, car)
	if err != nil {
		return Result{}, nil, err
	}
	s := t.search(ctx)
	r, err := s.result(ctx, p)
	return r, s, err
}

// result is what a search for a ranking has found.
func (s *search) result(ctx context.Context, p Problem) (Result, error) {
	t := s.task
	s.reconsider()
	var err error
	r := Result{Proof: s.ledger.proof(s.kits64, s.rests64), Stop: stopOf(s)}
	if r.Builds, err = t.finishAll(s.total.best); err != nil {
		return Result{}, err
	}
	if r.Proof.GapDB, r.OpenBound = s.gap(), build.Silent; !s.finished {
		r.OpenBound = s.openBound
	}
	switch {
	case len(r.Builds) > 0 && s.finished:
		r.Outcome = Optimal
	case len(r.Builds) > 0:
		r.Outcome = Feasible
	case s.finished:
		r.Outcome = Infeasible
		if p.Shops == nil { // else one asks about all of them: touring.go
			r.Conflicts, r.Stop = blockers(ctx, p, t)
		}
	}
	if !p.Bare && p.Shops == nil {
		if r.Rough, err = uncertainty.Ranking(ctx, t.Setting, r.Builds); err != nil {
			return Result{}, err
		}
	}
	return r, nil
}

func stopOf(s *search) Stop {
	if s.finished {
		return StopComplete
	}
	return s.Stop()
}

// gap is how much louder than the first build any build could be, dB.
func (s *search) gap() float64 {
	if s.finished || len(s.total.best) == 0 {
		return 0
	}
	return max(0, s.openBound.DB()-s.total.best[0].level.DB())
}

// finishAll is finish for a ranking, all at once. What cannot be put together gives
// way to what ranks behind it; the error is for where nothing is left.
func (t *task) finishAll(ranked []candidate) ([]Build, error) {
	builds, faults := make([]Build, len(ranked)), make([]error, len(ranked))
	parallel.Each(t.Workers(), len(ranked), func(i int) { builds[i], faults[i] = t.finish(&ranked[i]) })
	var whole []Build
	for i, err := range faults {
		if err == nil {
			builds[i].Rank = len(whole) + 1
			whole = append(whole, builds[i])
		}
	}
	if len(whole) == 0 {
		return nil, errors.Join(faults...)
	}
	return whole, nil
}

// finish puts a found set of parts together and rechecks it. What the recheck
// refuses is marked: a fault of the program hides no answer. The error is for what
// cannot be put together at all.
func (t *task) finish(c *candidate) (Build, error) {
	g, box, err := t.blockOf(c.parts)
	if err != nil {
		return Build{}, fmt.Errorf("internal error: %w", err)
	}
	a, ok, err := t.arrange(c.parts, g, box, t.wanted(c))
	if err != nil || !ok {
		return Build{}, fmt.Errorf("internal error: a build that was found cannot be put together: %s (%v)", pricing.SKUs(c.parts), err)
	}
	defer drive.Release(a.prepared)
	b := t.present(&a)
	fault := verify.Check(t.Problem, &b, t.Room)
	if got, _ := t.merits(&a); got != c.level {
		fault = errors.Join(fmt.Errorf("it was found at %.3f dB and comes out at %.3f dB", c.level.DB(), got.DB()), fault)
	}
	if fault != nil {
		b.Refuse(fault)
	}
	return b, nil
}

// gather makes a set of mentions.
func (t *task) gather(parts []catalog.Mention) (pricing.Set, error) {
	var uses []pricing.Use
	var all []error
	for _, m := range parts {
		it := t.Shelf.BySKU[m.SKU]
		if it == nil {
			all = append(all, fmt.Errorf("%s is not in the catalogue", m.SKU))
			continue
		}
		uses = append(uses, pricing.Use{Item: it, Count: max(m.Count, 1)})
	}
	return pricing.Collect(uses...), errors.Join(all...)
}
