package pricing

import (
	"fmt"
	"slices"
	"sort"

	"loudfor/catalog"
	"loudfor/model/bass"
	"loudfor/optimizer/build"
	"loudfor/optimizer/setting"
)

// The shelf is the catalogue as one customer meets it: which parts may be in a
// build, how many of each, and what the n-th piece costs. Owned pieces cost
// nothing and know no store, stock or limit; what must never be used is not
// used even if it is owned.

// Item is one part on the shelf.
type Item struct {
	Part  *catalog.Part
	ID    int // place in SKU order
	Owned int
	Must  int   // pieces that have to be in the build
	Used  bool  // it has to be in the build without being idle: see Problem.With
	Most  int   // pieces that can be in a build, owned ones included
	Each  int64 // labour for a piece, owned or not

	// Of a bought piece, weighed (tax.go), with the labour for what is bought.
	Full  int64 // without deals
	price int64 // at least, whatever the deals (deal.go)

	Dealt bool        // it is in a deal
	alone []*Deal     // those about this part alone
	sets  []*Deal     // those about several parts of which this is the first
	sales []shopOffer // where several shops of a tour sell it: see shop_offer.go
	table []int64     // what both save on so many pieces

	Opening      bass.Mouth // of an enclosure or a loaded one
	share, Whole int64      // see Item.save
}

// Lower is the least price of n pieces: exact for a part in no deal. It is
// convex in n (first the owned ones, then the bought), so the costs of two uses
// of one part, added, never exceed the cost of both together.
func (it *Item) Lower(n int) int64 {
	sum := int64(n) * it.Each
	if n > it.Owned {
		sum += int64(n-it.Owned) * it.price
	}
	return sum
}

// Offered says whether at least one piece can be in a build.
func (it *Item) Offered() bool { return it.Most > 0 }

// Shelf holds the items in SKU order.
type Shelf struct {
	Items []*Item
	Kinds [catalog.KindCount][]*Item
	BySKU map[string]*Item
}

// stockShelf puts the catalogue on the shelf under the brief's rules.
func stockShelf(c *catalog.Catalogue, b *catalog.Brief, r setting.Relaxation) (*Shelf, error) {
	parts := slices.Clone(c.Parts)
	sort.SliceStable(parts, func(i, j int) bool { return parts[i].SKU < parts[j].SKU })
	s := &Shelf{BySKU: make(map[string]*Item, len(parts)), Items: make([]*Item, len(parts))}
	items := make([]Item, len(parts))
	for i, p := range parts {
		if s.BySKU[p.SKU] != nil {
			return nil, fmt.Errorf("the catalogue holds the SKU %s twice", p.SKU)
		}
		if p.Kind < 0 || p.Kind >= catalog.KindCount {
			return nil, fmt.Errorf("%s: unknown kind %d", p.SKU, int(p.Kind))
		}
		it := &items[i]
		it.Part, it.ID, it.Full = p, i, min(max(p.Price.Minor, 0), Dearest)
		it.price = it.Full
		s.Items[i] = it
		s.BySKU[p.SKU] = it
		s.Kinds[p.Kind] = append(s.Kinds[p.Kind], it)
	}
	for _, m := range b.Owned {
		it, err := s.named(m, "owned")
		if err != nil {
			return nil, err
		}
		it.Owned += max(m.Count, 1)
	}
	for _, m := range b.Must {
		it, err := s.named(m, "must")
		if err != nil {
			return nil, err
		}
		it.Must += max(m.Count, 1)
	}
	for _, it := range s.Items {
		it.Most = it.Owned + buyable(it.Part, b, r)
	}
	for _, m := range b.Never {
		it, err := s.named(m, "never")
		if err != nil {
			return nil, err
		}
		it.Most = 0
	}
	return s, nil
}

func (s *Shelf) named(m catalog.Mention, list string) (*Item, error) {
	if it := s.BySKU[m.SKU]; it != nil {
		return it, nil
	}
	return nil, fmt.Errorf("%s names %s, which is not in the catalogue", list, m.SKU)
}

// buyable is how many pieces of a part can be bought.
func buyable(p *catalog.Part, b *catalog.Brief, r setting.Relaxation) int {
	if !p.Priced {
		return 0
	}
	if len(b.Stores) > 0 && !slices.ContainsFunc(b.Stores, func(s string) bool { return catalog.SameStore(s, p.Store) }) {
		return 0
	}
	n := build.Plenty
	if !r.Stock {
		if p.Stock != catalog.Unlimited {
			n = min(n, max(p.Stock, 0))
		}
		if p.Limit != catalog.Unlimited {
			n = min(n, max(p.Limit, 0))
		}
	}
	return n
}

// MayBeUnused says that the part may be idle.
func (it *Item) MayBeUnused() bool { return it.Must > 0 && !it.Used }
