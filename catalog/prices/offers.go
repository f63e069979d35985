package prices

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"loudfor/catalog"
)

// What one part costs after a layering, and where.

// Change is what a layering did to one part.
type Change struct {
	SKU      string
	Old, New Offers
	Date     Date             // of the newest row behind the new offers
	Where    catalog.Position // of that row
}

// Offers are what a part costs: its own price, and what other shops take.
type Offers struct {
	Offer
	Others []Offer // those that have it first, then by price, then by store
}

// Offer is what a part costs, where, and how many there are.
type Offer struct {
	Store  string // empty: not stated
	Price  catalog.Money
	Priced bool
	Stock  int // pieces, or catalog.Unlimited
}

// String writes the offer in words: "39.00 USD at Dock Street, 3 in stock".
func (o Offer) String() string {
	out := "no price"
	if o.Priced {
		out = o.Price.String()
	}
	if o.Store != "" {
		out += " at " + o.Store
	}
	switch {
	case o.Stock == 0:
		out += ", out of stock"
	case o.Stock != catalog.Unlimited:
		out += fmt.Sprintf(", %d in stock", o.Stock)
	}
	return out
}

// String writes all of them, the part's own first.
func (o Offers) String() string {
	out := o.Offer.String()
	for _, other := range o.Others {
		out += "; " + other.String()
	}
	return out
}

// OffersOf are those of a part of a catalogue.
func OffersOf(p *catalog.Part) Offers {
	all := Offers{Offer: Offer{p.Store, p.Price, p.Priced, p.Stock}}
	for _, o := range p.Offers {
		all.Others = append(all.Others, Offer{o.Store, o.Price, true, o.Stock})
	}
	slices.SortFunc(all.Others, Offer.compare)
	return all
}

// gone is 1 where there is none left.
func (o Offer) gone() int {
	if o.Stock == 0 {
		return 1
	}
	return 0
}

// compare puts those that have the part first, then the cheaper ones.
func (o Offer) compare(p Offer) int {
	return cmp.Or(cmp.Compare(o.gone(), p.gone()), cmp.Compare(o.Price.Minor, p.Price.Minor), strings.Compare(o.Store, p.Store))
}

// same says that two states of a part are one, whichever shop is named first.
func (o Offers) same(p Offers) bool {
	all := func(o Offers) []Offer {
		list := append([]Offer{o.Offer}, o.Others...)
		slices.SortFunc(list, Offer.compare)
		return list
	}
	return slices.Equal(all(o), all(p))
}

// offers are the others as a catalogue holds them.
func (o Offers) offers() (out []catalog.Offer) {
	for _, other := range o.Others {
		out = append(out, catalog.Offer{Store: other.Store, Price: other.Price, Stock: other.Stock})
	}
	return out
}

// shelf is the part in one shop.
type shelf struct {
	Offer
	own   bool // the catalogue's own shop
	dated bool // a list states its price
	date  Date
	where catalog.Position
}

// settle finds the offers that hold for a part; entries are all of its rows.
func (l *layering) settle(p *catalog.Part, entries []keyed) (Change, bool) {
	base := OffersOf(p)
	var shelves []*shelf
	in := map[string]*shelf{}
	add := func(store string, s *shelf) *shelf {
		shelves, in[store] = append(shelves, s), s
		return s
	}
	add(l.key.of(base.Store), &shelf{Offer: base.Offer, own: true})
	for _, o := range base.Others {
		add(l.key.of(o.Store), &shelf{Offer: o})
	}
	priced := map[string]bool{}
	for _, e := range entries {
		priced[e.store] = priced[e.store] || e.Priced
	}
	// By day, so that the last row that states something wins.
	slices.SortStableFunc(entries, func(a, b keyed) int { return a.Date.Compare(b.Date) })
	for _, e := range entries {
		s := in[e.store]
		switch {
		case s != nil:
		case p.Store == "" && !priced[e.store]:
			s = shelves[0]
		default:
			s = add(e.store, &shelf{Offer: Offer{Store: e.Store, Stock: catalog.Unlimited}})
		}
		s.take(e.Entry)
	}
	kept := []*shelf{l.best(shelves)}
	switch at, shared := l.shared[p.SKU]; {
	case shared && at != "":
		kept[0] = shelves[0] // the deal is that shop's
	case !shared && kept[0].Priced && kept[0].Store != "":
		kept = append(kept, others(shelves, kept[0])...)
	}
	ch := Change{SKU: p.SKU, Old: base, New: Offers{Offer: kept[0].Offer}}
	for i, s := range kept {
		if i > 0 {
			ch.New.Others = append(ch.New.Others, s.Offer)
		}
		if later := cmp.Or(s.date.Compare(ch.Date), s.where.Compare(ch.Where)) > 0; i == 0 || later {
			ch.Date, ch.Where = s.date, s.where
		}
	}
	return ch, !ch.New.same(base)
}

// others are the offers of the other shops.
func others(shelves []*shelf, best *shelf) (out []*shelf) {
	for _, s := range shelves {
		if s != best && s.Priced && s.Store != "" {
			out = append(out, s)
		}
	}
	slices.SortFunc(out, func(a, b *shelf) int { return a.compare(b.Offer) })
	return out
}

// shares are the parts of which a deal takes a share of the price, which has to
// be one price then, and at which shop, if at a certain one.
func shares(c *catalog.Catalogue) map[string]string {
	out := map[string]string{}
	for _, d := range c.Deals {
		if d.Form == catalog.DealEvery {
			for _, m := range d.Parts {
				out[m.SKU] = cmp.Or(out[m.SKU], d.Store)
			}
		}
	}
	return out
}

func (s *shelf) take(e *Entry) {
	if e.Priced {
		s.Price, s.Priced, s.dated = e.Price, true, true
	}
	if e.Stock != catalog.Unlimited {
		s.Stock = e.Stock
	}
	s.date, s.where = e.Date, e.Where
}

// best is where the part is bought.
func (l *layering) best(shelves []*shelf) *shelf {
	own := shelves[0]
	offers := slices.DeleteFunc(slices.Clone(shelves), func(s *shelf) bool {
		// A price without a shop is that of whichever shop now states one.
		return !s.Priced || !l.reachable(s.Store) || s == own && s.Store == "" && !s.dated && len(shelves) > 1
	})
	if len(offers) == 0 {
		return own
	}
	notOwn := func(s *shelf) int {
		if s.own {
			return 0
		}
		return 1
	}
	return slices.MinFunc(offers, func(a, b *shelf) int {
		return cmp.Or(cmp.Compare(a.gone(), b.gone()), cmp.Compare(a.Price.Minor, b.Price.Minor), cmp.Compare(notOwn(a), notOwn(b)), strings.Compare(a.Store, b.Store))
	})
}

func (l *layering) reachable(store string) bool {
	return len(l.within) == 0 || l.within[l.key.of(store)]
}
