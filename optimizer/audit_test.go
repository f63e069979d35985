package optimizer

import (
	"context"
	"testing"

	every "loudfor/optimizer/audit"
	"loudfor/optimizer/setting"
)

// auditOf holds a claim about a problem against every block.
func auditOf(t testing.TB, p Problem, car *task, claim *Build) every.Report {
	full, err := readyIn(p, setting.Relaxation{}, car)
	if err != nil {
		t.Fatal(err)
	}
	return every.Check(context.Background(), every.Question{Problem: p, Room: full.Room, Claim: claim})
}

// The audit confirms what the search finds, and refutes every other build that
// satisfies the brief, whatever it lacks: level, price, pieces or the order of SKUs.
func TestAuditOfTheSearch(t *testing.T) {
	c := garage(t)
	confirmed, refuted, none := 0, 0, 0
	for seed := firstSeed(t); seed < firstSeed(t)+caseCount(t, cases); seed++ {
		for kind, draw := range []func(uint64) (Problem, *task){c.small, c.fronts, c.mixed} {
			p, car := draw(seed)
			p.Distinct, p.Top, p.Known = DistinctParts, 4, nil
			r, err := pickIn(context.Background(), p, car)
			if err != nil {
				t.Fatal(err)
			}
			if len(r.Builds) == 0 {
				if got := auditOf(t, p, car, nil); got.Verdict != every.Confirmed {
					t.Errorf("LOUDFOR_ORACLE_SEED=%d, %d: no build: %+v", seed, kind, got)
				}
				none++
				continue
			}
			if got := auditOf(t, p, car, &r.Builds[0]); got.Verdict != every.Confirmed || got.Equal == 0 {
				t.Errorf("LOUDFOR_ORACLE_SEED=%d, %d: %.3f dB, %v, %v: %+v", seed, kind, r.Builds[0].Objective, r.Builds[0].Cost, skus(&r.Builds[0]), got)
			}
			confirmed++
			for i := 1; i < len(r.Builds); i++ {
				if got := auditOf(t, p, car, &r.Builds[i]); got.Verdict != every.Refuted {
					t.Errorf("LOUDFOR_ORACLE_SEED=%d, %d: rank %d: %+v", seed, kind, i+1, got)
				}
				refuted++
			}
			if t.Failed() {
				return
			}
			if got := auditOf(t, p, car, nil); got.Verdict != every.Refuted {
				t.Errorf("LOUDFOR_ORACLE_SEED=%d, %d: that there is none: %+v", seed, kind, got)
			}
		}
	}
	t.Logf("%d best builds and %d briefs without any confirmed, %d other builds refuted", confirmed, none, refuted)
}

func BenchmarkAudit(b *testing.B) {
	eachShop(b, []shop{{1000, 800}, {3000, 800}, {10000, 800}}, func(b *testing.B, p Problem, car *task) {
		r, err := pickIn(context.Background(), p, car)
		if err != nil {
			b.Fatal(err)
		}
		for b.Loop() {
			got := auditOf(b, p, car, &r.Builds[0])
			if got.Verdict != every.Confirmed {
				b.Fatalf("%+v", got)
			}
			b.Logf("%d blocks: %v, %d as loud", got.Blocks, got.Settled, got.Equal)
		}
	})
}
