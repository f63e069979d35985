package optimizer

import (
	"fmt"
	"slices"

	"loudfor/catalog"
)

// Where to buy. A part may be sold by several shops, buying at a shop may cost
// a trip, and a customer may not want to go to more than so many. None of this
// adds up piece by piece, and yet it needs no search of its own:
//
// A tour is a set of shops that are gone to. For one tour, everything is a
// problem that the search knows already. A trip is labour for the build. A
// part's list price is that of the dearest of its offers that may be needed, going
// by price, for so many pieces as a build can buy, and every cheaper offer makes some pieces cheaper, as a deal would (sale.go). A
// deal of a shop can be had on a tour to it.
//
// Which parts can be had at all, for the rule against idle amplifiers, is asked
// of all shops that the brief allows, not of the tour's: a build is one of the
// brief or not, wherever its parts are bought.
//
// What a build costs is what it costs on its best tour. Its best tour ranks it
// no lower than it ranks among all builds: each build that beats it on that
// tour, where that one may be too dear, beats it at that one's true price as
// well. So the first K of all tours together hold the first K of all, each
// with its true price; the others in that list have a price that is no lower
// than their true one, and stay behind. The ladder likewise is the upper edge
// of the tours' ladders.
//
// A tour that another one holds, and that costs no less, need not be looked
// at: shops without a trip are added as long as there may be more of them.

// mostTours bounds the number of searches.
const mostTours = 512

// touring says that shops have to be chosen.
func touring(p *Problem) bool {
	if p.Catalogue == nil || p.tour != nil {
		return false
	}
	for _, part := range p.Catalogue.Parts {
		if part.Priced && slices.ContainsFunc(part.Offers, func(o catalog.Offer) bool { return o.Stock != 0 && p.Brief.Sells(o.Store) }) {
			return true
		}
	}
	return fares(p)
}

// fares says that buying at a shop costs something beside what is bought, money
// or one of few shops.
func fares(p *Problem) bool {
	for _, s := range p.Catalogue.Shops {
		if s.Trip.Minor > 0 {
			return true
		}
	}
	return p.Brief.MostStores > 0 && p.Brief.MostStores < len(shopsOf(p))
}

// toursOf lists the tours that have to be searched, fewer shops first.
func toursOf(p *Problem, need needs) ([]*tour, error) {
	all := shopsOf(p)
	most := p.Brief.MostStores
	if most <= 0 || most > len(all) {
		most = len(all)
	}
	var free, paid []string
	for _, s := range all {
		if p.Catalogue.Trip(s).Minor > 0 {
			paid = append(paid, s)
		} else {
			free = append(free, s)
		}
	}
	var sets [][]string
	for k := 0; k <= min(most, len(paid)); k++ {
		if len(sets)+ways(len(paid), k)*ways(len(free), min(most-k, len(free))) > mostTours {
			return nil, fmt.Errorf("%d shops of which %d cost a trip can be combined in too many ways: name fewer under stores, or lower most_stores", len(all), len(paid))
		}
		for _, a := range choices(paid, k) {
			for _, b := range choices(free, min(most-k, len(free))) {
				sets = append(sets, append(slices.Clone(a), b...))
			}
		}
	}
	var tours []*tour
	for _, set := range sets {
		slices.Sort(set)
		t := newTour(p, set, need)
		if t.within(p.Brief.Cap) {
			tours = append(tours, t)
		}
	}
	return tours, nil
}

// ways is how many subsets with k of n members there are, as far as that is not
// too many: it stops counting above mostTours.
func ways(n, k int) int {
	count := 1
	for i := range min(k, n-k) {
		if count = count * (n - i) / (i + 1); count > mostTours {
			return mostTours + 1
		}
	}
	return count
}

// choices are the subsets with k members, in order.
func choices(from []string, k int) (out [][]string) {
	switch k {
	case 0:
		return [][]string{nil}
	case len(from):
		return [][]string{slices.Clone(from)}
	}
	for i := 0; i+k <= len(from); i++ {
		for _, rest := range choices(from[i+1:], k-1) {
			out = append(out, append([]string{from[i]}, rest...))
		}
	}
	return out
}
