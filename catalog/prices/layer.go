package prices

import (
	"fmt"
	"slices"

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
	// Strict refuses rows about parts that the catalogue has not.
	Strict bool
}

// Layer lays price lists over a catalogue and gives a new catalogue and what
// changed, in SKU order. The old catalogue stays as it is.
//
// For each part and shop the price of the latest day holds, and the stock of
// the latest day that states one; the catalogue's own figures are older than
// every list. Where several shops sell the part, its own price is that of the
// one that has it, then of the cheapest, then of the shop of the catalogue; the
// others are its offers, so that a search can choose among all of them. A row
// without a shop speaks of the catalogue's one; a part whose shop is not stated
// goes to whichever lists it. A part of which a deal takes a share of the price
// is bought at one shop alone.
//
// A row whose SKU is not in the catalogue is left out with a warning, and an
// error if Strict. Another currency, and two prices for one part on one day in different lists are errors: there is no
// catalogue then.
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
	entries := sorted(l.entries)
	for from := 0; from < len(entries); {
		to := from + 1
		for to < len(entries) && entries[to].SKU == entries[from].SKU {
			to++
		}
		p := c.Part(entries[from].SKU)
		if ch, ok := l.settle(p, entries[from:to]); ok {
			q := *p
			q.Store, q.Price, q.Priced, q.Stock = ch.New.Store, ch.New.Price, ch.New.Priced, ch.New.Stock
			q.Offers = ch.New.offers()
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
	entries []Entry
	key     keys
	stores  map[string]string // as they are spelt, by key
	known   []string          // those of the catalogue, sorted
	asked   int               // how many of the lists' own were held against them
	within  map[string]bool   // Stores, by key
	shared  map[string]string // parts of which a deal takes a share, and at which shop
	left    int               // rows that are about no part of the catalogue
}

// collect checks all rows and keeps those that count, with the shops spelt as
// the catalogue spells them.
func (l *layering) collect(lists []*List) {
	l.stores, l.key, l.within, l.shared = map[string]string{}, keys{}, map[string]bool{}, shares(l.c)
	for _, s := range l.Stores {
		l.within[l.key.of(s)] = true
	}
	name := func(store string) {
		if _, ok := l.stores[l.key.of(store)]; !ok && store != "" {
			l.stores[l.key.of(store)] = store
			l.known = append(l.known, store)
		}
	}
	for _, s := range l.c.Shops {
		name(s.Name)
	}
	for _, p := range l.c.Parts {
		name(p.Store)
		for _, o := range p.Offers {
			name(o.Store)
		}
	}
	slices.Sort(l.known)
	currency, priced := l.c.Currency, firstPriced(l.c)
	for _, list := range lists {
		settled := map[shopDay]int{}
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
			e.Store = l.spelt(&e)
			if list.Recorded {
				of := shopDay{e.SKU, l.key.of(e.Store), e.Date}
				if at, twice := settled[of]; twice {
					l.entries[at].follow(&e)
					continue
				}
				settled[of] = len(l.entries)
			}
			l.entries = append(l.entries, e)
		}
	}
	l.report.Add(contradictions(l.entries)...)
	if !l.AsOf.IsZero() {
		l.entries = slices.DeleteFunc(l.entries, func(e Entry) bool { return e.Date.Compare(l.AsOf) > 0 })
	}
}

// shopDay is what one row at most may speak of.
type shopDay struct {
	sku, store string
	date       Date
}

// follow takes what a later row of the same day states. A row without a shop and
// one with its name can stand in a job book side by side, and be of one shop in
// one catalogue and of two in the next.
func (e *Entry) follow(later *Entry) {
	if later.Priced {
		e.Price, e.Priced = later.Price, true
	}
	if later.Stock != catalog.Unlimited {
		e.Stock = later.Stock
	}
	e.Where = later.Where
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
	if l.left++; !l.Strict && l.left > mostSuggestions {
		l.report.More++ // counted, not listed: nobody mends thousands by hand
		return
	}
	p := catalog.Problem{Summary: fmt.Sprintf("no part has the SKU %q", units.Clip(e.SKU)), Where: e.Where, Text: e.SKU,
		Detail: "add the part to the catalogue, or remove the row"}
	if !l.Strict {
		p.Severity, p.Summary = catalog.Warning, "left out: "+p.Summary
	}
	if l.left <= mostSuggestions {
		if near := units.Nearest(e.SKU, l.c.SKUs()); near != "" {
			name := ""
			if q := l.c.Part(near); q.Name != "" {
				name = " (" + q.Name + ")"
			}
			p.Detail = fmt.Sprintf("did you mean %q%s?\n%s", near, name, p.Detail)
		}
	}
	l.report.Add(p)
}

func foreign(e *Entry, currency string, priced *catalog.Part) catalog.Problem {
	p := catalog.Problem{Summary: fmt.Sprintf("%s costs %s, but the catalogue is in %s", e.SKU, e.Price, currency),
		Detail: "write all prices in one currency", Where: e.Where, Text: e.SKU}
	if priced != nil {
		p = p.Citing(priced.At("price"), "a price of the catalogue, in "+currency)
	}
	return p
}

// mostAsked bounds how many shops that the catalogue does not know are held
// against all that it knows: they are no slips when there are so many.
const mostAsked = 200

// spelt is the name of a shop as the catalogue writes it, or as the first row
// that names it does. One that is almost a known one is worth a warning: it
// would count as a shop of its own.
func (l *layering) spelt(e *Entry) string {
	key := l.key.of(e.Store)
	if key == "" {
		return ""
	}
	if name, ok := l.stores[key]; ok {
		return name
	}
	if l.asked++; l.asked <= mostAsked {
		if near := units.Nearest(e.Store, l.known); near != "" {
			l.report.Add(catalog.Problem{Severity: catalog.Warning, Summary: fmt.Sprintf("%q is not a store of the catalogue", e.Store),
				Detail: fmt.Sprintf("did you mean %q? As it stands it is a store of its own", near), Where: e.Where, Text: e.Store})
		}
	}
	l.stores[key] = e.Store
	return e.Store
}
