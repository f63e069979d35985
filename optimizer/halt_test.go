package optimizer

import (
	"context"
	"math/rand/v2"
	"testing"

	"loudfor/catalog"
	"loudfor/optimizer/build"
	"loudfor/optimizer/internal/halt"
	"loudfor/optimizer/testing/generate"
)

// A search may be ended at any moment, from the lists that are made beforehand to the
// last pair of a block, by its context or by its bound of memory: what comes back is
// built, and the best build there is lies within the gap.
func TestEndedAtAnyMoment(t *testing.T) {
	c := garage(t)
	moments := 6
	if !long() {
		moments = 1
	}
	stops := map[Stop]int{}
	found := 0
	for style := range generate.StyleCount {
		for n := range 6 {
			p, car := large(c, 150, 900, generate.Tight, catalog.Goal(n%2))
			p.Catalogue, p.Brief.Owned = generate.Styled(150, 3, generate.Tight, style)
			p.Brief.Front = catalog.FrontRule(n / 2)
			p.Workers, p.Brief.Boxes, p.Brief.Drivers, p.Brief.Amplifiers = 1, 2, 4, 2
			full, err := pickIn(context.Background(), p, car)
			if err != nil {
				t.Fatal(err)
			}
			if full.Outcome == Infeasible {
				continue
			}
			ladder, err := ladderIn(context.Background(), p, car)
			if err != nil {
				t.Fatal(err)
			}
			asked := &polled{context.Background(), 1 << 30}
			if _, err := pickIn(asked, p, car); err != nil {
				t.Fatal(err)
			}
			r := rand.New(rand.NewPCG(uint64(n), uint64(style)))
			for range moments {
				q, ctx := p, &polled{context.Background(), 1 + r.IntN(1<<30-asked.left)}
				if r.IntN(3) == 0 {
					q.Memory, ctx.left = 3_000+r.Int64N(600_000), 1<<30
				}
				got, err := pickIn(ctx, q, car)
				if err != nil {
					t.Fatalf("%v, case %d: %v", style, n, err)
				}
				checkProof(t, p, got)
				stops[got.Stop]++
				found += len(got.Builds)
				switch {
				case got.Stop == StopComplete && show(got) != show(full):
					t.Fatalf("%v, case %d: complete, and different", style, n)
				case got.Stop == StopComplete:
				case got.Outcome != Feasible && got.Outcome != Unknown || (got.Outcome == Feasible) != (len(got.Builds) > 0):
					t.Fatalf("%v, case %d: %v with %d builds", style, n, got.Outcome, len(got.Builds))
				case len(got.Builds) > 0 && build.Round(full.Builds[0].Objective) > build.Round(got.Builds[0].Objective+got.Proof.GapDB):
					t.Fatalf("%v, case %d: %.3f dB with a gap of %.3f, and there is %.3f dB", style, n, got.Builds[0].Objective, got.Proof.GapDB, full.Builds[0].Objective)
				case build.Round(full.Builds[0].Objective) > max(got.OpenBound, bestOf(&got)):
					t.Fatalf("%v, case %d: what is open is said to reach %.3f dB, and there is %.3f dB", style, n, got.OpenBound.DB(), full.Builds[0].Objective)
				}
				steps, err := ladderIn(&polled{context.Background(), ctx.left}, q, car)
				if err != nil {
					t.Fatalf("%v, case %d: %v", style, n, err)
				}
				checkProof(t, p, Result{Proof: steps.Proof})
				if steps.Stop != StopComplete && len(steps.Steps) > 0 {
					holdsGaps(t, uint64(n), &ladder, &steps)
				}
			}
		}
	}
	t.Logf("%v; %d builds", stops, found)
	if long() && (stops[StopDeadline] < 20 || stops[StopMemory] < 5 || found == 0) {
		t.Error("the cases say little")
	}
}

// bestOf is the level of the first build.
func bestOf(r *Result) build.Level {
	if len(r.Builds) == 0 {
		return build.Silent
	}
	return build.Round(r.Builds[0].Objective)
}

// What was found and does not rank is not kept, however much of it there was.
func TestFindsThatDoNotRankTakeNoMemory(t *testing.T) {
	c := garage(t)
	for seed := uint64(1); seed < 20; seed++ {
		p, car := c.small(seed)
		_, s, err := pickWith(context.Background(), p, car)
		if err != nil {
			t.Fatal(err)
		}
		if s == nil {
			continue
		}
		before := s.Left()
		f := find{found: make([]candidate, 100)}
		s.Hold(halt.CandidateBytes * int64(len(f.found)))
		for i := range f.found {
			f.found[i].level = build.Silent
		}
		if s.keep(&f); s.Left() != before {
			t.Fatalf("seed %d: %d bytes are still held", seed, before-s.Left())
		}
		return
	}
	t.Fatal("no case is one search")
}
