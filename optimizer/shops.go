package optimizer

import (
	"slices"

	"loudfor/catalog"
	"loudfor/optimizer/build"
)

// Which shops there are for a customer, and what is bought in them.

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
			n = slots(b.Drivers, catalog.DefaultBrief().Drivers)
		case catalog.KindEnclosure, catalog.KindLoaded:
			n = slots(b.Boxes, catalog.DefaultBrief().Boxes)
		case catalog.KindAmplifier:
			n = slots(b.Amplifiers, catalog.DefaultBrief().Amplifiers) + 1 // one for the front
		}
		return max(n, must[p.SKU])
	}
}

// anyNumber is for questions about other numbers than the brief's.
func anyNumber(*catalog.Part) int { return build.Plenty }

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
