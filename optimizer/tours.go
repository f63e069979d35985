package optimizer

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

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

// tour is a set of shops with the problem that it makes.
type tour struct {
	stores    []string
	p         Problem
	trips     int64                      // what going to them costs, minor units
	of        *catalog.Catalogue         // as it is
	sales     map[string][]catalog.Offer // of the parts with offers, by SKU: those of the tour, cheapest first
	own       map[string]int64           // what their own shops take, minor units
	elsewhere []*catalog.Part            // blockers to be had in other shops only
}

// Purchase says how many pieces of a line are bought where.
type Purchase struct {
	Store string
	Count int
	Each  catalog.Money
}

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

// needs is how many pieces of a part a problem asks about at most.
type needs func(*catalog.Part) int

// needed is what a build of the search can buy: what its slot holds, or must.
func needed(b *catalog.Brief) needs {
	must := make(map[string]int)
	for _, m := range b.Must {
		must[m.SKU] += max(m.Count, 1)
	}
	slots := func(stated, fallback int) int {
		if stated <= 0 {
			return fallback
		}
		return stated
	}
	return func(p *catalog.Part) int {
		n := 1
		switch p.Kind {
		case catalog.KindSubwoofer:
			n = slots(b.Drivers, defaultDrivers)
		case catalog.KindEnclosure, catalog.KindLoaded:
			n = slots(b.Boxes, defaultBoxes)
		case catalog.KindAmplifier:
			n = slots(b.Amplifiers, defaultAmplifiers) + 1 // one for the front
		}
		return max(n, must[p.SKU])
	}
}

// anyNumber is for questions about other numbers than the brief's.
func anyNumber(*catalog.Part) int { return plenty }

// shopsOf lists the shops that sell anything to this customer, or have a deal on
// it, in order.
func shopsOf(p *Problem) []string {
	known := map[string]string{}
	note := func(store string) {
		if key := strings.ToLower(store); store != "" && known[key] == "" && p.Brief.Sells(store) {
			known[key] = store
		}
	}
	for _, part := range p.Catalogue.Parts {
		if part.Priced {
			for _, o := range offersOf(part) {
				note(o.Store)
			}
		}
	}
	for _, d := range p.Catalogue.Deals {
		note(d.Store)
	}
	out := make([]string, 0, len(known))
	for _, name := range known {
		out = append(out, name)
	}
	slices.Sort(out)
	return out
}

// offersOf are the part's own price and those of other shops.
func offersOf(p *catalog.Part) []catalog.Offer {
	return append([]catalog.Offer{{Store: p.Store, Price: p.Price, Stock: p.Stock}}, p.Offers...)
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
		for _, a := range choices(paid, k) {
			for _, b := range choices(free, min(most-k, len(free))) {
				sets = append(sets, append(slices.Clone(a), b...))
			}
		}
		if len(sets) > mostTours {
			return nil, fmt.Errorf("%d shops of which %d cost a trip can be combined in too many ways: name fewer under stores, or lower most_stores", len(all), len(paid))
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

// choices are the subsets with k members, in order.
func choices(from []string, k int) (out [][]string) {
	if k == 0 {
		return [][]string{nil}
	}
	for i := 0; i+k <= len(from); i++ {
		for _, rest := range choices(from[i+1:], k-1) {
			out = append(out, append([]string{from[i]}, rest...))
		}
	}
	return out
}

// within says that the trips alone leave something of the cap.
func (t *tour) within(limit catalog.Money) bool {
	return limit == (catalog.Money{}) || t.trips <= limit.Minor
}

func trips(p *Problem, stores []string) (sum int64) {
	for _, s := range stores {
		sum += p.Catalogue.Trip(s).Minor
	}
	return sum
}

// newTour makes the problem of a tour.
func newTour(p *Problem, stores []string, need needs) *tour {
	t := &tour{stores: stores, p: *p, trips: trips(p, stores), of: p.Catalogue, sales: map[string][]catalog.Offer{}, own: map[string]int64{}}
	parts := slices.Clone(p.Catalogue.Parts)
	for k, part := range parts {
		if !part.Priced {
			continue
		}
		if list := t.list(part); len(list) == 0 || len(part.Offers) > 0 {
			parts[k] = t.sold(part, list, need(part))
		}
		if part.Kind == catalog.KindBlocker && !parts[k].Priced && sells(&p.Brief, part) {
			t.elsewhere = append(t.elsewhere, part)
		}
	}
	deals := slices.DeleteFunc(slices.Clone(p.Catalogue.Deals), func(d *catalog.Deal) bool { return d.Store != "" && !t.goes(d.Store) })
	t.p.tour = t
	t.p.Catalogue = &catalog.Catalogue{Currency: p.Catalogue.Currency, Parts: parts, Deals: deals}
	t.p.Brief.MostStores = 0
	t.p.Brief.Labour = slices.Clone(p.Brief.Labour)
	for _, s := range stores {
		if trip := p.Catalogue.Trip(s); trip.Minor > 0 {
			t.p.Brief.Labour = append(t.p.Brief.Labour, catalog.Labour{Name: tripName(s), Price: trip, Per: catalog.KindCount, Taxed: true})
		}
	}
	return t
}

// sold is a part as the tour sells it: at its list price, as often as all shops
// of the tour have it.
func (t *tour) sold(part *catalog.Part, list []catalog.Offer, need int) *catalog.Part {
	q := *part
	q.Offers, q.Priced, q.Stock = nil, len(list) > 0, 0
	for _, o := range list {
		if q.Stock < need { // what is dearer is never needed
			q.Store, q.Price = o.Store, o.Price
		}
		if o.Stock == catalog.Unlimited {
			q.Stock = catalog.Unlimited
			break
		}
		q.Stock += o.Stock
	}
	t.sales[q.SKU], t.own[q.SKU] = list, part.Price.Minor
	return &q
}

// sells says that some shop that the brief allows sells a piece of a part to
// somebody who may use it.
func sells(b *catalog.Brief, part *catalog.Part) bool {
	return part.Limit != 0 && !named(b.Never, part.SKU) && slices.ContainsFunc(offersOf(part), func(o catalog.Offer) bool { return o.Stock != 0 && b.Sells(o.Store) })
}

func tripName(store string) string { return "the trip to " + store }

// goes says that a shop is on the tour.
func (t *tour) goes(store string) bool {
	return slices.ContainsFunc(t.stores, func(s string) bool { return strings.EqualFold(s, store) })
}

// list are the offers of a part on the tour, cheapest first.
func (t *tour) list(part *catalog.Part) (out []catalog.Offer) {
	for _, o := range offersOf(part) {
		if (o.Store == "" || t.goes(o.Store)) && o.Stock != 0 {
			out = append(out, o)
		}
	}
	slices.SortStableFunc(out, func(a, b catalog.Offer) int { return cmp.Compare(a.Price.Minor, b.Price.Minor) })
	return out
}

// home puts a build of the tour in terms of the catalogue as it is.
func (t *tour) home(b *Build) {
	own := func(p *catalog.Part) *catalog.Part {
		for _, q := range t.of.Parts {
			if p != nil && q.SKU == p.SKU {
				return q
			}
		}
		return p
	}
	b.Lines = slices.Clone(b.Lines)
	for i := range b.Lines {
		b.Lines[i].Part = own(b.Lines[i].Part)
	}
	b.Bass.Part, b.Bass.Enclosure, b.Bass.Amplifier = own(b.Bass.Part), own(b.Bass.Enclosure), own(b.Bass.Amplifier)
	b.Front.Part, b.Front.Amplifier = own(b.Front.Part), own(b.Front.Amplifier)
}

// Purchases says where the pieces that are bought come from: one entry for each
// shop, none where all are owned.
func (l *Line) Purchases() []Purchase {
	n := l.Count - l.Owned
	if n <= 0 || len(l.From) > 0 {
		return l.From
	}
	return []Purchase{{Store: l.Part.Store, Count: n, Each: l.Part.Price}}
}
