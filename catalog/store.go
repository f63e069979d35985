package catalog

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"go.yaml.in/yaml/v3"

	"loudfor/catalog/document"
)

// One part may be sold in several shops, each with a price and a stock of its
// own, and going to a shop (or having things sent) may cost something, once,
// however much is bought there. Where to buy each piece is then a part of the
// choice: see package optimizer.

// Offer is what another shop than the part's own takes for it.
type Offer struct {
	Store string
	Price Money
	Stock int // pieces, or Unlimited
	Where Position
}

// Store is a shop with what it costs to buy there at all.
type Store struct {
	Name  string
	Trip  Money // travel or shipping, once, no tax; zero: nothing
	Where Position
}

// StoreKey is what two spellings of the name of a shop have in common: letters
// that differ only in their case, and spaces, mean nothing. All that compares
// shops compares this, so that no door takes for two shops what another takes
// for one.
func StoreKey(name string) string {
	// Up and down again: some letters are small for the same large one.
	return strings.ToLower(strings.ToUpper(strings.Join(strings.Fields(name), " ")))
}

// SameStore tells whether two names are of one shop.
func SameStore(a, b string) bool { return a == b || StoreKey(a) == StoreKey(b) }

var offerSchema = document.NewSchema("an offer", []document.Field[Offer]{
	document.String(spec{Key: "store", Shape: document.Text, Required: true, Example: "Pell Street", Help: "the other shop"},
		func(o *Offer) *string { return &o.Store }),
	money(spec{Key: "price", Shape: document.Price, Range: "0..1000000000000", Required: true, Example: "37.00 USD", Help: "its price before tax"},
		func(o *Offer) *Money { return &o.Price }),
	document.Int(spec{Key: "stock", Shape: document.Whole, Range: stockRange, Example: "1", Help: "pieces on its shelf; not stated: as many as wanted"},
		func(o *Offer) *int { return &o.Stock }),
})

var offersSpec = spec{Key: "offers", Shape: document.Groups, Sub: offerSchema.Specs(), Example: "[{store: Pell Street, price: 37.00 USD, stock: 1}]", Help: "what other shops take for the same part"}

func readOffers(r *document.Reader, p *Part, n *yaml.Node) {
	p.Keys.add(offersSpec.Key, r.Where(n))
	for k, n := range r.Items(n, &offersSpec) {
		o := Offer{Stock: Unlimited, Where: r.Where(n)}
		if group(p, r, offerSchema, n, fmt.Sprintf("%s[%d]", offersSpec.Key, k+1), &o) {
			p.Offers = append(p.Offers, o)
		}
	}
}

var storeSchema = document.NewSchema("a store", []document.Field[Store]{
	document.String(spec{Key: "name", Shape: document.Text, Required: true, Example: "Pell Street", Help: "what the parts call it"},
		func(s *Store) *string { return &s.Name }),
	money(spec{Key: "trip", Shape: document.Price, Range: "0..1000000000000", Example: "12 USD", Help: "travel or shipping, once for all that is bought there, without tax"},
		func(s *Store) *Money { return &s.Trip }),
})

var storesListSpec = spec{Key: "stores", Shape: document.Groups, Sub: storeSchema.Specs(), Help: "shops where buying costs something by itself", Example: "[{name: Pell Street, trip: 12 USD}]"}

func readStoreList(r *document.Reader, n *yaml.Node) (out []*Store) {
	for _, n := range r.Items(n, &storesListSpec) {
		before := r.Count()
		if s, good := readStore(r, n); !r.Leaves(before, s.Name) && good {
			out = append(out, &s)
		}
	}
	return out
}

func readStore(r *document.Reader, n *yaml.Node) (s Store, good bool) {
	s.Where = r.Where(n)
	return s, storeSchema.Decode(r, n, &s, nil)
}

// settleStores checks shops and offers against the catalogue as a whole.
func (c *Catalogue) settleStores(report *Report) {
	slices.SortFunc(c.Shops, func(a, b *Store) int { return cmp.Or(cmp.Compare(a.Name, b.Name), a.Where.Compare(b.Where)) })
	described := map[string]*Store{}
	for _, s := range c.Shops {
		if first, twice := described[StoreKey(s.Name)]; twice {
			report.Add(c.problemAt(Error, s.Where, fmt.Sprintf("the store %q is described twice", s.Name), "keep one of the two").
				Citing(first.Where, "first described here"))
		} else {
			described[StoreKey(s.Name)] = s
		}
		if s.Trip.Currency != "" && c.Currency != "" && s.Trip.Currency != c.Currency {
			report.Add(c.problemAt(Error, s.Where, fmt.Sprintf("the trip to %s costs %s, but the catalogue is in %s", s.Name, s.Trip, c.Currency), "write all prices in one currency"))
		}
	}
	for _, p := range c.Parts {
		c.settleOffers(p, report)
	}
}

func (c *Catalogue) settleOffers(p *Part, report *Report) {
	seen := make(map[string]bool, len(p.Offers))
	for i, o := range p.Offers {
		key := StoreKey(o.Store)
		path := fmt.Sprintf("offers[%d].store", i+1)
		switch {
		case !p.Priced || p.Store == "":
			report.Add(c.problem(Error, p, path, p.SKU+" has offers of other shops, but no shop or price of its own", "give it a store and a price"))
			return
		case key == StoreKey(p.Store):
			report.Add(c.problem(Error, p, path, fmt.Sprintf("%s is the shop of %s itself", o.Store, p.SKU), "its price is the part's own; name another shop"))
		case seen[key]:
			report.Add(c.problem(Error, p, path, fmt.Sprintf("two offers of %s for %s", o.Store, p.SKU), "keep the one that is right"))
		}
		seen[key] = true
		if c.Currency != "" && o.Price.Currency != c.Currency {
			report.Add(c.problem(Error, p, fmt.Sprintf("offers[%d].price", i+1), fmt.Sprintf("%s costs %s, but the catalogue is in %s", p.SKU, o.Price, c.Currency), "write all prices in one currency"))
		}
	}
}

// Trip is what buying at a shop costs by itself.
func (c *Catalogue) Trip(store string) Money {
	for _, s := range c.Shops {
		if SameStore(s.Name, store) && s.Trip.Minor > 0 {
			return s.Trip
		}
	}
	return Money{Currency: c.Currency}
}

// InStock is how many pieces all shops together have, or Unlimited.
func (p *Part) InStock() int {
	n := p.Stock
	for _, o := range p.Offers {
		if n == Unlimited || o.Stock == Unlimited {
			return Unlimited
		}
		n += o.Stock
	}
	return n
}
