package prices

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"loudfor/catalog"
	"loudfor/catalog/document"
	"loudfor/catalog/units"
)

// Layering says how lists are laid over a catalogue.
type Layering struct {
	// AsOf leaves out what is dated after it; without it every row counts.
	AsOf Date
	// Stores are those where the customer buys; empty: anywhere. A cheaper
	// offer elsewhere must not take a part out of reach, so give the stores
	// of the brief when the catalogue is for one brief.
	Stores []string
}

// Change is what a layering did to one part.
type Change struct {
	SKU      string
	Old, New Offer
	Date     Date             // of the newest row behind the new offer
	Where    catalog.Position // of that row
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

// Layer lays price lists over a catalogue and gives a new catalogue and what
// changed, in SKU order. The old catalogue stays as it is.
//
// For each part and shop the price of the latest day holds, and the stock of
// the latest day that states one; the catalogue's own figures are older than
// every list. Where several shops offer the part, it goes to the one that has
// it, then to the cheapest, then to the shop of the catalogue. A row without a
// shop speaks of the catalogue's one; a part whose shop is not stated goes to
// whichever lists it.
//
// A SKU that is not in the catalogue, another currency, and two prices for one
// part on one day in different lists are errors: there is no catalogue then.
// Rows after the AsOf day are checked as well.
func Layer(c *catalog.Catalogue, o Layering, lists ...*List) (*catalog.Catalogue, []Change, *catalog.Report) {
	l := &layering{Layering: o, c: c, report: &catalog.Report{}}
	l.collect(lists)
	l.report.Sort(document.MostProblems)
	if l.report.Err() != nil {
		return nil, nil, l.report
	}
	var parts []*catalog.Part
	var changes []Change
	for from := 0; from < len(l.entries); {
		to := from + 1
		for to < len(l.entries) && l.entries[to].SKU == l.entries[from].SKU {
			to++
		}
		p := c.Part(l.entries[from].SKU)
		if ch, ok := l.settle(p, l.entries[from:to]); ok {
			q := *p
			q.Store, q.Price, q.Priced, q.Stock = ch.New.Store, ch.New.Price, ch.New.Priced, ch.New.Stock
			parts, changes = append(parts, &q), append(changes, ch)
		}
		from = to
	}
	return c.With(parts...), changes, l.report
}

type layering struct {
	Layering
	c       *catalog.Catalogue
	report  *catalog.Report
	entries []Entry // in the order of compare
	stores  map[string]string
}

// collect checks all rows and keeps those that count, with the shops spelt as
// the catalogue spells them.
func (l *layering) collect(lists []*List) {
	l.stores = map[string]string{}
	for _, p := range l.c.Parts {
		if _, ok := l.stores[folded(p.Store)]; !ok && p.Store != "" {
			l.stores[folded(p.Store)] = p.Store
		}
	}
	known := len(l.stores)
	currency, priced := l.c.Currency, firstPriced(l.c)
	for _, list := range lists {
		for _, e := range list.Entries {
			p := l.c.Part(e.SKU)
			if p == nil {
				l.unknown(&e)
				continue
			}
			if currency == "" && e.Priced {
				currency = e.Price.Currency
			}
			if e.Priced && e.Price.Currency != currency {
				l.report.Add(foreign(&e, currency, priced))
				continue
			}
			if e.Store == "" {
				e.Store = p.Store
			}
			e.Store = l.spelt(&e, known > 0)
			l.entries = append(l.entries, e)
		}
	}
	l.report.Add(contradictions(l.entries)...)
	if !l.AsOf.IsZero() {
		l.entries = slices.DeleteFunc(l.entries, func(e Entry) bool { return e.Date.Compare(l.AsOf) > 0 })
	}
	slices.SortStableFunc(l.entries, func(a, b Entry) int { return a.compare(&b) })
}

func firstPriced(c *catalog.Catalogue) *catalog.Part {
	for _, p := range c.Parts {
		if p.Priced {
			return p
		}
	}
	return nil
}

// mostSuggestions bounds the search for the nearest SKU, which looks at every
// part: a list for another catalogue has nothing near.
const mostSuggestions = 20

func (l *layering) unknown(e *Entry) {
	p := catalog.Problem{Summary: fmt.Sprintf("no part has the SKU %q", clip(e.SKU)), Where: e.Where, Text: e.SKU,
		Detail: "add the part to the catalogue, or remove the row"}
	if len(l.report.Problems) < mostSuggestions {
		if near := units.Nearest(e.SKU, l.c.SKUs()); near != "" {
			p.Detail = fmt.Sprintf("did you mean %q?\n%s", near, p.Detail)
		}
	}
	l.report.Add(p)
}

func foreign(e *Entry, currency string, priced *catalog.Part) catalog.Problem {
	p := catalog.Problem{Summary: fmt.Sprintf("%s costs %s, but the catalogue is in %s", e.SKU, e.Price, currency),
		Detail: "write all prices in one currency", Where: e.Where, Text: e.SKU}
	if priced != nil {
		at := priced.At("price")
		p.Related, p.RelatedNote = &at, "a price of the catalogue, in "+currency
	}
	return p
}

// spelt is the name of a shop as the catalogue writes it, or as the first row
// that names it does. One that is almost a known one is worth a warning: it
// would count as a shop of its own.
func (l *layering) spelt(e *Entry, warn bool) string {
	key := folded(e.Store)
	if key == "" {
		return ""
	}
	if name, ok := l.stores[key]; ok {
		return name
	}
	if warn {
		var names []string
		for _, n := range l.stores {
			names = append(names, n)
		}
		slices.Sort(names)
		if near := units.Nearest(e.Store, names); near != "" {
			l.report.Add(catalog.Problem{Severity: catalog.Warning, Summary: fmt.Sprintf("%q is not a store of the catalogue", e.Store),
				Detail: fmt.Sprintf("did you mean %q? As it stands it is a store of its own", near), Where: e.Where, Text: e.Store})
		}
	}
	l.stores[key] = e.Store
	return e.Store
}

// shelf is the part in one shop.
type shelf struct {
	Offer
	own   bool // the catalogue's own shop
	dated bool // a list states its price
	date  Date
	where catalog.Position
}

// settle finds the offer that holds for a part; entries are all of its rows.
func (l *layering) settle(p *catalog.Part, entries []Entry) (Change, bool) {
	base := Offer{p.Store, p.Price, p.Priced, p.Stock}
	shelves := []*shelf{{Offer: base, own: true}}
	at := func(e *Entry) *shelf {
		for _, s := range shelves {
			if folded(s.Store) == folded(e.Store) {
				return s
			}
		}
		if p.Store == "" && !pricedAt(entries, e.Store) {
			return shelves[0]
		}
		s := &shelf{Offer: Offer{Store: e.Store, Stock: catalog.Unlimited}}
		shelves = append(shelves, s)
		return s
	}
	// By day, so that the last row that states something wins.
	slices.SortStableFunc(entries, func(a, b Entry) int { return cmp.Or(a.Date.Compare(b.Date), a.compare(&b)) })
	for i := range entries {
		at(&entries[i]).take(&entries[i])
	}
	best := l.best(shelves)
	ch := Change{SKU: p.SKU, Old: base, New: best.Offer, Date: best.date, Where: best.where}
	return ch, best.Offer != base
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

func pricedAt(entries []Entry, store string) bool {
	for i := range entries {
		if entries[i].Priced && folded(entries[i].Store) == folded(store) {
			return true
		}
	}
	return false
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
	rank := func(no bool) int {
		if no {
			return 1
		}
		return 0
	}
	return slices.MinFunc(offers, func(a, b *shelf) int {
		return cmp.Or(cmp.Compare(rank(a.Stock == 0), rank(b.Stock == 0)), cmp.Compare(a.Price.Minor, b.Price.Minor),
			cmp.Compare(rank(!a.own), rank(!b.own)), strings.Compare(a.Store, b.Store))
	})
}

func (l *layering) reachable(store string) bool {
	return len(l.Stores) == 0 || slices.ContainsFunc(l.Stores, func(s string) bool { return folded(s) == folded(store) })
}
