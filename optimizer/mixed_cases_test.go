package optimizer

import (
	"context"
	"math/rand/v2"
	"slices"
	"strings"

	"loudfor/catalog"
	"loudfor/optimizer/testing/generate"
)

// Random problems in which all rules meet: a part may be owned in part, be in
// several deals, lie in three shops with a piece in each, and be wanted three
// times, by a customer who goes to two of them.

// mixedMost is how many combinations such a case may have.
const mixedMost = 9_000

// mixed makes a random problem with all rules: the first of a few that has a
// build without a cap, or the last.
func (c *cars) mixed(seed uint64) (p Problem, car *task) { return c.mixedOf(seed, mixedMost) }

// mixedOf is one with so many combinations at most.
func (c *cars) mixedOf(seed uint64, most int) (p Problem, car *task) {
	for try := range uint64(4) {
		var solved bool
		if p, car, solved = c.mixture(seed+try<<40, most); solved {
			break
		}
	}
	return p, car
}

func (c *cars) mixture(seed uint64, most int) (p Problem, car *task, solved bool) {
	p, car = c.drawn(seed, most)
	g := rand.New(rand.NewPCG(seed, 0x6d697865))
	one := func(chance float64) bool { return g.Float64() < chance }
	dealt(&p, seed)
	scattered(g, &p)
	// More pieces of a part in a build.
	p.Brief.Boxes, p.Brief.Drivers = 2, 2+g.IntN(3)
	if len(p.Brief.Owned) == 0 && one(0.5) { // the second piece of what is owned has to be bought
		part := p.Catalogue.Parts[g.IntN(len(p.Catalogue.Parts))]
		p.Brief.Owned = mention(part.SKU)
	}
	p.Brief.Stores = nil
	if one(0.3) {
		for _, s := range shopsOf(&p) {
			if one(0.75) {
				p.Brief.Stores = append(p.Brief.Stores, strings.ToLower(s))
			}
		}
	}
	p.Brief.MostStores = []int{0, 0, 1, 2, 2, 3}[g.IntN(6)]
	p.Top = []int{5, 5, 5, 1, 2}[g.IntN(5)]
	solved = c.tempt(g, &p, car)
	for _, d := range p.Catalogue.Deals {
		if d.Store = ""; one(0.5) {
			shopDeal(p.Catalogue, d, one(0.2))
		}
	}
	return p, car, solved
}

// tempt makes most deals about parts of the best builds, and the cap one that
// some of them are within: what is far from any answer tests little.
func (c *cars) tempt(g *rand.Rand, p *Problem, car *task) (solved bool) {
	q := *p
	q.Brief.Cap = catalog.Money{}
	q.Known = nil
	r, err := pickIn(context.Background(), q, car)
	if err != nil || len(r.Builds) == 0 {
		return false
	}
	if p.Brief.Cap.Minor > 0 {
		p.Brief.Cap.Minor = r.Builds[g.IntN(len(r.Builds))].Cost.Minor * int64(70+g.IntN(60)) / 100
	}
	part := func(pieces int) *catalog.Part {
		var few []*catalog.Part
		for _, l := range r.Builds[g.IntN(len(r.Builds))].Lines {
			if l.Part.Priced && l.Count-l.Owned >= pieces {
				few = append(few, l.Part)
			}
		}
		if len(few) == 0 {
			return nil
		}
		return few[g.IntN(len(few))]
	}
	for _, d := range p.Catalogue.Deals {
		q := part(max(1, d.From, d.Every))
		switch {
		case q == nil || g.IntN(4) == 0 || mentioned(d.Parts, q.SKU) > 0:
		case d.Form == catalog.DealEvery && len(q.Offers) > 0:
		default:
			before := p.Catalogue.Part(d.Parts[0].SKU)
			d.Parts = slices.Clone(d.Parts)
			d.Parts[0].SKU = q.SKU
			switch d.Form {
			case catalog.DealSet:
				d.Price.Minor = max(0, d.Price.Minor+int64(d.Parts[0].Count)*(q.Price.Minor-before.Price.Minor)*int64(40+g.IntN(60))/100)
			case catalog.DealFrom:
				d.Price.Minor = q.Price.Minor * int64(40+g.IntN(60)) / 100
			}
		}
	}
	return true
}

// scattered puts the parts of a problem into shops: most are sold in several,
// and the cheaper ones have few.
func scattered(g *rand.Rand, p *Problem) {
	shops := []string{"North Counter", "Yard", "South Bench", "Mail"}[:2+g.IntN(3)]
	one := func(chance float64) bool { return g.Float64() < chance }
	everyNth := map[string]bool{} // takes a part of the price: sold in one shop
	for _, d := range p.Catalogue.Deals {
		if d.Form == catalog.DealEvery {
			everyNth[d.Parts[0].SKU] = true
		}
	}
	var parts []*catalog.Part
	for _, part := range p.Catalogue.Parts {
		q := *part
		if q.Store = shops[g.IntN(len(shops))]; one(0.1) {
			q.Store = ""
		}
		for _, s := range shops {
			if !q.Priced || q.Store == "" || s == q.Store || everyNth[q.SKU] || !one(0.5) {
				continue
			}
			o := catalog.Offer{Store: s, Price: q.Price, Stock: catalog.Unlimited}
			o.Price.Minor = o.Price.Minor * int64(60+g.IntN(60)) / 100
			if o.Price.Minor < q.Price.Minor && one(0.8) || one(0.3) {
				o.Stock = []int{0, 1, 1, 1, 2}[g.IntN(5)]
			}
			q.Offers = append(q.Offers, o)
		}
		parts = append(parts, &q)
	}
	deals := p.Catalogue.Deals
	p.Catalogue = catalog.New(p.Catalogue.Currency, parts)
	p.Catalogue.Deals = deals
	for _, s := range shops {
		if one(0.5) {
			if one(0.2) {
				s = strings.ToUpper(s)
			}
			p.Catalogue.Shops = append(p.Catalogue.Shops, &catalog.Store{Name: s, Trip: catalog.Money{Minor: int64(g.IntN(4000)), Currency: generate.Currency}})
		}
	}
	slices.SortFunc(p.Catalogue.Shops, func(a, b *catalog.Store) int { return strings.Compare(a.Name, b.Name) })
}
