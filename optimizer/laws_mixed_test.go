package optimizer

import (
	"context"
	"fmt"
	"math/rand/v2"
	"slices"
	"testing"

	"loudfor/catalog"
	"loudfor/optimizer/build"
	"loudfor/optimizer/testing/generate"
)

// The laws once more where all rules meet. That a cheaper part never lowers the
// best is not among them: where the parts of a set bear different taxes, a
// cheaper part can draw less of the set's price to its own, lower rate.

// eachMixed runs a law on problems with all rules that have a solution.
func eachMixed(t *testing.T, law func(t *testing.T, p Problem, car *task, first *Build)) {
	t.Helper()
	c := garage(t)
	goals := map[catalog.Goal]int{}
	tried := 0
	for seed := uint64(7000); tried < int(caseCount(t, lawCases)); seed++ {
		p, car := c.mixed(seed)
		first := best(t, p, car)
		if first == nil {
			continue
		}
		tried++
		goals[p.Brief.Goal]++
		t.Run(fmt.Sprintf("seed=%d", seed), func(t *testing.T) { law(t, p, car, first) })
	}
	if tried >= lawCases && (goals[catalog.GoalReading] < tried/4 || goals[catalog.GoalMusic] < tried/4) {
		t.Errorf("goals: %v", goals)
	}
}

func TestHigherCapNeverLowersTheBestWithAllRules(t *testing.T) {
	eachMixed(t, func(t *testing.T, p Problem, car *task, first *Build) {
		if p.Brief.Cap == (catalog.Money{}) {
			return
		}
		for _, more := range []int64{1, 1000, 100_000} {
			q := p
			q.Brief.Cap.Minor += more
			if b := best(t, q, car); b == nil || b.Objective < first.Objective {
				t.Fatalf("%d more in the cap: %+v instead of %.3f dB", more, b, first.Objective)
			}
		}
		q := p
		q.Brief.Cap = first.Cost
		if b := best(t, q, car); b == nil || b.Objective != first.Objective || !slices.Equal(skus(b), skus(first)) {
			t.Fatal("at its own price the best build is not the best")
		}
	})
}

// What the best build does not hold is not missed, but for a bass blocker: that
// there is one can make an amplifier of the front's own idle.
func TestRemovingAnotherPartChangesNothingWithAllRules(t *testing.T) {
	g := rand.New(rand.NewPCG(9, 4))
	removed := 0
	eachMixed(t, func(t *testing.T, p Problem, car *task, first *Build) {
		used := skus(first)
		for range 4 {
			part := p.Catalogue.Parts[g.IntN(len(p.Catalogue.Parts))]
			is := func(m catalog.Mention) bool { return m.SKU == part.SKU }
			if part.Kind == catalog.KindBlocker || slices.Contains(used, part.SKU) || slices.ContainsFunc(slices.Concat(p.Brief.Owned, p.Brief.Must, p.Brief.Never), is) {
				continue
			}
			removed++
			q := p
			c := *p.Catalogue
			c.Parts = slices.DeleteFunc(slices.Clone(c.Parts), func(o *catalog.Part) bool { return o == part })
			c.Deals = slices.DeleteFunc(slices.Clone(c.Deals), func(d *catalog.Deal) bool { return slices.ContainsFunc(d.Parts, is) })
			q.Catalogue = &c
			b := best(t, q, car)
			if b == nil || b.Objective != first.Objective || b.Cost != first.Cost || !slices.Equal(skus(b), used) {
				t.Fatalf("without %s the best build is another", part.SKU)
			}
		}
	})
	if removed == 0 {
		t.Error("nothing was removed")
	}
}

// 1, 2 and 8 workers, and parts, deals and shops in any order, give the same
// bytes, on shelves with so many drivers that a search takes many rounds.
func TestSameBytesOfLargeShelves(t *testing.T) {
	c := garage(t)
	g := rand.New(rand.NewPCG(11, 12))
	plain := generate.Catalogue(1100, 3, generate.Tight)
	dealt := generate.Dealt(generate.Catalogue(1100, 3, generate.Loose), 3)
	shelves := map[string]*catalog.Catalogue{"plain": plain, "deals": dealt}
	if long() {
		shelves["deals and shops"] = generate.Scattered(dealt, 3)
	}
	for name, shelf := range shelves {
		for _, goal := range []catalog.Goal{catalog.GoalReading, catalog.GoalMusic} {
			t.Run(fmt.Sprintf("%s/%v", name, goal), func(t *testing.T) {
				p, car := large(c, 60, 700, generate.Loose, goal)
				var pick, ladder string
				for _, p.Workers = range []int{1, 2, 8} {
					shuffled := *shelf
					shuffled.Parts, shuffled.Deals, shuffled.Shops = slices.Clone(shelf.Parts), slices.Clone(shelf.Deals), slices.Clone(shelf.Shops)
					g.Shuffle(len(shuffled.Parts), func(i, j int) {
						shuffled.Parts[i], shuffled.Parts[j] = shuffled.Parts[j], shuffled.Parts[i]
					})
					g.Shuffle(len(shuffled.Deals), func(i, j int) {
						shuffled.Deals[i], shuffled.Deals[j] = shuffled.Deals[j], shuffled.Deals[i]
					})
					g.Shuffle(len(shuffled.Shops), func(i, j int) {
						shuffled.Shops[i], shuffled.Shops[j] = shuffled.Shops[j], shuffled.Shops[i]
					})
					p.Catalogue = &shuffled
					r, err := pickIn(context.Background(), p, car)
					if err != nil || len(r.Builds) == 0 {
						t.Fatalf("%d workers: %v, %d builds", p.Workers, err, len(r.Builds))
					}
					l, err := ladderIn(context.Background(), p, car)
					if err != nil || len(l.Steps) < 3 {
						t.Fatalf("%d workers: %v, %d steps", p.Workers, err, len(l.Steps))
					}
					a, b := report(r), showLadder(l)
					if pick == "" {
						pick, ladder = a, b
					}
					if a != pick || b != ladder {
						t.Fatalf("%d workers:\n%s%s\ninstead of\n%s%s", p.Workers, a, b, pick, ladder)
					}
				}
			})
		}
	}
}

// A search over several shops that is stopped keeps its finds, and no build is
// louder than its gap says; on the ladder neither, at any price.
func TestStoppedSearchOfShopsHasValidGaps(t *testing.T) {
	c := garage(t)
	stopped := 0
	for seed := uint64(1); seed <= 60; seed++ {
		p, car := c.mixed(seed)
		p.Workers, p.Distinct = 1, DistinctParts
		if !touring(&p) {
			continue
		}
		full, err := ladderIn(context.Background(), p, car)
		if err != nil {
			t.Fatal(err)
		}
		if len(full.Steps) == 0 {
			continue
		}
		top := &full.Steps[len(full.Steps)-1].Build
		for _, polls := range []int{2, 6, 15, 40} {
			r, err := pickIn(&polled{context.Background(), polls}, p, car)
			if err != nil {
				t.Fatal(err)
			}
			if r.Stop != StopComplete && len(r.Builds) > 0 {
				stopped++
				if most := r.Builds[0].Objective + r.Proof.GapDB; most < top.Objective-build.LevelStep/2 {
					t.Fatalf("seed %d: %.3f dB and a gap of %.3f dB, but the best is %.3f dB", seed, r.Builds[0].Objective, r.Proof.GapDB, top.Objective)
				}
			}
			l, err := ladderIn(&polled{context.Background(), polls}, p, car)
			if err != nil {
				t.Fatal(err)
			}
			if l.Stop != StopComplete && len(l.Steps) > 0 {
				stopped++
				holdsGaps(t, seed, &full, &l)
			}
		}
	}
	if stopped < 20 {
		t.Errorf("only %d searches were stopped with something found", stopped)
	}
}

// holdsGaps holds a stopped ladder against the whole one.
func holdsGaps(t *testing.T, seed uint64, full, r *LadderResult) {
	t.Helper()
	for i := range full.Steps {
		b := &full.Steps[i].Build
		held := -1
		for k := range r.Steps {
			if r.Steps[k].Build.Cost.Minor <= b.Cost.Minor {
				held = k
			}
		}
		switch {
		case held >= 0:
			if most := r.Steps[held].Build.Objective + r.Steps[held].Gap; most < b.Objective-build.LevelStep/2 {
				t.Fatalf("seed %d: at %d there is %.3f dB, at most %.3f dB was said", seed, b.Cost.Minor, b.Objective, most)
			}
		case r.Below == catalog.Money{} || r.Below.Minor > b.Cost.Minor:
			t.Fatalf("seed %d: a build for %d, none was said to be below %d", seed, b.Cost.Minor, r.Below.Minor)
		}
	}
	for i := range r.Steps {
		if gap := r.Steps[i].Gap; gap > r.Proof.GapDB {
			t.Fatalf("seed %d: a gap of %.3f dB at a step, of %.3f dB in all", seed, gap, r.Proof.GapDB)
		}
	}
}
