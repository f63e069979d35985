// Package generate makes large catalogues of invented parts for benchmarks and
// tests: the shelves of a distributor, with prices that follow quality loosely
// or tightly.
//
//	c := generate.Catalogue(10_000, 1, generate.Tight)
//
// The same size, seed and tightness give the same catalogue. Tight prices are
// the hard case for a search: hardly any part is both dearer and worse than
// another, so little can be dropped by comparing parts.
//
// Limits: figures are plausible for the trade (common practice, no source) and
// obey no statistics of any real shop.
package generate

import (
	"fmt"
	"math"
	"math/rand/v2"

	"loudfor/catalog"
)

// Tightness is the relative scatter of prices about what the quality is worth.
type Tightness float64

const (
	Loose Tightness = 0.35
	Tight Tightness = 0.03
)

// Currency of all generated prices.
const Currency = "USD"

// shares is how many of a hundred parts are of each kind.
// Material for building is left out: no build has it.
var shares = [catalog.KindCount]int{
	catalog.KindSubwoofer: 28, catalog.KindAmplifier: 20, catalog.KindEnclosure: 22, catalog.KindLoaded: 5,
	catalog.KindFront: 10, catalog.KindSource: 6, catalog.KindConverter: 2, catalog.KindBlocker: 2, catalog.KindKit: 5,
}

// Catalogue makes about n parts, at least one of each kind that has a share.
func Catalogue(n int, seed uint64, tightness Tightness) *catalog.Catalogue {
	var counts [catalog.KindCount]int
	for kind, share := range shares {
		if share > 0 {
			counts[kind] = max(1, n*share/100)
		}
	}
	return Counts(counts, seed, tightness)
}

// Counts makes so many parts of each kind.
func Counts(counts [catalog.KindCount]int, seed uint64, tightness Tightness) *catalog.Catalogue {
	g := &shop{Rand: rand.New(rand.NewPCG(seed, 0x73686f70)), tightness: float64(tightness)}
	c := &catalog.Catalogue{Currency: Currency}
	for kind, n := range counts {
		for i := range n {
			c.Parts = append(c.Parts, g.part(catalog.Kind(kind), i))
		}
	}
	return c
}

var (
	prefixes = [catalog.KindCount]string{"DR", "AM", "BX", "LB", "FR", "HU", "LC", "BB", "WK"}
	stores   = [...]string{"North Counter", "South Counter", "Yard"}
)

type shop struct {
	*rand.Rand
	tightness float64
}

func (g *shop) part(kind catalog.Kind, i int) *catalog.Part {
	p := &catalog.Part{
		SKU: fmt.Sprintf("%s-%05d", prefixes[kind], i), Kind: kind, Store: stores[g.IntN(len(stores))],
		Priced: true, Stock: catalog.Unlimited, Limit: catalog.Unlimited,
	}
	var worth float64
	switch kind {
	case catalog.KindSubwoofer:
		p.Subwoofer, worth = g.subwoofer()
	case catalog.KindAmplifier:
		p.Amplifier, worth = g.amplifier()
	case catalog.KindEnclosure:
		p.Enclosure, worth = g.enclosure()
	case catalog.KindLoaded:
		p.Loaded, worth = g.loaded()
	case catalog.KindFront:
		p.Front, worth = g.front()
	case catalog.KindSource:
		p.Source, worth = g.source()
	case catalog.KindConverter:
		p.Converter, worth = &catalog.LineConverter{Channels: 2 + 2*g.IntN(2)}, 12
	case catalog.KindBlocker:
		p.Blocker, worth = &catalog.BassBlocker{Capacitance: pick(g, 100e-6, 150e-6, 220e-6, 330e-6, 470e-6)}, 7
	case catalog.KindKit:
		p.Kit, worth = g.kit()
	}
	p.Price = catalog.Money{Minor: g.price(worth), Currency: Currency}
	return p
}

// price scatters about a worth in whole units, in minor units.
func (g *shop) price(worth float64) int64 {
	return int64(math.Round(100 * worth * math.Exp(g.tightness*g.NormFloat64())))
}

// between is log-uniform.
func (g *shop) between(low, high float64) float64 {
	return low * math.Exp(g.Float64()*math.Log(high/low))
}

func pick[T any](g *shop, of ...T) T { return of[g.IntN(len(of))] }
