package growth

import (
	"math/bits"

	"loudfor/catalog"
)

// The shop without the tie between steps, in which every bound is worked out: one
// where pieces are bought one by one, each for the least that it can cost, over as
// many visits as the plan has steps. What a plan pays at all steps is never below
// what the pieces that it ever uses cost there:
//
//   - Offers: a piece costs no less than the cheapest shop asks that may be gone to.
//   - Deals: split what a deal asks over its pieces in any fixed way; a piece is in
//     one deal at most, so it gets one part at most, and the least of them is a
//     lower bound (the lemma (A) of package pricing). A set of parts is split in
//     proportion to what they cost alone, and among parts of different taxes not
//     at all: they count for nothing then.
//   - Stock and limits hold at each visit, so that of a part there are as many times
//     as many as visits.
//   - A trip, and the number of shops, are left out.
//
// The rules of the build stay, but for one: a new pair under the front rule either
// may be one that an earlier step has bought, which needs no watts; so no pair needs
// any there. A front amplifier that is idle then can be left out, and the build is
// no quieter and no dearer for it (the reading does not depend on the front, and for
// music nothing is idle in that sense).

// leastPrices is the least that a piece of each part can cost that can be bought at
// all, minor units before tax.
func leastPrices(c *catalog.Catalogue, b *catalog.Brief) map[string]int64 {
	least := make(map[string]int64, len(c.Parts))
	for _, p := range c.Parts {
		if !p.Priced || p.Limit == 0 {
			continue
		}
		offer := func(store string, price int64, stock int) {
			if old, known := least[p.SKU]; b.Sells(store) && stock != 0 && (!known || price < old) {
				least[p.SKU] = max(price, 0)
			}
		}
		offer(p.Store, p.Price.Minor, p.Stock)
		for _, o := range p.Offers {
			offer(o.Store, o.Price.Minor, o.Stock)
		}
	}
	for _, m := range b.Never {
		delete(least, m.SKU)
	}
	alone := make(map[string]int64, len(least))
	for sku, price := range least {
		alone[sku] = price
	}
	lower := func(sku string, price int64) {
		if old, known := least[sku]; known {
			least[sku] = max(0, min(old, price))
		}
	}
	for _, d := range c.Deals {
		switch d.Form {
		case catalog.DealFrom:
			lower(d.Parts[0].SKU, d.Price.Minor)
		case catalog.DealEvery:
			lower(d.Parts[0].SKU, d.Reduced(alone[d.Parts[0].SKU]))
		default:
			var all int64
			kinds := map[int64]bool{}
			for _, m := range d.Parts {
				all += int64(max(m.Count, 1)) * alone[m.SKU]
				if p := c.Part(m.SKU); p != nil {
					kinds[b.TaxOn(p.Kind)] = true
				}
			}
			for _, m := range d.Parts {
				if all == 0 || len(kinds) > 1 {
					lower(m.SKU, 0)
					continue
				}
				high, low := bits.Mul64(uint64(max(d.Price.Minor, 0)), uint64(alone[m.SKU]))
				if high >= uint64(all) {
					continue // a deal that no one takes
				}
				share, _ := bits.Div64(high, low, uint64(all))
				lower(m.SKU, int64(share))
			}
		}
	}
	return least
}

// relaxed is the catalogue of that shop, for so many visits.
func (s *solver) relaxed(visits int) *catalog.Catalogue {
	if s.shops[visits] == nil {
		parts := make([]*catalog.Part, len(s.p.Catalogue.Parts))
		for i, p := range s.p.Catalogue.Parts {
			q := *p
			q.Offers, q.Store, q.Stock = nil, "", p.InStock()
			if q.Price.Minor, q.Priced = s.least[p.SKU]; q.Stock > 0 {
				q.Stock *= visits
			}
			if q.Limit > 0 {
				q.Limit *= visits
			}
			parts[i] = &q
		}
		s.shops[visits] = catalog.New(s.p.Catalogue.Currency, parts)
	}
	return s.shops[visits]
}

// piece is what a piece of a part that is bought, or that is there already, costs at
// least in the shop without ties, labour for it included: millionths of a minor unit.
func (s *solver) piece(p *catalog.Part, buy bool) (sum int64) {
	if buy {
		sum = s.least[p.SKU] * (catalogMillion + s.p.Brief.TaxOn(p.Kind))
	}
	for i := range s.labour {
		if l := &s.labour[i]; l.Per == p.Kind && (buy || l.Installed) {
			sum += l.Price.Minor * (catalogMillion + s.p.Brief.TaxOnLabour(l))
		}
	}
	return sum
}

// once is the labour for a build, millionths of a minor unit.
func (s *solver) once() (sum int64) {
	for i := range s.labour {
		if l := &s.labour[i]; l.Per == catalog.KindCount {
			sum += l.Price.Minor * (catalogMillion + s.p.Brief.TaxOnLabour(l))
		}
	}
	return sum
}

const catalogMillion = 1_000_000

// resale is what the pieces bring when they are sold, minor units.
func (s *solver) resale(held counts) (sum int64) {
	for sku, n := range held {
		sum += int64(n) * s.brings(sku)
	}
	return sum
}

// brings is what a piece brings when it is sold, minor units.
func (s *solver) brings(sku string) int64 { return s.least[sku] * s.p.Brief.Resale / catalogMillion }

// value is what the pieces cost at least, before tax.
func (s *solver) value(held counts) (sum int64) {
	for sku, n := range held {
		sum += int64(n) * s.least[sku]
	}
	return sum
}
