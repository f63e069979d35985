package optimizer

import (
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

	candidate
}

// StandOf works out a build at the prices of a problem, which may be others than
// those at which it was found; a level depends on no price. Only the parts of
// the build and the deals among them are looked at.
func StandOf(b *Build, p Problem) (Stand, error) {
	p = around(p, b)
	t := &pricing.Book{Setting: setting.New(p, setting.Relaxation{})}
	if err := t.Stock(); err != nil {
		return Stand{}, err
	}
	if err := t.ApplyDeals(); err != nil {
		return Stand{}, err
	}
	var uses []pricing.Use
	for _, l := range b.Lines {
		uses = append(uses, pricing.Use{Item: t.Shelf.BySKU[l.Part.SKU], Count: l.Count})
	}
	parts := pricing.Collect(uses...)
	sum := t.Exact(parts)
	return Stand{Cost: t.Money(t.Tax.Figure(sum)), Within: sum <= t.Limit,
		candidate: candidate{level: build.Round(b.Objective), price: sum, pieces: parts.Pieces(), parts: parts}}, nil
}

// Ahead says whether one build comes before another in the stated order; one
// above the cap comes last.
func (s *Stand) Ahead(o *Stand) bool {
	if s.Within != o.Within {
		return s.Within
	}
	if s.level != o.level || s.price != o.price || s.pieces != o.pieces {
		return s.candidate.before(&o.candidate)
	}
	return s.earlier(o)
}

// earlier compares by SKUs, of which each side has a shelf of its own.
func (s *Stand) earlier(o *Stand) bool {
	a, b := s.skus(), o.skus()
	for i := 0; i < min(len(a), len(b)); i++ {
		if a[i] != b[i] {
			return a[i] < b[i]
		}
	}
	return len(a) < len(b)
}

func (s *Stand) skus() (all []string) {
	for _, u := range s.parts {
		for range u.Count {
			all = append(all, u.Item.Part.SKU)
		}
	}
	return all
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
