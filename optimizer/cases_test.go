package optimizer

import (
	"fmt"
	"math/rand/v2"
	"sync"
	"testing"

	"loudfor/catalog"
	"loudfor/model/cabin"
	"loudfor/optimizer/setting"
	"loudfor/optimizer/testing/generate"
)

// Random small problems, with every rule in play.

// tooMany is how many combinations a case may have for the oracle to be quick.
const tooMany = 250_000

// cars are computed once for all tests: the search is under test, not the
// cabin.
type cars struct {
	vehicles []catalog.Vehicle
	openings []string
	tasks    []*task
}

func garage(t testing.TB) *cars {
	t.Helper()
	c, err := garaged()
	if err != nil {
		t.Fatal(err)
	}
	return c
}

var garaged = sync.OnceValues(func() (*cars, error) {
	c := &cars{openings: []string{"shut", "doors open"}}
	for i, name := range []string{"small sedan", "small hatch"} {
		body, ok := cabin.BodyNamed(name)
		if !ok {
			return nil, fmt.Errorf("no body %q", name)
		}
		v := catalog.Vehicle{Name: name, Body: body, Alternator: 70 + 30*float64(i), Standby: 25, CableRun: 4.5}
		c.vehicles = append(c.vehicles, v)
		p := Problem{Catalogue: &catalog.Catalogue{}, Vehicle: v, Brief: catalog.Brief{Celsius: 20, FrontWatts: 10, Place: "dash", Openings: c.openings[i]}}
		task, err := ready(p, setting.Relaxation{})
		if err != nil {
			return nil, err
		}
		c.tasks = append(c.tasks, task)
	}
	return c, nil
})

// small makes a random small problem in one of the cars.
func (c *cars) small(seed uint64) (Problem, *task) { return c.drawn(seed, tooMany) }

// drawn makes one with so many combinations at most.
func (c *cars) drawn(seed uint64, most int) (Problem, *task) {
	g := rand.New(rand.NewPCG(seed, 0x63617365))
	car := g.IntN(len(c.vehicles))
	one := func(chance float64) bool { return g.Float64() < chance }
	p := Problem{Vehicle: c.vehicles[car], Top: 5, Workers: 1 + g.IntN(3), Bare: true, Distinct: Distinct(g.IntN(4) / 3)}
	p.Brief = catalog.Brief{Celsius: 20,
		Place: "dash", Openings: c.openings[car],
		Goal: catalog.Goal(g.IntN(2)), Front: catalog.FrontRule(g.IntN(3)),
		Boxes: 1 + g.IntN(2), Drivers: 1 + g.IntN(4), Amplifiers: 1 + g.IntN(2),
		FrontWatts: []float64{0, 10, 15, 25}[g.IntN(4)], BassLift: float64(3 * g.IntN(4)),
		Cap: catalog.Money{Minor: int64(25_000 + g.IntN(150_000)), Currency: generate.Currency},
	}
	if one(0.5) {
		p.Brief.TaxPPM = int64(g.IntN(200_000))
	}
	if one(0.1) {
		p.Brief.Cap = catalog.Money{}
	}
	if one(0.4) {
		p.Brief.Space = catalog.Size3{Width: 0.4 + 0.8*g.Float64(), Depth: 0.3 + 0.3*g.Float64(), Height: 0.3 + 0.3*g.Float64()}
	}
	if one(0.2) {
		p.Brief.Stores = []string{"North Counter", "Yard"}
	}
	p.Catalogue = generate.Counts(c.counts(g, most), g.Uint64(), []generate.Tightness{generate.Loose, generate.Tight}[g.IntN(2)])
	shelfFlaws(g, p.Catalogue)
	alike(seed, p.Catalogue)
	any := func() catalog.Mention {
		return catalog.Mention{SKU: p.Catalogue.Parts[g.IntN(len(p.Catalogue.Parts))].SKU, Count: 1 + g.IntN(2)}
	}
	for range g.IntN(4) {
		p.Brief.Owned = append(p.Brief.Owned, any())
	}
	if one(0.2) {
		p.Brief.Must = append(p.Brief.Must, any())
		p.Brief.Must[0].Count = 1
	}
	if one(0.3) {
		p.Brief.Never = append(p.Brief.Never, any())
	}
	if h := rand.New(rand.NewPCG(seed, 0x626f6f74)); h.IntN(4) == 0 { // its own chance: the rest of a seed's case stays
		p.Vehicle.Boot = [2]float64{0.35 + 0.5*h.Float64(), 0.25 + 0.3*h.Float64()}
	}
	return p, c.tasks[car]
}

// counts draws numbers of parts, up to twelve of a kind, until the oracle can
// cope.
func (c *cars) counts(g *rand.Rand, most int) (n [catalog.KindCount]int) {
	for {
		for kind := range catalog.KindSheet { // the rest is no part of a build
			n[kind] = 2 + g.IntN(3)
			if g.IntN(4) == 0 {
				n[kind] = 1 + g.IntN(12)
			}
		}
		n[catalog.KindConverter], n[catalog.KindBlocker] = g.IntN(3), g.IntN(3)
		n[catalog.KindLoaded] = g.IntN(3)
		blocks := n[catalog.KindSubwoofer]*n[catalog.KindEnclosure]/2 + 2*n[catalog.KindLoaded]
		rests := n[catalog.KindSource] * (1 + n[catalog.KindFront]) * (1 + n[catalog.KindAmplifier]/2) * (1 + n[catalog.KindConverter]/2) * (1 + n[catalog.KindBlocker]/2)
		if blocks*n[catalog.KindAmplifier]*3*n[catalog.KindKit]*rests < most {
			return n
		}
	}
}

// shelfFlaws puts parts out of stock, takes prices away, and copies parts
// under another SKU at the same price, so that ties are common.
func shelfFlaws(g *rand.Rand, c *catalog.Catalogue) {
	copies := 0
	for _, p := range c.Parts {
		switch g.IntN(12) {
		case 0:
			p.Stock = g.IntN(3)
		case 1:
			p.Limit = 1
		case 2:
			p.Priced = false
		}
		if g.IntN(8) == 0 && copies < 2 {
			twin := *p
			twin.SKU = p.SKU[:2] + "+" + p.SKU[3:]
			if g.IntN(2) == 0 {
				twin.SKU += "B"
			}
			c.Parts = append(c.Parts, &twin)
			copies++
		}
		if p.Kind == catalog.KindAmplifier || p.Kind == catalog.KindFront {
			p.Price.Minor = p.Price.Minor / 500 * 500 // equal prices by chance
		}
	}
	g.Shuffle(len(c.Parts), func(i, j int) { c.Parts[i], c.Parts[j] = c.Parts[j], c.Parts[i] })
}

// alike makes parts of half of all cases alike: one price for a kind, or prices in
// steps, and one thing under two numbers.
func alike(seed uint64, c *catalog.Catalogue) {
	g := rand.New(rand.NewPCG(seed, 0x616c696b)) // its own chance: the rest of a seed's case stays
	style := g.IntN(6)
	if style > 2 {
		return
	}
	last := map[catalog.Kind]*catalog.Part{}
	for _, p := range c.Parts {
		switch style {
		case 0:
			p.Price.Minor = 7000 + int64(p.Kind)%3*2000
		case 1:
			p.Price.Minor = max(1, (p.Price.Minor+1000)/2000) * 2000
		}
		if o := last[p.Kind]; o != nil && g.IntN(3) == 0 {
			sku, stock, limit, priced := p.SKU, p.Stock, p.Limit, p.Priced
			*p = *o
			p.SKU, p.Stock, p.Limit, p.Priced = sku, stock, limit, priced
		}
		last[p.Kind] = p
	}
}
