package optimizer

import (
	"context"

	"loudfor/catalog"
	"loudfor/optimizer/build"
	"loudfor/optimizer/pricing"
	"loudfor/optimizer/setting"
	"loudfor/optimizer/uncertainty"
	"loudfor/optimizer/verify"
)

// A build that is known beforehand, such as the one that was quoted before the
// prices changed, is something to beat from the first block on: the search
// then looks only where there may be better. It enters the ranking like a find
// of the search, so it never changes the answer; only what of the proof was
// computed and what was dropped by a bound is divided otherwise.

// start puts the known build into the ranking, if it is a valid one.
func (t *task) start(r *ranking) {
	if len(t.Problem.Known) == 0 || t.ladder || t.Relaxed != (setting.Relaxation{}) {
		return
	}
	if c, ok := t.enlist(t.Problem.Known); ok {
		r.insert(c)
	}
}

// enlist makes a candidate of a given build; ok is false when the brief, the
// shelf or the cap does not allow it. Whether they do is asked of the recheck,
// which knows all the rules and none of the search's short cuts.
func (t *task) enlist(parts []catalog.Mention) (c candidate, ok bool) {
	s, err := t.gather(parts)
	if err != nil || !s.Available() {
		return c, false
	}
	g, box, err := t.blockOf(s)
	if err != nil || !s.Whole() {
		return c, false
	}
	a, ok, err := t.arrange(s, g, box, demands{})
	if err != nil || !ok {
		return c, false
	}
	b := t.present(&a)
	if verify.Check(t.Problem, &b, t.Room) != nil {
		return c, false
	}
	c = candidate{price: t.Exact(s), pieces: s.Pieces(), parts: s, bass: [2]*pricing.Item{a.amp, g.Driver}}
	c.level, _ = t.merits(&a)
	return c, c.price <= t.Limit
}

// Compare holds builds against the first of them: it fills in the bands, and
// for all but the first the difference with its own band, and whether that is
// a tie. They all have to stand in the problem's car; its catalogue and what
// the brief says of parts do not matter. The error is the context's where that
// ended beforehand; a comparison that has begun is finished.
func Compare(ctx context.Context, p Problem, builds []Build) error {
	if len(builds) == 0 || ctx.Err() != nil {
		return ctx.Err()
	}
	t, err := setting.Entered(p)
	if err != nil {
		return err
	}
	_, err = uncertainty.Ranking(context.WithoutCancel(ctx), t, builds)
	return err
}

// Remark fills in what Bare leaves out of a build that Pick, First or Predict
// gave: its curve, what is assumed and the warnings.
func Remark(p Problem, b *Build) error {
	p.Bare, p.Known = false, nil
	t, given, err := given(around(p, b), build.Mentions(b.Lines))
	if err != nil {
		return err
	}
	g, box, err := t.blockOf(given)
	if err != nil {
		return err
	}
	a, ok, err := t.settled(given, g, box, demands{mode: b.Plan.Mode.String(), load: b.Plan.Load})
	if err != nil || !ok {
		return err
	}
	full := t.present(&a)
	b.Curve, b.Assumed, b.Warnings, b.Doubts, b.Hazards = full.Curve, full.Assumed, full.Warnings, full.Doubts, full.Hazards
	b.WarnOfFault()
	return nil
}
