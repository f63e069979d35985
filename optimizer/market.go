package optimizer

import (
	"cmp"
	"slices"

	"loudfor/catalog"
	"loudfor/optimizer/build"
)

// market is what pieces of a part cost one customer, who goes to every shop for
// nothing, and how many there are.
type market struct {
	most   int
	offers []catalog.Offer // cheapest first
}

func marketOf(p *catalog.Part, b *catalog.Brief) (s market) {
	if !p.Priced {
		return s
	}
	for _, o := range offersOf(p) {
		if !b.Sells(o.Store) || o.Stock == 0 {
			continue
		}
		s.offers = append(s.offers, o)
		if o.Stock == catalog.Unlimited {
			s.most = build.Plenty
		}
		s.most = min(build.Plenty, s.most+max(o.Stock, 0))
	}
	if p.Limit != catalog.Unlimited {
		s.most = min(s.most, max(p.Limit, 0))
	}
	slices.SortStableFunc(s.offers, func(a, b catalog.Offer) int { return cmp.Compare(a.Price.Minor, b.Price.Minor) })
	return s
}

// cost is what n pieces cost where each is cheapest, minor units; n is at most
// what there is.
func (s *market) cost(n int) (sum int64) {
	for _, o := range s.offers {
		k := n
		if o.Stock != catalog.Unlimited {
			k = min(n, o.Stock)
		}
		sum += int64(k) * o.Price.Minor
		n -= k
	}
	return sum
}

// within is how many pieces there are for a build under a cap: none, if one
// costs more than that by itself.
func (s *market) within(limit catalog.Money) int {
	if s.most > 0 && limit != (catalog.Money{}) && s.offers[0].Price.Minor > limit.Minor {
		return 0
	}
	return s.most
}
