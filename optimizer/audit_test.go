package optimizer

import (
	"context"
	"math"
	"slices"
	"strings"
	"testing"

	"loudfor/catalog"
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

// A claim of a part that is not in the catalogue is refuted like any other.
func TestAuditOfForeignPart(t *testing.T) {
	p, car := garage(t).small(1)
	claim := &Build{Lines: []Line{{Part: &catalog.Part{SKU: "NOWHERE"}, Count: 1}}}
	if got := auditOf(t, p, car, claim); got.Verdict != every.Refuted || got.Fault == "" {
		t.Errorf("%+v", got)
	}
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

// The best of each driver is that of enumeration, in level, price and parts.
func TestAuditOfEachDriver(t *testing.T) {
	c := garage(t)
	found, none, goals := 0, 0, map[catalog.Goal]int{}
	for seed := firstSeed(t); seed < firstSeed(t)+caseCount(t, 60); seed++ {
		p, car := c.drawn(seed, mixedMost)
		p.Distinct = DistinctParts
		goals[p.Brief.Goal]++
		full, err := readyIn(p, setting.Relaxation{}, car)
		if err != nil {
			t.Fatal(err)
		}
		o := &oracle{p: p, t: full}
		all := o.rank(o.all(), p.Brief.Cap, DistinctParts, math.MaxInt)
		bests, done := every.EachDriver(context.Background(), every.Question{Problem: p, Room: full.Room})
		if !done {
			t.Fatal("not done")
		}
		for _, b := range bests {
			at := slices.IndexFunc(all, func(w oracleBuild) bool { return strings.HasPrefix(w.pair, b.Driver.SKU+" ") })
			if at < 0 || b.Found == nil {
				if none++; at >= 0 || b.Found != nil {
					t.Errorf("LOUDFOR_ORACLE_SEED=%d: %s: %+v, by enumeration %d", seed, b.Driver.SKU, b.Found, at)
				}
				continue
			}
			var parts []string
			for _, m := range b.Found.Parts {
				for range m.Count {
					parts = append(parts, m.SKU)
				}
			}
			if w := &all[at]; b.Found.Level != w.level || b.Found.Cost.Minor != w.cost || !slices.Equal(parts, w.skus) {
				t.Errorf("LOUDFOR_ORACLE_SEED=%d: %s: %+v, by enumeration %+v", seed, b.Driver.SKU, b.Found, *w)
			}
			found++
		}
	}
	t.Logf("%d best builds of drivers, %d drivers without any; goals %v", found, none, goals)
	if len(goals) < 2 {
		t.Error("one goal only")
	}
}
