package optimizer

import (
	"cmp"
	"slices"

	"loudfor/catalog"
	"loudfor/optimizer/build"
	"loudfor/optimizer/pricing"
	"loudfor/optimizer/setting"
)

// Where a build stands when prices change. Its level depends on no price, so
// all that changes is what it costs, whether that is within the cap, and which
// of two builds of one level is cheaper. That needs no search: the few parts of
// the build are put on a shelf of their own, with the deals among them, and
// paid for as ever.

// Stand is where a build stands at the prices of a problem: what it costs,
// whether it is within the cap, and all that the stated order looks at.
type Stand struct {
	Cost   catalog.Money
	Within bool // the cap

	level build.Level
	due   [2]uint64 // see Build
	skus  []string
}

// StandOf works out a build at the prices of a problem, which may be others than
// those at which it was found; a level depends on no price. Only the parts of
// the build and the deals among them are looked at, on the cheapest tour that has
// them where shops have to be chosen.
func StandOf(b *Build, p Problem) (Stand, error) {
	limit := p.Brief.Cap
	p = around(p, b)
	p.Brief.Cap = catalog.Money{}
	problems, chosen := []Problem{p}, touring(&p)
	if chosen {
		tours, err := toursOf(&p, anyNumber)
		if err != nil {
			return Stand{}, err
		}
		problems = problems[:0]
		for _, t := range tours {
			problems = append(problems, t.p)
		}
	}
	s, bought := Stand{level: build.Round(b.Objective), skus: b.SKUs()}, false
	for _, q := range problems {
		x, err := paid(b, q)
		if err != nil {
			return Stand{}, err
		}
		if chosen && lacking(&x) > 0 || bought && slices.Compare(x.Due[:], s.due[:]) >= 0 {
			continue
		}
		s.Cost, s.due, bought = x.Cost, x.Due, true
	}
	s.Within = bought && (limit == (catalog.Money{}) || s.Cost.Minor <= limit.Minor)
	return s, nil
}

// paid is the bill of a build's parts.
func paid(b *Build, p Problem) (x Build, err error) {
	t := &pricing.Book{Setting: setting.New(p, setting.Relaxation{})}
	if err := t.Stock(); err != nil {
		return x, err
	}
	if err := t.ApplyDeals(); err != nil {
		return x, err
	}
	var uses []pricing.Use
	for _, l := range b.Lines {
		uses = append(uses, pricing.Use{Item: t.Shelf.BySKU[l.Part.SKU], Count: l.Count})
	}
	parts := pricing.Collect(uses...)
	x.Lines = t.Lines(parts)
	t.Bill(&x, parts)
	return x, nil
}

// Ahead says whether one build comes before another in the stated order; one
// above the cap comes last.
func (s *Stand) Ahead(o *Stand) bool {
	if s.Within != o.Within {
		return s.Within
	}
	return cmp.Or(cmp.Compare(o.level, s.level), slices.Compare(s.due[:], o.due[:]), cmp.Compare(len(s.skus), len(o.skus)), slices.Compare(s.skus, o.skus)) < 0
}

// around is a problem with nothing on its shelf but the parts of a build, and the deals
// among them.
func around(p Problem, b *Build) Problem {
	few := *p.Catalogue
	few.Parts = nil
	inside := make(map[string]bool)
	for _, q := range p.Catalogue.Parts {
		if b.Holds(q.SKU) > 0 {
			few.Parts = append(few.Parts, q)
			inside[q.SKU] = true
		}
	}
	few.Deals = nil
	for _, d := range p.Catalogue.Deals {
		all := true
		for _, m := range d.Parts {
			all = all && inside[m.SKU]
		}
		if all {
			few.Deals = append(few.Deals, d)
		}
	}
	within := func(list []catalog.Mention) (kept []catalog.Mention) {
		for _, m := range list {
			if inside[m.SKU] {
				kept = append(kept, m)
			}
		}
		return kept
	}
	p.Catalogue, p.With = &few, ""
	p.Brief.Owned, p.Brief.Must, p.Brief.Never = within(p.Brief.Owned), nil, nil
	return p
}
