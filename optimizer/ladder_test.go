package optimizer

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"reflect"
	"slices"
	"strings"
	"testing"

	"loudfor/catalog"
	"loudfor/optimizer/build"
	"loudfor/optimizer/drive"
	"loudfor/optimizer/pricing"
	"loudfor/optimizer/setting"
	"loudfor/optimizer/testing/generate"
)

// pareto keeps of the oracle's builds, best first, those for which there is
// none before them that costs no more: by the definition, one after the other.
func pareto(all []oracleBuild) (steps []oracleBuild) {
	for _, b := range all {
		if !slices.ContainsFunc(steps, func(s oracleBuild) bool { return s.price <= b.price }) {
			steps = append(steps, b)
		}
	}
	slices.Reverse(steps)
	for i := len(steps) - 1; i > 0; i-- {
		if steps[i-1].cost == steps[i].cost { // the till rounds both to one price
			steps = slices.Delete(steps, i-1, i)
		}
	}
	return steps
}

func showLadder(r LadderResult) string {
	var s strings.Builder
	fmt.Fprintln(&s, r.Outcome, r.Stop, r.Proof.GapDB, r.Proof.Combinations, r.Proof.Evaluated, r.Proof.Dropped)
	for i := range r.Steps {
		x := &r.Steps[i]
		fmt.Fprintf(&s, "%d: %.3f dB, %d, %v; %.3f dB for %d, next %d %v, gap %.3f\n", x.Build.Rank, x.Build.Objective, x.Build.Cost.Minor, skus(&x.Build),
			x.Rise, x.Extra.Minor, x.Next.Minor, x.Open, x.Gap)
	}
	if r.Complete != nil {
		fmt.Fprintf(&s, "complete: %d, %v\n", r.Complete.Cost.Minor, skus(r.Complete))
	}
	return s.String()
}

// Every step of every case: all builds are enumerated, and what is best at its
// price is the ladder. The proof adds up besides.
func TestLadderOracle(t *testing.T) {
	c := garage(t)
	solved, steps := 0, 0
	for seed := firstSeed(t); seed < firstSeed(t)+caseCount(t, cases); seed++ {
		p, car := c.small(seed)
		p.Distinct = DistinctParts
		got, err := ladderIn(context.Background(), p, car)
		if err != nil {
			t.Fatalf("seed %d: %v", seed, err)
		}
		full, err := readyIn(p, setting.Relaxation{}, car)
		if err != nil {
			t.Fatal(err)
		}
		o := &oracle{p: p, t: full}
		want := pareto(o.run(math.MaxInt))
		same := len(want) == len(got.Steps)
		for i := 0; same && i < len(want); i++ {
			b := &got.Steps[i].Build
			same = build.Round(b.Objective) == want[i].level && slices.Equal(skus(b), want[i].skus) && b.Cost.Minor == want[i].cost
		}
		if !same {
			s := ""
			for i, w := range want {
				s += fmt.Sprintf("%d: %.3f dB, %d, %v\n", i+1, w.level.DB(), w.cost, w.skus)
			}
			t.Fatalf("LOUDFOR_ORACLE_SEED=%d: goal %d front %d\nladder: %s\noracle:\n%s", seed, p.Brief.Goal, p.Brief.Front, showLadder(got), s)
		}
		checkProof(t, p, Result{Proof: got.Proof})
		if (len(want) > 0) != (got.Outcome == Optimal) || len(want) == 0 && got.Outcome != Infeasible {
			t.Fatalf("seed %d: %d steps, %v", seed, len(want), got.Outcome)
		}
		steps += len(want)
		if len(want) > 0 {
			solved++
		}
	}
	t.Logf("%d problems have builds, %d steps compared", solved, steps)
	if solved < int(caseCount(t, cases))/3 {
		t.Errorf("only %d problems have a solution: the cases say little", solved)
	}
}

// At any cap, the ladder of a higher one has the build that ranks first.
func TestLadderIsThePickOfEveryCap(t *testing.T) {
	g := rand.New(rand.NewPCG(7, 8))
	asked := 0
	eachCase(t, func(t *testing.T, p Problem, car *task, first *Build) {
		ladder, err := ladderIn(context.Background(), p, car)
		if err != nil {
			t.Fatal(err)
		}
		top := ladder.Steps[len(ladder.Steps)-1].Build
		if top.Objective != first.Objective || top.Cost != first.Cost || p.Distinct == DistinctParts && !slices.Equal(skus(&top), skus(first)) {
			t.Fatalf("the last step is %v, rank 1 is %v", skus(&top), skus(first))
		}
		low, high := ladder.Steps[0].Build.Cost.Minor, top.Cost.Minor
		for _, cap := range []int64{low - 1, low, low + g.Int64N(high-low+1), low + g.Int64N(high-low+1), high - 1} {
			if cap <= 0 {
				continue
			}
			asked++
			q := p
			q.Brief.Cap = catalog.Money{Minor: cap, Currency: top.Cost.Currency}
			want, got := best(t, q, car), ladder.At(q.Brief.Cap)
			if (want == nil) != (got == nil) || want != nil && (want.Objective != got.Objective || want.Cost != got.Cost || !slices.Equal(skus(want), skus(got))) {
				t.Fatalf("at %d the ladder has %+v, rank 1 is %+v", cap, got, want)
			}
		}
	})
	if asked < 5*int(caseCount(t, lawCases))/2 { // half of them
		t.Errorf("only %d caps were tried", asked)
	}
}

// The cheapest complete system: the first step of the ladder of a brief that
// replaces the front, with no cap at all; also where nothing is within the cap.
func TestCheapestCompleteSystem(t *testing.T) {
	eachCase(t, func(t *testing.T, p Problem, car *task, _ *Build) { completeIsTheFirstStep(t, p, car) })
}

// The same over several shops, where a trip may be dearer than the cap.
func TestCheapestCompleteSystemOfShops(t *testing.T) {
	c := garage(t)
	for seed := uint64(0); seed < caseCount(t, lawCases)/4; seed++ {
		p, car := c.drawn(seed, mixedMost)
		if manyShops(&p, seed); touring(&p) {
			t.Run(fmt.Sprintf("seed=%d", seed), func(t *testing.T) { completeIsTheFirstStep(t, p, car) })
		}
	}
}

func completeIsTheFirstStep(t *testing.T, p Problem, car *task) {
	t.Helper()
	q := p
	q.Brief.Front, q.Brief.Cap = catalog.FrontReplace, catalog.Money{}
	fresh, err := ladderIn(context.Background(), q, car)
	if err != nil {
		t.Fatal(err)
	}
	for _, sum := range []int64{p.Brief.Cap.Minor, 1, 1_000} {
		p.Brief.Cap.Minor = sum
		ladder, err := ladderIn(context.Background(), p, car)
		if err != nil {
			t.Fatal(err)
		}
		switch {
		case len(fresh.Steps) == 0:
			if ladder.Complete != nil {
				t.Fatalf("cap %d: no front can be replaced, yet %v", sum, skus(ladder.Complete))
			}
		case ladder.Complete == nil:
			t.Fatalf("cap %d: not found: %v", sum, skus(&fresh.Steps[0].Build))
		case ladder.Complete.Cost.Minor != fresh.Steps[0].Build.Cost.Minor || build.Round(ladder.Complete.Objective) != build.Round(fresh.Steps[0].Build.Objective):
			t.Fatalf("cap %d: %v for %d instead of %v for %d", sum, skus(ladder.Complete), ladder.Complete.Cost.Minor, skus(&fresh.Steps[0].Build), fresh.Steps[0].Build.Cost.Minor)
		}
	}
}

func TestLadderSameForAnyWorkersAndOrder(t *testing.T) {
	sameForAnyWorkersAndOrder(t, func(p Problem, car *task) (string, error) {
		r, err := ladderIn(context.Background(), p, car)
		return showLadder(r), err
	})
}

// A stopped ladder keeps its finds, and at no price is there a build that is
// louder than the gap says.
func TestStoppedLadderHasValidGaps(t *testing.T) {
	c := garage(t)
	stopped := 0
	for seed := uint64(1); seed <= 150; seed++ {
		p, car := c.small(seed)
		p.Workers = 1
		full, err := ladderIn(context.Background(), p, car)
		if err != nil {
			t.Fatal(err)
		}
		r, err := ladderIn(&polled{context.Background(), int(1 + seed%12)}, p, car)
		if err != nil {
			t.Fatal(err)
		}
		checkProof(t, p, Result{Proof: r.Proof})
		if r.Stop == StopComplete {
			continue
		}
		stopped++
		// The ladder may be proven, and what follows from it not be known.
		if (r.Outcome == Optimal || r.Outcome == Infeasible) && (r.Outcome != full.Outcome || len(r.Steps) != len(full.Steps) || r.Complete != nil || r.Conflicts != nil && !reflect.DeepEqual(r.Conflicts, full.Conflicts)) {
			t.Fatalf("seed %d: stopped, yet %v", seed, r.Outcome)
		}
		if len(r.Steps) > 0 {
			holdsGaps(t, seed, &full, &r)
		}
	}
	if stopped < 20 {
		t.Errorf("only %d searches were stopped", stopped)
	}
}

func TestSteepSteps(t *testing.T) {
	usd := func(minor int64) catalog.Money { return catalog.Money{Minor: minor, Currency: "USD"} }
	task := &task{Gear: &drive.Gear{Book: &pricing.Book{Setting: &setting.Setting{Problem: Problem{Catalogue: &catalog.Catalogue{Currency: "USD"}}, Brief: catalog.Brief{Celsius: 20, FrontWatts: 10, Cap: usd(400)}}}}}
	var steps []Step
	for _, x := range []struct {
		cost int64
		db   float64
	}{{100, 120}, {130, 121.999}, {140, 122}, {250, 123.5}, {390, 125.5}} {
		steps = append(steps, Step{Build: Build{Cost: usd(x.cost), Objective: x.db}})
	}
	task.measure(steps)
	r := LadderResult{Steps: steps}
	for i, want := range []struct {
		next int64
		open bool
	}{{40, false}, {260, false}, {250, false}, {140, false}, {10, true}} {
		if s := &steps[i]; s.Next != usd(want.next) || s.Open != want.open {
			t.Errorf("step %d: %v %v, want %d %v", i+1, s.Next, s.Open, want.next, want.open)
		}
	}
	for _, x := range []struct {
		worth int64
		at    int
	}{{39, 0}, {40, 1}, {259, 1}, {260, -1}, {10, 0}} {
		if at := r.WorthUpTo(usd(x.worth)); at != x.at {
			t.Errorf("2 dB for %d: %d, want %d", x.worth, at, x.at)
		}
	}
	if at := (&LadderResult{Steps: steps[4:]}).WorthUpTo(usd(10)); at != 0 {
		t.Errorf("what the cap leaves is not enough: %d", at)
	}
}

// On shelves with many boxes for each driver, where a first look sees only some
// of them, every step is what a search with its price as the cap finds.
func TestLadderStepsArePicks(t *testing.T) {
	c := garage(t)
	for seed := uint64(1); seed <= 3; seed++ {
		p, car := c.small(seed)
		p.Catalogue = generate.Catalogue(1200, seed, generate.Tight)
		p.Distinct, p.Top = DistinctParts, 1
		p.Brief = catalog.Brief{Celsius: 20, FrontWatts: 10, Place: p.Brief.Place, Openings: p.Brief.Openings, Front: catalog.FrontKeep,
			Cap: catalog.Money{Minor: 80_000, Currency: generate.Currency}}
		ladder, err := ladderIn(context.Background(), p, car)
		if err != nil {
			t.Fatalf("seed %d: %v", seed, err)
		}
		if len(ladder.Steps) < 5 {
			t.Fatalf("seed %d: %d steps", seed, len(ladder.Steps))
		}
		for i := 0; i < len(ladder.Steps); i += 1 + len(ladder.Steps)/5 {
			want := &ladder.Steps[i].Build
			p.Brief.Cap = want.Cost
			r, err := pickIn(context.Background(), p, car)
			if err != nil || len(r.Builds) == 0 {
				t.Fatalf("seed %d: %v", seed, err)
			}
			if got := &r.Builds[0]; build.Round(got.Objective) != build.Round(want.Objective) || got.Cost != want.Cost || !slices.Equal(skus(got), skus(want)) {
				t.Errorf("seed %d, step %d: %.3f dB for %s, by itself %.3f dB for %s", seed, i, want.Objective, want.Cost, got.Objective, got.Cost)
			}
		}
	}
}
