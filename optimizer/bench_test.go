package optimizer

import (
	"context"
	"fmt"
	"math/big"
	"testing"
	"time"

	"loudfor/catalog"
	"loudfor/optimizer/internal/generate"
)

// The search alone, on generated catalogues: the cabin is computed beforehand,
// bands and curves are left out. Everything of the problem itself is made anew
// in each round.

func large(c *cars, n int, cap int64, tightness generate.Tightness, goal catalog.Goal) (Problem, *task) {
	p := Problem{
		Catalogue: generate.Catalogue(n, 1, tightness), Vehicle: c.vehicles[0], Top: 10, Bare: true,
		Brief: catalog.Brief{Place: "dash", Openings: c.openings[0], Goal: goal, BassLift: 6, TaxPPM: 75_000,
			Space: catalog.Size3{Width: 1.0, Depth: 0.5, Height: 0.6}, Cap: catalog.Money{Minor: cap * 100, Currency: generate.Currency}},
	}
	if goal == catalog.GoalMusic {
		p.Brief.Front = catalog.FrontReplace
	}
	return p, c.tasks[0]
}

func BenchmarkPick(b *testing.B) {
	c := garage(b)
	for _, size := range []struct {
		parts int
		cap   int64
	}{{60, 250}, {3000, 800}, {10000, 250}, {10000, 800}, {10000, 3000}} {
		for _, tightness := range []generate.Tightness{generate.Loose, generate.Tight} {
			for goal, name := range []string{"reading", "music"} {
				p, car := large(c, size.parts, size.cap, tightness, catalog.Goal(goal))
				word := "loose"
				if tightness == generate.Tight {
					word = "tight"
				}
				b.Run(fmt.Sprintf("parts=%d/cap=%d/%s/%s", size.parts, size.cap, word, name), func(b *testing.B) {
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
		}
	}
}
