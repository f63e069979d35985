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

// styleLimit is how long one question may take before its search is stopped; what
// is stopped has the metric "stopped".
const styleLimit = 60 * time.Second

// BenchmarkStyles picks from shelves that shops keep in their own ways, by both
// goals, with all three fronts.
func BenchmarkStyles(b *testing.B) {
	c := garage(b)
	for _, n := range []int{400, 3000, 10000} {
		for style := range generate.StyleCount {
			for goal, name := range []string{"reading", "music"} {
				for front, rule := range []string{"keep", "replace", "either"} {
					p, car := large(c, n, 800, generate.Tight, catalog.Goal(goal))
					p.Catalogue, p.Brief.Owned = generate.Styled(n, 1, generate.Tight, style)
					p.Brief.Front = catalog.FrontRule(front)
					b.Run(fmt.Sprintf("parts=%d/%v/%s/%s", n, style, name, rule), func(b *testing.B) {
						stopped, before := 0.0, worked(b)
						var r Result
						for b.Loop() {
							ctx, cancel := context.WithTimeout(context.Background(), styleLimit)
							var err error
							if r, err = pickIn(ctx, p, car); err != nil {
								b.Fatal(err)
							}
							cancel()
							if r.Stop == StopDeadline {
								stopped++
							}
						}
						b.ReportMetric((worked(b)-before).Seconds()/float64(b.N), "cpu-s/op")
						if stopped > 0 {
							b.ReportMetric(stopped, "stopped")
							b.ReportMetric(r.Proof.GapDB, "gap-dB")
						}
						evaluated, _ := new(big.Float).SetInt(r.Proof.Evaluated).Float64()
						b.ReportMetric(evaluated, "evaluated")
					})
				}
			}
		}
	}
}
