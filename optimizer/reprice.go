package optimizer

import (
	"context"
	"slices"

	"loudfor/catalog"
	"loudfor/optimizer/build"
	"loudfor/optimizer/pricing"
	"loudfor/optimizer/setting"
)

// What a price list does to an answer, and which of its rows did it.
//
// Order builds as the search does: by level, price, pieces, SKUs. Prices,
// stocks and shops decide which builds there are and what they cost, but never
// how loud one is. A change of one part is worse when it costs no less and can
// be had no more often than before. From that follows everything here:
//
//	Lemma. Let A be the best build, or none. Make parts worse of which A buys
//	none, or that are only less often to be had and still as often as A needs.
//	Then A is still the best, at the same price.
//
// For what can be built afterwards could be built before, and cost no more: the
// price of a build never falls when that of a part rises (the cap, taxes,
// labour and rounding are monotone), so it ranks behind A as it did, and what
// A itself costs has not changed. The exception are deals: where the parts of
// a set bear different taxes, a dearer part draws more of the set's price to
// its own, perhaps lower, rate. So a changed part that a deal names is taken
// to be better and worse at once.
//
// The tests hold the lemma, and all that is built on it, against full searches
// of random problems.

// Several shops for one part change nothing of this as long as going to a shop
// costs nothing: what n pieces cost is then a function of n alone, and dearer
// means no cheaper for any n. Where trips cost money, or only so many shops are
// gone to, a dearer part can make another shop the better one for everything.

// shift is what the change of one part means for one brief.
type shift struct {
	sku           string
	from, to      *catalog.Part
	before, after market
	better, worse bool
	dealt         bool // named by a deal
}

// pure says that the change is nothing but better.
func (s *shift) pure() bool { return s.better && !s.worse }

// shifts lists the parts that differ between two states of a catalogue in a way
// that can matter to a brief, in SKU order.
func shifts(b *catalog.Brief, from, to *catalog.Catalogue) []shift {
	if from == to {
		return nil
	}
	dealt := make(map[string]bool)
	for _, d := range to.Deals {
		for _, m := range d.Parts {
			dealt[m.SKU] = true
		}
	}
	chosen := choosing(from, b) || choosing(to, b)
	var all []shift
	for i, p := range from.Parts {
		var q *catalog.Part
		if i < len(to.Parts) && to.Parts[i].SKU == p.SKU {
			q = to.Parts[i]
		} else if q = to.Part(p.SKU); q == nil {
			continue
		}
		if p == q || p.Price == q.Price && p.Priced == q.Priced && p.Stock == q.Stock && p.Store == q.Store && sameOffers(p, q) {
			continue
		}
		if s := shiftOf(b, p, q, dealt[p.SKU] || chosen); s.better || s.worse {
			all = append(all, s)
		}
	}
	return all
}

// shiftOf judges one change.
func shiftOf(b *catalog.Brief, p, q *catalog.Part, dealt bool) shift {
	s := shift{sku: p.SKU, from: p, to: q, dealt: dealt}
	if named(b.Never, p.SKU) || idleFront(b, p) {
		return s
	}
	s.before, s.after = marketOf(p, b), marketOf(q, b)
	if dealt {
		s.better, s.worse = true, true
		return s
	}
	before, after := s.before.within(b.Cap), s.after.within(b.Cap)
	s.better, s.worse = after > before, after < before
	for n := 1; n <= min(before, after, pricing.TableSize); n++ {
		was, is := s.before.cost(n), s.after.cost(n)
		s.better, s.worse = s.better || is < was, s.worse || is > was
	}
	return s
}

// choosing says that nothing can be told without a search: how shops are chosen
// for one part may depend on another one.
func choosing(c *catalog.Catalogue, b *catalog.Brief) bool {
	p := Problem{Catalogue: c, Brief: *b}
	atShop := slices.ContainsFunc(c.Deals, func(d *catalog.Deal) bool { return d.Store != "" })
	return fares(&p) || atShop && touring(&p)
}

// idleFront says that a part is a pair of front speakers that no build buys,
// since the customer keeps those in the car.
func idleFront(b *catalog.Brief, p *catalog.Part) bool {
	return p.Kind == catalog.KindFront && b.Front == catalog.FrontKeep && !named(b.Must, p.SKU)
}

func named(list []catalog.Mention, sku string) bool {
	return slices.ContainsFunc(list, func(m catalog.Mention) bool { return m.SKU == sku })
}

// Best is an answer as far as prices can change it: the parts of the best
// build, owned ones included, and what it costs. No parts: there is no build.
type Best struct {
	Parts []catalog.Mention
	Cost  catalog.Money
}

// BestOf is the answer that a build is; nil: none.
func BestOf(b *Build) Best {
	if b == nil {
		return Best{}
	}
	return Best{build.Mentions(b.Lines), b.Cost}
}

// Same says that two answers are one.
func (a Best) Same(b Best) bool {
	return a.Cost == b.Cost && slices.EqualFunc(a.Parts, b.Parts, func(m, n catalog.Mention) bool { return m.SKU == n.SKU && m.Count == n.Count })
}

// bought is how many pieces of a part the answer buys.
func (a Best) bought(b *catalog.Brief, sku string) (n int) {
	for _, m := range a.Parts {
		if m.SKU == sku {
			n += max(m.Count, 1)
		}
	}
	if n == 0 {
		return 0
	}
	for _, m := range b.Owned {
		if m.SKU == sku {
			n -= max(m.Count, 1)
		}
	}
	return max(n, 0)
}

// spares says that a change that is only worse leaves an answer as it is.
func (a Best) spares(b *catalog.Brief, s *shift) bool {
	n := a.bought(b, s.sku)
	return n == 0 || s.after.most >= n && !s.dearer(n)
}

// dearer says that so many pieces cost more or less than before.
func (s *shift) dearer(n int) bool { return s.before.cost(n) != s.after.cost(n) }

// Unaffected says that a new state of the catalogue, which differs from the
// problem's in prices, stocks and shops only, cannot have changed the best
// build, by the lemma and without a search. False says nothing.
func Unaffected(p Problem, to *catalog.Catalogue, best Best) bool {
	for _, s := range shifts(&p.Brief, p.Catalogue, to) {
		if s.better || !best.spares(&p.Brief, &s) {
			return false
		}
	}
	return true
}

// First is the best build alone, without bands, notes and proof, and without
// asking why there is none: nil then. The error is that of Pick, or the
// context's: half a search is no answer here.
func First(ctx context.Context, p Problem) (*Build, error) {
	p.Top, p.Bare, p.Distinct = 1, true, DistinctParts
	if touring(&p) {
		r, _, err := bestOfTours(ctx, p, nil)
		if err == nil && r.Stop != StopComplete {
			err = ctx.Err()
		}
		if err != nil || len(r.Builds) == 0 {
			return nil, err
		}
		return &r.Builds[0], nil
	}
	t, err := ready(p, setting.Relaxation{})
	if err != nil {
		return nil, err
	}
	s := t.search(ctx)
	if s.reconsider(); !s.finished {
		return nil, ctx.Err()
	}
	if len(s.total.best) == 0 {
		return nil, nil
	}
	builds, err := t.finishAll(s.total.best)
	if err != nil {
		return nil, err
	}
	return &builds[0], nil
}

func sameOffers(p, q *catalog.Part) bool {
	return slices.EqualFunc(p.Offers, q.Offers, func(a, b catalog.Offer) bool {
		return a.Store == b.Store && a.Price == b.Price && a.Stock == b.Stock
	})
}
