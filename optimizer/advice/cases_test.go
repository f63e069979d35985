package advice

import (
	"fmt"
	"math/rand/v2"
	"sync"
	"testing"

	"loudfor/catalog"
	"loudfor/catalog/demo"
	"loudfor/model/cabin"
	"loudfor/optimizer"
	"loudfor/optimizer/testing/generate"
)

// demoProblem is one of the built-in briefs.
func demoProblem(t testing.TB, name string) optimizer.Problem {
	t.Helper()
	c, report := catalog.LoadFS(demo.FS, []string{demo.Parts})
	vehicles, more := catalog.LoadVehiclesFS(demo.FS, demo.Vehicles)
	report.Merge(more)
	b, more := catalog.LoadBriefFS(demo.FS, demo.Briefs+"/"+name+".yaml")
	report.Merge(more)
	v, more := catalog.CheckBrief(b, c, vehicles)
	report.Merge(more)
	if err := report.Err(); err != nil {
		t.Fatal(err)
	}
	return optimizer.Problem{Catalogue: c, Brief: b, Vehicle: v, Seed: 1}
}

// garage is one car, computed once for all random problems.
var garage = sync.OnceValues(func() (*optimizer.Series, error) {
	return optimizer.NewSeries(optimizer.Problem{Catalogue: &catalog.Catalogue{}, Vehicle: car(), Brief: catalog.Brief{Celsius: 20, FrontWatts: 10, Place: "dash", Openings: "shut"}})
})

func car() catalog.Vehicle {
	body, ok := cabin.BodyNamed("small sedan")
	if !ok {
		panic("no small sedan")
	}
	return catalog.Vehicle{Name: "small sedan", Body: body, Alternator: 70, Standby: 25, CableRun: 4.5}
}

// random makes a small problem in which taxes, deals, labour, stock, limits,
// owned pieces and ties all occur.
func random(seed uint64) optimizer.Problem {
	g := rand.New(rand.NewPCG(seed, 0x6164766963))
	one := func(chance float64) bool { return g.Float64() < chance }
	p := optimizer.Problem{Vehicle: car(), Seed: 1, Workers: 1}
	p.Brief = catalog.Brief{Celsius: 20, FrontWatts: 10, Place: "dash", Openings: "shut", Goal: catalog.Goal(g.IntN(2)), Front: catalog.FrontRule(g.IntN(3)),
		Boxes: 1 + g.IntN(2), Drivers: 1 + g.IntN(4), Amplifiers: 1 + g.IntN(2), BassLift: 6,
		Cap: catalog.Money{Minor: int64(25_000 + g.IntN(150_000)), Currency: generate.Currency}}
	if one(0.6) {
		p.Brief.TaxPPM = int64(g.IntN(200_000))
	}
	if one(0.1) {
		p.Brief.TaxByKind = map[catalog.Kind]int64{catalog.KindSubwoofer: int64(g.IntN(100)) * 1000}
	}
	if one(0.1) {
		p.Brief.Labour = []catalog.Labour{{Name: "fitting", Price: catalog.Money{Minor: int64(g.IntN(3000)), Currency: generate.Currency}, Per: catalog.KindAmplifier}}
	}
	var counts [catalog.KindCount]int
	for kind := range catalog.KindSheet { // the rest is no part of a build
		counts[kind] = 2 + g.IntN(4)
	}
	p.Catalogue = generate.Counts(counts, g.Uint64(), []generate.Tightness{generate.Loose, generate.Tight}[g.IntN(2)])
	for _, part := range p.Catalogue.Parts {
		switch g.IntN(12) {
		case 0:
			part.Stock = 1 + g.IntN(3)
		case 1:
			part.Limit = 1 + g.IntN(2)
		}
	}
	for i := range 3 { // twins, for ties
		twin := *p.Catalogue.Parts[g.IntN(len(p.Catalogue.Parts))]
		twin.SKU += fmt.Sprintf("T%d", i)
		twin.Price.Minor += int64(g.IntN(3) - 1)
		p.Catalogue.Parts = append(p.Catalogue.Parts, &twin)
	}
	any := func() catalog.Mention {
		return catalog.Mention{SKU: p.Catalogue.Parts[g.IntN(len(p.Catalogue.Parts))].SKU, Count: 1}
	}
	for range g.IntN(3) {
		p.Brief.Owned = append(p.Brief.Owned, any())
	}
	if one(0.1) {
		p.Brief.Must = append(p.Brief.Must, any())
	}
	if one(0.3) {
		p.Catalogue.Deals = deals(g, p.Catalogue)
	}
	return p
}

// deals are one of each form.
func deals(g *rand.Rand, c *catalog.Catalogue) []*catalog.Deal {
	a, b := c.Parts[g.IntN(len(c.Parts))], c.Parts[g.IntN(len(c.Parts))]
	money := func(minor int64) catalog.Money { return catalog.Money{Minor: minor, Currency: generate.Currency} }
	one := func(p *catalog.Part) catalog.Mention { return catalog.Mention{SKU: p.SKU, Count: 1} }
	all := []*catalog.Deal{
		{Name: "from two", Form: catalog.DealFrom, Parts: []catalog.Mention{one(a)}, From: 2, Price: money(a.Price.Minor * 9 / 10), All: true, Limit: catalog.Unlimited},
		{Name: "every second", Form: catalog.DealEvery, Parts: []catalog.Mention{one(b)}, Every: 2, OffPPM: 250_000, Limit: catalog.Unlimited},
	}
	if a != b {
		all = append(all, &catalog.Deal{Name: "both", Form: catalog.DealSet, Parts: []catalog.Mention{one(a), one(b)}, Price: money((a.Price.Minor + b.Price.Minor) * 8 / 10), Limit: 1})
	}
	return all
}
