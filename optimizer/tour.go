package optimizer

import (
	"cmp"
	"slices"

	"loudfor/catalog"
)

// One tour: the parts as its shops sell them, and its trips as labour.

// tour is a set of shops with the problem that it makes.
type tour struct {
	stores    []string
	going     map[string]bool // stores by catalog.StoreKey
	p         Problem
	trips     int64                      // what going to them costs, minor units
	of        *catalog.Catalogue         // as it is
	sales     map[string][]catalog.Offer // of the parts with offers, by SKU: those of the tour, cheapest first
	own       map[string]int64           // what their own shops take, minor units
	elsewhere []*catalog.Part            // blockers to be had in other shops only
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
	t := &tour{stores: stores, going: make(map[string]bool, len(stores)), p: *p, trips: trips(p, stores), of: p.Catalogue, sales: map[string][]catalog.Offer{}, own: map[string]int64{}}
	for _, s := range stores {
		t.going[catalog.StoreKey(s)] = true
	}
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
	return t.going[catalog.StoreKey(store)]
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
