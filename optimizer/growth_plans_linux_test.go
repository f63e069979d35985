package optimizer_test

import (
	"context"
	"fmt"
	"testing"
	"time"

	"loudfor/catalog"
	"loudfor/optimizer"
	"loudfor/optimizer/growth"
	"loudfor/optimizer/testing/generate"
)

// A plan in two steps of 400 each, how many searches for a build of one step it takes, and
// what is left open after a minute.
func BenchmarkPlan(b *testing.B) {
	for _, n := range []int{1000, 10_000} {
		for _, order := range []catalog.PlanOrder{catalog.PlanLast, catalog.PlanFirst} {
			for _, tightness := range []generate.Tightness{generate.Loose, generate.Tight} {
				b.Run(fmt.Sprintf("parts=%d/%s/%s", n, order, optimizer.HowPriced(tightness)), func(b *testing.B) {
					p := optimizer.Large(b, n, tightness, catalog.GoalReading)
					p.Brief.Order = order
					start, asked, gap := optimizer.Worked(b), 0, 0.0
					for b.Loop() {
						ctx, cancel := context.WithTimeout(context.Background(), time.Minute)
						plan, err := growth.Solve(ctx, p)
						cancel()
						if err != nil {
							b.Fatal(err)
						}
						asked, gap = plan.Asked, plan.GapDB
					}
					b.ReportMetric((optimizer.Worked(b)-start).Seconds()/float64(b.N), "cpu-s/op")
					b.ReportMetric(float64(asked), "searches")
					b.ReportMetric(gap, "gap-dB")
				})
			}
		}
	}
}
