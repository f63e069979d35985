package optimizer

import (
	"context"
	"errors"
	"fmt"

	"loudfor/catalog"
)

// Pick ranks the best builds of a problem. The error is for problems that make
// no sense (no catalogue, two currencies, an unknown place) and for a winner
// that does not survive its recheck; a problem without a solution is a Result
// with the outcome Infeasible.
//
// The context is polled throughout: when it ends, the best builds so far come
// back with a valid gap, and Stop says why.
func Pick(ctx context.Context, p Problem) (Result, error) {
	return pickIn(ctx, p, nil)
}

// pickIn is Pick with the cabin of another task of the same car and place.
func pickIn(ctx context.Context, p Problem, car *task) (Result, error) {
	if touring(&p) {
		return pickTouring(ctx, p, car)
	}
	t, err := readyIn(p, relaxed{}, car)
	if err != nil {
		return Result{}, err
	}
	s := t.search(ctx)
	if err := s.reconsider(); err != nil {
		return Result{}, err
	}
	r := Result{Proof: s.books.proof(s.kits64, s.rests64), Stop: stopOf(ctx, s)}
	if r.Builds, err = t.finishAll(s.total.best); err != nil {
		return Result{}, err
	}
	if r.Proof.GapDB, r.unseen = s.gap(), silent; !s.finished {
		r.unseen = s.left
	}
	switch {
	case len(r.Builds) > 0 && s.finished:
		r.Outcome = Optimal
	case len(r.Builds) > 0:
		r.Outcome = Feasible
	case s.finished:
		r.Outcome = Infeasible
		if p.tour == nil { // else one asks about all of them: touring.go
			r.Conflicts, r.Stop = blockers(ctx, p, t)
		}
	}
	if !p.Bare && p.tour == nil {
		if err := t.bands(r.Builds); err != nil {
			return Result{}, err
		}
	}
	return r, nil
}

func stopOf(ctx context.Context, s *search) Stop {
	if s.finished {
		return StopComplete
	}
	return stopBy(ctx)
}

// stopBy is how a context has stopped what looked at it, if it has.
func stopBy(ctx context.Context) Stop {
	switch {
	case ctx.Err() == nil:
		return StopComplete
	case errors.Is(ctx.Err(), context.DeadlineExceeded):
		return StopDeadline
	}
	return StopCancelled
}

// gap is how much louder than the first build any build could be, dB.
func (s *search) gap() float64 {
	if s.finished || len(s.total.best) == 0 {
		return 0
	}
	return max(0, s.left.dB()-s.total.best[0].level.dB())
}

// finishAll is finish for a ranking, all at once.
func (t *task) finishAll(ranked []candidate) ([]Build, error) {
	if len(ranked) == 0 {
		return nil, nil
	}
	builds, faults := make([]Build, len(ranked)), make([]error, len(ranked))
	each(t.workers(), len(ranked), func(i int) {
		builds[i], faults[i] = t.finish(&ranked[i])
		builds[i].Rank = i + 1
	})
	for _, err := range faults {
		if err != nil {
			return nil, err
		}
	}
	return builds, nil
}

// finish puts a found set of parts together and rechecks it.
func (t *task) finish(c *candidate) (Build, error) {
	g, box, err := t.blockOf(c.parts)
	if err != nil {
		return Build{}, fmt.Errorf("internal error: %w", err)
	}
	a, ok, err := t.arrange(c.parts, g, box, t.wanted(c))
	if err != nil || !ok {
		return Build{}, fmt.Errorf("internal error: a build that was found cannot be put together: %s (%v)", names(c.parts), err)
	}
	defer done(a.prepared)
	if got, _ := t.merits(&a); got != c.level {
		return Build{}, fmt.Errorf("internal error: %s was found at %.3f dB and comes out at %.3f dB", names(c.parts), c.level.dB(), got.dB())
	}
	b := t.present(&a)
	if err := recheck(t.p, &b, t.room); err != nil {
		return Build{}, fmt.Errorf("internal error: %s does not survive its recheck: %w", names(c.parts), err)
	}
	return b, nil
}

// names writes a set in words, for messages.
func names(parts set) string {
	s := ""
	for i, u := range parts {
		if i > 0 {
			s += ", "
		}
		s += u.item.part.SKU
		if u.count > 1 {
			s += fmt.Sprintf(" x %d", u.count)
		}
	}
	return s
}

// gather makes a set of mentions.
func (t *task) gather(parts []catalog.Mention) (set, error) {
	var uses []use
	var all []error
	for _, m := range parts {
		it := t.shelf.bySKU[m.SKU]
		if it == nil {
			all = append(all, fmt.Errorf("%s is not in the catalogue", m.SKU))
			continue
		}
		uses = append(uses, use{it, max(m.Count, 1)})
	}
	return collect(uses...), errors.Join(all...)
}
