package optimizer

import (
	"context"
	"fmt"
	"math"
	"syscall"
	"testing"
	"time"

	"loudfor/catalog"
	"loudfor/optimizer/testing/generate"
)

// How the time grows with the number of parts, what a second worker gains, and
// what deals, stock and several shops cost: questions that one time does not
// answer.

// mustPick searches once.
func mustPick(b *testing.B, p Problem, car *task) Result {
	r, err := pickIn(context.Background(), p, car)
	if err != nil {
		b.Fatal(err)
	}
	return r
}

// eachTask is a benchmark of both goals, loosely and tightly priced.
func eachTask(b *testing.B, prefix string, run func(b *testing.B, t generate.Tightness, goal catalog.Goal)) {
	for _, tightness := range []generate.Tightness{generate.Loose, generate.Tight} {
		for goal, name := range []string{"reading", "music"} {
			b.Run(prefix+howPriced(tightness)+"/"+name, func(b *testing.B) { run(b, tightness, catalog.Goal(goal)) })
		}
	}
}

// worked is the time of all processors that this process has had.
func worked(b *testing.B) time.Duration {
	var u syscall.Rusage
	if err := syscall.Getrusage(syscall.RUSAGE_SELF, &u); err != nil {
		b.Fatal(err)
	}
	return time.Duration(u.Utime.Nano() + u.Stime.Nano())
}

// For tests outside the package.
var Worked, HowPriced = worked, howPriced

// The exponent is that of the number of parts, from 1,000 to 10,000; of the time
// of the processors, which other work on the machine blurs less.
func BenchmarkGrowth(b *testing.B) {
	c := garage(b)
	eachTask(b, "", func(b *testing.B, tightness generate.Tightness, goal catalog.Goal) {
		var took [2]time.Duration
		for b.Loop() {
			for i, n := range []int{1000, 10_000} {
				p, car := large(c, n, 800, tightness, goal)
				start := worked(b)
				mustPick(b, p, car)
				took[i] += worked(b) - start
			}
		}
		b.ReportMetric(math.Log10(took[1].Seconds()/took[0].Seconds()), "exponent")
		b.ReportMetric(took[0].Seconds()*1e3/float64(b.N), "cpu-ms/1000-parts")
		b.ReportMetric(took[1].Seconds()*1e3/float64(b.N), "cpu-ms/10000-parts")
	})
}

// The gain is how many times as quick two workers are as one, in turns, so that
// both meet the same machine.
func BenchmarkSecondWorker(b *testing.B) {
	c := garage(b)
	eachTask(b, "", func(b *testing.B, tightness generate.Tightness, goal catalog.Goal) {
		var took [2]time.Duration
		p, car := large(c, 10_000, 800, tightness, goal)
		for b.Loop() {
			for i := range took {
				p.Workers = 1 + i
				start := time.Now()
				mustPick(b, p, car)
				took[i] += time.Since(start)
			}
		}
		b.ReportMetric(took[0].Seconds()/took[1].Seconds(), "gain")
		b.ReportMetric(took[0].Seconds()*1e3/float64(b.N), "ms/one")
		b.ReportMetric(took[1].Seconds()*1e3/float64(b.N), "ms/two")
	})
}

// Each column is the same shelf: as it is, with deals and stock, and sold in
// three shops of which two cost a trip.
func BenchmarkRules(b *testing.B) {
	c := garage(b)
	for _, n := range []int{1000, 10_000} {
		eachTask(b, fmt.Sprintf("parts=%d/", n), func(b *testing.B, tightness generate.Tightness, goal catalog.Goal) {
			plain, car := large(c, n, 800, tightness, goal)
			for _, with := range []struct {
				name string
				c    *catalog.Catalogue
			}{
				{"plain", plain.Catalogue},
				{"deals", generate.Dealt(plain.Catalogue, 1)},
				{"shops", generate.Scattered(plain.Catalogue, 1)},
				{"deals+shops", generate.Scattered(generate.Dealt(plain.Catalogue, 1), 1)},
			} {
				p := plain
				p.Catalogue = with.c
				b.Run(with.name, func(b *testing.B) {
					var r Result
					start := worked(b)
					for b.Loop() {
						r = mustPick(b, p, car)
					}
					b.ReportMetric((worked(b)-start).Seconds()*1e3/float64(b.N), "cpu-ms/op")
					deals := 0
					for i := range r.Builds {
						deals += len(r.Builds[i].Deals)
					}
					b.ReportMetric(float64(deals), "deals")
					b.ReportMetric(r.Builds[0].Objective, "dB")
				})
			}
		})
	}
}
