package optimizer

import (
	"context"
	"fmt"
	"testing"
	"time"

	"loudfor/catalog"
	"loudfor/optimizer/testing/generate"
	"loudfor/optimizer/uncertainty"
)

// styleLimit is how long one question may take before its search is stopped; what
// is stopped has the metric "stopped".
const styleLimit = 60 * time.Second

// BenchmarkStyles asks of shelves that shops keep in their own ways, by both goals,
// with all three fronts: for a ranking of sets of parts, for the first answers as
// they are asked for on the command line, and for the ladder.
func BenchmarkStyles(b *testing.B) {
	c := garage(b)
	for _, n := range []int{400, 3000, 10000} {
		for style := range generate.StyleCount {
			for goal, name := range []string{"reading", "music"} {
				for front, rule := range []string{"keep", "replace", "either"} {
					p, car := large(c, n, 800, generate.Tight, catalog.Goal(goal))
					p.Catalogue, p.Brief.Owned = generate.Styled(n, 1, generate.Tight, style)
					p.Brief.Front = catalog.FrontRule(front)
					where := fmt.Sprintf("parts=%d/%v/%s/%s/", n, style, name, rule)
					b.Run(where+"pick", func(b *testing.B) {
						askStyle(b, func(ctx context.Context) (Stop, error) {
							r, err := pickIn(ctx, p, car)
							return r.Stop, err
						})
					})
					b.Run(where+"answers", func(b *testing.B) {
						plain := car.Setting.Problem
						plain.Brief, plain.Vehicle = p.Brief, p.Vehicle
						s := &Series{p: plain, car: car, known: make(map[string]*uncertainty.Sample)}
						q := p
						q.Top, q.Distinct = 5, DistinctBass
						askStyle(b, func(ctx context.Context) (Stop, error) {
							q.Shared = new(Shared)
							r, err := s.Answers(ctx, q, Noticed)
							return r.Stop, err
						})
					})
					b.Run(where+"ladder", func(b *testing.B) {
						askStyle(b, func(ctx context.Context) (Stop, error) {
							r, err := ladderIn(ctx, p, car)
							return r.Stop, err
						})
					})
				}
			}
		}
	}
}

// askStyle measures a question.
func askStyle(b *testing.B, ask func(context.Context) (Stop, error)) {
	stopped, before := 0.0, worked(b)
	for b.Loop() {
		ctx, cancel := context.WithTimeout(context.Background(), styleLimit)
		stop, err := ask(ctx)
		if err != nil {
			b.Fatal(err)
		}
		cancel()
		if stop != StopComplete {
			stopped++
		}
	}
	b.ReportMetric((worked(b)-before).Seconds()/float64(b.N), "cpu-s/op")
	if stopped > 0 {
		b.ReportMetric(stopped, "stopped")
	}
}
