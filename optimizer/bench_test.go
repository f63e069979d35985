package optimizer

import (
	"context"
	"fmt"
	"math/big"
	"testing"
	"time"

	"loudfor/catalog"
	"loudfor/optimizer/testing/generate"
)

// The search alone, on generated catalogues: the cabin is computed beforehand,
// bands and curves are left out. Everything of the problem itself is made anew
// in each round.

func large(c *cars, n int, cap int64, tightness generate.Tightness, goal catalog.Goal) (Problem, *task) {
	p := Problem{
		Catalogue: generate.Catalogue(n, 1, tightness), Vehicle: c.vehicles[0], Top: 10, Bare: true,
		Brief: catalog.Brief{Celsius: 20, FrontWatts: 10, Place: "dash", Openings: c.openings[0], Goal: goal, BassLift: 6, TaxPPM: 75_000,
			Space: catalog.Size3{Width: 1.0, Depth: 0.5, Height: 0.6}, Cap: catalog.Money{Minor: cap * 100, Currency: generate.Currency}},
	}
	if goal == catalog.GoalMusic {
		p.Brief.Front = catalog.FrontReplace
	}
	return p, c.tasks[0]
}

func BenchmarkPick(b *testing.B) {
	shops := []shop{{60, 250}, {1000, 800}, {3000, 800}, {10000, 250}, {10000, 800}, {10000, 3000}}
	eachShop(b, shops, func(b *testing.B, p Problem, car *task) {
		b.ReportAllocs()
		var r Result
		start := time.Now()
		for b.Loop() {
			var err error
			if r, err = pickIn(context.Background(), p, car); err != nil {
				b.Fatal(err)
			}
		}
		per := time.Since(start).Seconds() / float64(b.N)
		n, _ := new(big.Float).SetInt(r.Proof.Combinations).Float64()
		evaluated, _ := new(big.Float).SetInt(r.Proof.Evaluated).Float64()
		b.ReportMetric(n/per, "combinations/s")
		b.ReportMetric(evaluated, "evaluated")
		if len(r.Builds) > 0 {
			b.ReportMetric(r.Builds[0].Objective, "dB")
		}
	})
}

// shop is a generated catalogue with a brief's cap.
type shop struct {
	parts int
	cap   int64
}

// eachShop runs a benchmark in every shop, loosely and tightly priced, by both
// goals.
func eachShop(b *testing.B, shops []shop, run func(*testing.B, Problem, *task)) {
	c := garage(b)
	for _, s := range shops {
		for _, tightness := range []generate.Tightness{generate.Loose, generate.Tight} {
			for goal, name := range []string{"reading", "music"} {
				p, car := large(c, s.parts, s.cap, tightness, catalog.Goal(goal))
				b.Run(fmt.Sprintf("parts=%d/cap=%d/%s/%s", s.parts, s.cap, howPriced(tightness), name), func(b *testing.B) { run(b, p, car) })
			}
		}
	}
}

// howPriced is how tightly, in a word.
func howPriced(t generate.Tightness) string {
	if t == generate.Tight {
		return "tight"
	}
	return "loose"
}
