package optimizer

import (
	"context"

	"loudfor/catalog"
)

// A build that is known beforehand, such as the one that was quoted before the
// prices changed, is something to beat from the first block on: the search
// then looks only where there may be better. It enters the ranking like a find
// of the search, so it never changes the answer; only what of the proof was
// computed and what was dropped by a bound is divided otherwise.

// start puts the known build into the ranking, if it is a valid one.
func (t *task) start(r *ranking) {
	if len(t.p.Known) == 0 || t.ladder || t.relaxed != (relaxed{}) {
		return
	}
	if c, ok := t.enlist(t.p.Known); ok {
		r.insert(c)
	}
}

// enlist makes a candidate of a given build; ok is false when the brief, the
// shelf or the cap does not allow it. Whether they do is asked of the recheck,
// which knows all the rules and none of the search's short cuts.
func (t *task) enlist(parts []catalog.Mention) (c candidate, ok bool) {
	s, err := t.gather(parts)
	if err != nil || !s.available() {
		return c, false
	}
	g, box, err := t.blockOf(s)
	if err != nil || !s.whole() {
		return c, false
	}
	a, ok, err := t.arrange(s, g, box, demands{})
	if err != nil || !ok {
		return c, false
	}
	b := t.present(&a)
	if recheck(t.p, &b, t.room) != nil {
		return c, false
	}
	c = candidate{price: t.pay(s), pieces: s.pieces(), parts: s, bass: [2]*item{a.amp, g.driver}}
	c.level, _ = t.merits(&a)
	return c, c.price <= t.limit
}

// whole says that a set has one of each of what a build has one of, and no two
// of what it may have one of.
func (s set) whole() bool {
	var n [catalog.KindCount]int
	for _, u := range s {
		n[u.item.part.Kind] += u.count
	}
	return n[catalog.KindSource] == 1 && n[catalog.KindKit] == 1 && n[catalog.KindAmplifier] > 0 &&
		n[catalog.KindFront] <= 1 && n[catalog.KindConverter] <= 1 && n[catalog.KindBlocker] <= 1
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
	p.Brief.Owned, p.Brief.Must, p.Brief.Never, p.Known = nil, nil, nil, nil
	p.Catalogue = &catalog.Catalogue{Currency: builds[0].Cost.Currency}
	p.Brief.Cap = catalog.Money{}
	t, err := ready(p, relaxed{})
	if err != nil {
		return err
	}
	return t.bands(builds)
}

// Remark fills in what Bare leaves out of a build that Pick, First or Predict
// gave: its curve, what is assumed and the warnings.
func Remark(p Problem, b *Build) error {
	p.Bare, p.Known = false, nil
	t, given, err := given(p, Mentions(b.Lines))
	if err != nil {
		return err
	}
	g, box, err := t.blockOf(given)
	if err != nil {
		return err
	}
	a, ok, err := t.arrange(given, g, box, demands{lenient: true, mode: b.Plan.Mode.String(), load: b.Plan.Load})
	if err != nil || !ok {
		return err
	}
	full := t.present(&a)
	b.Curve, b.Assumed, b.Warnings = full.Curve, full.Assumed, full.Warnings
	return nil
}
