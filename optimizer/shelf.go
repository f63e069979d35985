package optimizer

import (
	"fmt"
	"slices"
	"sort"

	"loudfor/catalog"
	"loudfor/model/bass"
)

// The shelf is the catalogue as one customer meets it: which parts may be in a
// build, how many of each, and what the n-th piece costs. Owned pieces cost
// nothing and know no store, stock or limit; what must never be used is not
// used even if it is owned.

// plenty is more pieces than any build holds.
const plenty = 1 << 20

// item is one part on the shelf.
type item struct {
	part  *catalog.Part
	id    int // place in SKU order
	owned int
	must  int   // pieces that have to be in the build
	used  bool  // it has to be in the build without being idle: see Problem.With
	most  int   // pieces that can be in a build, owned ones included
	each  int64 // labour for a piece, owned or not

	// Of a bought piece, weighed (till.go), with the labour for what is bought.
	full  int64 // without deals
	price int64 // at least, whatever the deals (deal.go)

	dealt bool     // it is in a deal
	alone []*offer // those about this part alone
	sets  []*offer // those about several parts of which this is the first
	sales []sale   // where several shops of a tour sell it: see sale.go
	table []int64  // what both save on so many pieces

	mouth        bass.Mouth // of an enclosure or a loaded one
	share, whole int64      // see item.save
}

// cost is the least price of n pieces: exact for a part in no deal. It is
// convex in n (first the owned ones, then the bought), so the costs of two uses
// of one part, added, never exceed the cost of both together.
func (it *item) cost(n int) int64 {
	sum := int64(n) * it.each
	if n > it.owned {
		sum += int64(n-it.owned) * it.price
	}
	return sum
}

// offered says whether at least one piece can be in a build.
func (it *item) offered() bool { return it.most > 0 }

// shelf holds the items in SKU order.
type shelf struct {
	items []*item
	kinds [catalog.KindCount][]*item
	bySKU map[string]*item
}

// stockShelf puts the catalogue on the shelf under the brief's rules.
func stockShelf(c *catalog.Catalogue, b *catalog.Brief, r relaxed) (*shelf, error) {
	parts := slices.Clone(c.Parts)
	sort.SliceStable(parts, func(i, j int) bool { return parts[i].SKU < parts[j].SKU })
	s := &shelf{bySKU: make(map[string]*item, len(parts))}
	for _, p := range parts {
		if s.bySKU[p.SKU] != nil {
			return nil, fmt.Errorf("the catalogue holds the SKU %s twice", p.SKU)
		}
		if p.Kind < 0 || p.Kind >= catalog.KindCount {
			return nil, fmt.Errorf("%s: unknown kind %d", p.SKU, int(p.Kind))
		}
		it := &item{part: p, id: len(s.items), full: min(max(p.Price.Minor, 0), dearest)}
		it.price = it.full
		s.items = append(s.items, it)
		s.bySKU[p.SKU] = it
		s.kinds[p.Kind] = append(s.kinds[p.Kind], it)
	}
	for _, m := range b.Owned {
		it, err := s.named(m, "owned")
		if err != nil {
			return nil, err
		}
		it.owned += max(m.Count, 1)
	}
	for _, m := range b.Must {
		it, err := s.named(m, "must")
		if err != nil {
			return nil, err
		}
		it.must += max(m.Count, 1)
	}
	for _, it := range s.items {
		it.most = it.owned + buyable(it.part, b, r)
	}
	for _, m := range b.Never {
		it, err := s.named(m, "never")
		if err != nil {
			return nil, err
		}
		it.most = 0
	}
	return s, nil
}

func (s *shelf) named(m catalog.Mention, list string) (*item, error) {
	if it := s.bySKU[m.SKU]; it != nil {
		return it, nil
	}
	return nil, fmt.Errorf("%s names %s, which is not in the catalogue", list, m.SKU)
}

// buyable is how many pieces of a part can be bought.
func buyable(p *catalog.Part, b *catalog.Brief, r relaxed) int {
	if !p.Priced {
		return 0
	}
	if len(b.Stores) > 0 && !slices.ContainsFunc(b.Stores, func(s string) bool { return catalog.SameStore(s, p.Store) }) {
		return 0
	}
	n := plenty
	if !r.stock {
		if p.Stock != catalog.Unlimited {
			n = min(n, max(p.Stock, 0))
		}
		if p.Limit != catalog.Unlimited {
			n = min(n, max(p.Limit, 0))
		}
	}
	return n
}

// relaxed says which rules that stand in no brief are set aside, to find out
// what blocks a problem without a solution.
type relaxed struct {
	stock  bool    // stock and limits
	space  bool    // room for the boxes in the car
	boot   bool    // the opening that they go through
	load   bool    // the amplifier's minimum load
	least  float64 // ohm: no load below it even so
	signal bool    // a signal path to every amplifier
	cable  bool    // the kit carries the current
	amps   float64 // A: no more than that even so; 0: any
	front  bool    // the front rule
}
