package optimizer

import (
	"context"
	"slices"

	"loudfor/catalog"
)

// A change of one part matters if, made alone, it changes the old answer, or,
// undone alone, it changes the new one. Both are the same question: which
// single changes of a state change its answer A? Most are decided by looking:
//
//   - A part that A buys for another price, or that cannot be had as often as A
//     needs it, changes A: yes.
//   - A change that is only worse, of a part that A does not buy: no, by the
//     lemma in reprice.go.
//
// What is left are parts that become better, and with them a group is tried at
// once. If A stays the best with all of the group better, it stays so with any
// one of them: the others, made worse again, are bought by A no more than
// before, and the lemma holds. If another build X wins, it buys parts of the
// group, or it would have won before. If it buys one of them, that one matters:
// with it alone X costs as much and beats A again. If it buys several, each is
// tried alone. They leave the group, and the rest is tried once more. So the
// searches are as many as the changes that matter, plus one, not as many as
// the rows of the list.

// Matters lists the SKUs of the parts whose change matters, in order. The
// problem's catalogue is the old state, to the new one; they may differ in
// prices, stocks and shops. The answers are those of each state.
func Matters(ctx context.Context, p Problem, to *catalog.Catalogue, before, after Best) ([]string, error) {
	found := make(map[string]bool)
	if err := alone(ctx, p, to, before, found); err != nil {
		return nil, err
	}
	q := p
	q.Catalogue = to
	if err := alone(ctx, q, p.Catalogue, after, found); err != nil {
		return nil, err
	}
	var all []string
	for sku := range found {
		all = append(all, sku)
	}
	slices.Sort(all)
	return all, nil
}

// Shown lists the SKUs of the parts whose change is seen to matter without any
// search, in order: those that the old or the new build buys for another price
// or cannot have any more. There may be others that matter.
func Shown(p Problem, to *catalog.Catalogue, before, after Best) (all []string) {
	for _, s := range shifts(&p.Brief, p.Catalogue, to) {
		back := shiftOf(&p.Brief, s.to, s.from, s.dealt)
		if before.broken(&p.Brief, &s) || after.broken(&p.Brief, &back) {
			all = append(all, s.sku)
		}
	}
	return all
}

// broken says that a change surely changes an answer. Where a deal names the
// part, what the answer costs may be as before.
func (a Best) broken(b *catalog.Brief, s *shift) bool {
	n := a.bought(b, s.sku)
	return n > 0 && (s.after.most < n || !s.dealt && s.dearer(n))
}

// alone adds the parts of which the change alone changes the answer.
func alone(ctx context.Context, p Problem, to *catalog.Catalogue, answer Best, found map[string]bool) error {
	m := marker{ctx, p, answer}
	var group []shift
	for _, s := range shifts(&p.Brief, p.Catalogue, to) {
		switch {
		case found[s.sku]:
		case answer.broken(&p.Brief, &s):
			found[s.sku] = true
		case !s.better && answer.spares(&p.Brief, &s):
		case s.pure() && !s.dealt:
			group = append(group, s)
		default:
			if err := m.single(s, found); err != nil {
				return err
			}
		}
	}
	for len(group) > 0 {
		x, err := m.with(group...)
		if err != nil {
			return err
		}
		if x.Same(answer) {
			return nil
		}
		bought := func(s shift) bool { return x.bought(&p.Brief, s.sku) > 0 }
		winners := group
		if slices.ContainsFunc(group, bought) {
			winners = slices.DeleteFunc(slices.Clone(group), func(s shift) bool { return !bought(s) })
		}
		if len(winners) == 1 {
			found[winners[0].sku] = true
		} else {
			for _, s := range winners {
				if err := m.single(s, found); err != nil {
					return err
				}
			}
		}
		group = slices.DeleteFunc(slices.Clone(group), func(s shift) bool {
			return slices.ContainsFunc(winners, func(w shift) bool { return w.sku == s.sku })
		})
	}
	return nil
}

// marker asks the search about single changes of one state.
type marker struct {
	ctx    context.Context
	p      Problem
	answer Best
}

// single tries one change by itself.
func (m *marker) single(s shift, found map[string]bool) error {
	x, err := m.with(s)
	if err == nil && !x.Same(m.answer) {
		found[s.sku] = true
	}
	return err
}

// with is the answer after some of the changes.
func (m *marker) with(changes ...shift) (Best, error) {
	parts := make([]*catalog.Part, len(changes))
	for i, s := range changes {
		parts[i] = s.to
	}
	p := m.p
	p.Catalogue, p.Known = p.Catalogue.With(parts...), m.answer.Parts
	b, err := First(m.ctx, p)
	return BestOf(b), err
}
