package optimizer

import (
	"context"
	"fmt"
	"math/big"
	"testing"

	"loudfor/catalog"
	"loudfor/optimizer/internal/generate"
)

// The whole ladder, search and rechecks, with everything but the cabin made
// anew in each round.
func BenchmarkLadder(b *testing.B) {
	c := garage(b)
	for _, size := range []struct {
		parts int
		cap   int64
	}{{1000, 3000}, {3000, 800}, {10000, 800}, {10000, 3000}} {
		for _, tightness := range []generate.Tightness{generate.Loose, generate.Tight} {
			for goal, name := range []string{"reading", "music"} {
				p, car := large(c, size.parts, size.cap, tightness, catalog.Goal(goal))
				word := "loose"
				if tightness == generate.Tight {
					word = "tight"
				}
				b.Run(fmt.Sprintf("parts=%d/cap=%d/%s/%s", size.parts, size.cap, word, name), func(b *testing.B) {
					b.ReportAllocs()
					var r LadderResult
					for b.Loop() {
						var err error
						if r, err = ladderIn(context.Background(), p, car); err != nil {
							b.Fatal(err)
						}
					}
					evaluated, _ := new(big.Float).SetInt(r.Proof.Evaluated).Float64()
					b.ReportMetric(evaluated, "evaluated")
					b.ReportMetric(float64(len(r.Steps)), "steps")
				})
			}
		}
	}
}
