package optimizer

import (
	"slices"

	"loudfor/catalog"
)

// Which shops there are for a customer, and what is bought in them.

// Purchase says how many pieces of a line are bought where.
type Purchase struct {
	Store string
	Count int
	Each  catalog.Money
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
		if key := catalog.StoreKey(store); store != "" && known[key] == "" && p.Brief.Sells(store) {
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

// Purchases says where the pieces that are bought come from: one entry for each
// shop, none where all are owned.
func (l *Line) Purchases() []Purchase {
	n := l.Count - l.Owned
	if n <= 0 || len(l.From) > 0 {
		return l.From
	}
	return []Purchase{{Store: l.Part.Store, Count: n, Each: l.Part.Price}}
}
