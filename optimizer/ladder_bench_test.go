package optimizer

import (
	"context"
	"math/big"
	"testing"
)

// The whole ladder, search and rechecks, with everything but the cabin made
// anew in each round.
func BenchmarkLadder(b *testing.B) {
	shops := []shop{{1000, 3000}, {3000, 800}, {10000, 800}, {10000, 3000}}
	eachShop(b, shops, func(b *testing.B, p Problem, car *task) {
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
