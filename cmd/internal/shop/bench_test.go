package shop

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"loudfor/catalog"
	"loudfor/catalog/prices"
)

// distributor writes about n parts of a distributor's shelf, invented: sizes,
// powers and prices are plausible (common practice, no source).
func distributor(tb testing.TB, n int) *catalog.Catalogue {
	tb.Helper()
	g := rand.New(rand.NewPCG(1, 0x626f6f6b))
	between := func(low, high float64) float64 { return low * math.Exp(g.Float64()*math.Log(high/low)) }
	price := func(worth float64) float64 { return worth * math.Exp(0.2*g.NormFloat64()) }
	sizes := []int{8, 10, 12, 15}
	outside := map[int]string{8: "30 x 28 x 26 cm", 10: "36 x 32 x 30 cm", 12: "40 x 38 x 36 cm", 15: "50 x 44 x 46 cm"}
	var b strings.Builder
	b.WriteString("parts:\n  - {sku: HU-OLD, kind: source, price: 60 USD, pre_outs: 1, power: 4 x 15 W, load: 4 ohm}\n")
	for i := range n * 40 / 100 {
		size, watts := sizes[g.IntN(4)], between(100, 1200)
		fmt.Fprintf(&b, "  - {sku: D%05d, kind: subwoofer, price: %.2f USD, size: %d in, coils: %d x %d ohm, rms: %.0f W, fs: %.0f Hz, qts: %.2f, vas: %.0f L, xmax: %.1f mm}\n",
			i, price(15+0.25*watts), size, 1+g.IntN(2), 2+2*g.IntN(2), watts, between(24, 42), between(0.38, 0.7), between(0.6, 1.4)*float64(size*size)/2.8, between(6, 22))
	}
	for i := range n * 28 / 100 {
		size := sizes[g.IntN(4)]
		litres := between(0.6, 1.6) * float64(size*size) / 4.5
		kind := "type: sealed"
		if g.IntN(2) == 0 {
			kind = fmt.Sprintf("type: vented, tuning: %.0f Hz", between(30, 48))
			litres *= 1.6
		}
		fmt.Fprintf(&b, "  - {sku: B%05d, kind: enclosure, price: %.2f USD, %s, holes: 1 x %d in, volume: %.1f L, outside: %s}\n", i, price(20+1.1*litres), kind, size, litres, outside[size])
	}
	for i := range n * 27 / 100 {
		watts := between(100, 1500)
		fmt.Fprintf(&b, "  - {sku: A%05d, kind: amplifier, price: %.2f USD, channels: 1, class: D, ratings: [{mode: mono, load: 4 ohm, watts: %.0f, basis: measured}, {mode: mono, load: 2 ohm, watts: %.0f, basis: measured}]}\n",
			i, price(30+0.25*watts), watts, 1.7*watts)
	}
	for i := range n * 5 / 100 {
		area := between(6, 60)
		fmt.Fprintf(&b, "  - {sku: K%05d, kind: wiring kit, price: %.2f USD, gauge: %.1f mm2, material: copper, length: 5.5 m}\n", i, price(10+1.5*area), area)
	}
	name := filepath.Join(tb.TempDir(), "parts.yaml")
	if err := os.WriteFile(name, []byte(b.String()), 0o600); err != nil {
		tb.Fatal(err)
	}
	c, report := catalog.Load([]string{name})
	if err := report.Err(); err != nil {
		tb.Fatal(err)
	}
	return c
}

// customers are briefs of so many kinds, over and over: caps, cars and openings
// differ.
func customers(n, kinds int) (briefs []string) {
	cars := []string{"small sedan", "wagon", "van", "SUV", "small hatch"}
	openings := []string{"shut", "doors open"}
	for i := range n {
		k := i % kinds
		briefs = append(briefs, brief(250+60*k, cars[k%len(cars)], "openings: "+openings[k/len(cars)%2]))
	}
	return briefs
}

// A price list of 500 rows meets a book of many quotes from a catalogue of
// 10,000 parts: reading the book, laying the list over, and settling every
// quote. Harmless: the rows raise prices of parts that nobody was quoted. Dearer:
// every row raises a price, and some were quoted. All: parts that matter to
// everybody are cheaper, so every quote has to be searched for again.
func BenchmarkBook(b *testing.B) {
	c := distributor(b, 10_000)
	for _, run := range []struct {
		name   string
		jobs   int
		kinds  int  // of briefs
		every  bool // also parts that were quoted
		factor func(i int) float64
	}{
		{"harmless/jobs=500", 500, 10, false, func(i int) float64 { return 1.05 }},
		{"dearer/jobs=500", 500, 10, true, func(i int) float64 { return 1.02 + 0.001*float64(i%80) }},
		{"all/jobs=500", 500, 10, true, func(i int) float64 { return 0.9 + 0.001*float64(i%200) }},
		{"each another/jobs=50", 50, 50, true, func(i int) float64 { return 0.9 + 0.001*float64(i%200) }},
	} {
		b.Run(run.name, func(b *testing.B) {
			shop := Shop{Book: booked(b, c, customers(run.jobs, run.kinds))}
			quotes, err := shop.Book.LatestQuotes(context.Background())
			if err != nil {
				b.Fatal(err)
			}
			quoted := map[string]bool{}
			for _, q := range quotes {
				for _, line := range q.Lines {
					quoted[line.SKU] = !run.every
				}
			}
			l := &prices.List{Name: "list.csv"}
			for i := range 500 {
				p := c.Parts[i*len(c.Parts)/500]
				if quoted[p.SKU] {
					continue
				}
				price := p.Price
				price.Minor = int64(float64(price.Minor) * run.factor(i))
				l.Entries = append(l.Entries, prices.Entry{SKU: p.SKU, Price: price, Priced: true, Stock: catalog.Unlimited, Date: prices.Date{Year: 2025, Month: 3, Day: 10}})
			}
			shop.Lists = []*prices.List{l}
			searched, changed := 0, 0
			for b.Loop() {
				searched, changed = 0, 0
				results, report, err := shop.All(context.Background(), nil)
				if err != nil || report.Err() != nil {
					b.Fatal(err, report.Err())
				}
				for _, r := range results {
					if r.Err != nil {
						b.Fatal(r.Err)
					}
					if r.Searched {
						searched++
					}
					if r.Changed {
						changed++
					}
				}
			}
			b.ReportMetric(float64(searched), "searched")
			b.ReportMetric(float64(changed), "changed")
		})
	}
}
