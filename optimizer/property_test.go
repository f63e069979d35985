package optimizer

import (
	"context"
	"fmt"
	"math/big"
	"math/rand/v2"
	"slices"
	"testing"

	"loudfor/catalog"
)

// Laws that hold whatever the catalogue: each is checked on random problems.

const lawCases = 40

func best(t *testing.T, p Problem, car *task) *Build {
	t.Helper()
	r, err := pickIn(context.Background(), p, car)
	if err != nil {
		t.Fatal(err)
	}
	if len(r.Builds) == 0 {
		return nil
	}
	return &r.Builds[0]
}

// eachCase runs a law on problems that have a solution.
func eachCase(t *testing.T, law func(t *testing.T, p Problem, car *task, first *Build)) {
	c := garage(t)
	tried := 0
	for seed := uint64(5000); tried < int(caseCount(t, lawCases)); seed++ {
		p, car := c.small(seed)
		first := best(t, p, car)
		if first == nil {
			continue
		}
		tried++
		t.Run(fmt.Sprintf("seed=%d", seed), func(t *testing.T) { law(t, p, car, first) })
	}
}

func TestHigherCapNeverLowersTheBest(t *testing.T) {
	eachCase(t, func(t *testing.T, p Problem, car *task, first *Build) {
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
	})
}

func TestTheCapBindsToTheCent(t *testing.T) {
	eachCase(t, func(t *testing.T, p Problem, car *task, first *Build) {
		q := p
		q.Brief.Cap = first.Cost
		if b := best(t, q, car); b == nil || b.Objective != first.Objective || !slices.Equal(skus(b), skus(first)) {
			t.Fatalf("at its own price the best build is not the best")
		}
		q.Brief.Cap.Minor--
		if b := best(t, q, car); b != nil && (b.Cost.Minor >= first.Cost.Minor || b.Objective > first.Objective) {
			t.Fatalf("a cent below: %d for %.3f dB", b.Cost.Minor, b.Objective)
		}
	})
}

func TestCheaperPartNeverLowersTheBest(t *testing.T) {
	g := rand.New(rand.NewPCG(1, 2))
	eachCase(t, func(t *testing.T, p Problem, car *task, first *Build) {
		q := p
		q.Catalogue = &catalog.Catalogue{Currency: p.Catalogue.Currency, Parts: slices.Clone(p.Catalogue.Parts)}
		i := g.IntN(len(q.Catalogue.Parts))
		part := *q.Catalogue.Parts[i]
		part.Price.Minor = part.Price.Minor * int64(g.IntN(100)) / 100
		q.Catalogue.Parts[i] = &part
		if b := best(t, q, car); b == nil || b.Objective < first.Objective {
			t.Fatalf("%s cheaper, best %+v instead of %.3f dB", part.SKU, b, first.Objective)
		}
	})
}

func TestRemovingAnotherPartChangesNothing(t *testing.T) {
	g := rand.New(rand.NewPCG(3, 4))
	eachCase(t, func(t *testing.T, p Problem, car *task, first *Build) {
		q := p
		used := skus(first)
		i := g.IntN(len(p.Catalogue.Parts))
		sku := p.Catalogue.Parts[i].SKU
		named := func(list []catalog.Mention) bool { return mentioned(list, sku) > 0 }
		if slices.Contains(used, sku) || named(p.Brief.Owned) || named(p.Brief.Must) || named(p.Brief.Never) {
			return
		}
		q.Catalogue = &catalog.Catalogue{Currency: p.Catalogue.Currency, Parts: slices.Delete(slices.Clone(p.Catalogue.Parts), i, i+1)}
		b := best(t, q, car)
		if b == nil || b.Objective != first.Objective || !slices.Equal(skus(b), used) {
			t.Fatalf("without %s the best build is another", sku)
		}
	})
}

// report writes everything about a result.
func report(r Result) string {
	s := show(r) + r.Stop.String() + fmt.Sprintf(" gap %g, %v = %v", r.Proof.GapDB, r.Proof.Combinations, r.Proof.Evaluated)
	for _, d := range r.Proof.Dropped {
		s += fmt.Sprintf(" + %v %s", d.Count, d.Reason)
	}
	for _, b := range r.Builds {
		s += fmt.Sprintf("\n%v %v %v %v %v %v", b.Operation, b.Plan, b.Reading, b.Music, b.Difference, b.Tie)
	}
	return s + fmt.Sprint(r.Conflicts)
}

func TestSameBytesForAnyWorkersAndOrder(t *testing.T) {
	sameForAnyWorkersAndOrder(t, func(p Problem, car *task) (string, error) {
		r, err := pickIn(context.Background(), p, car)
		return report(r), err
	})
}

// sameForAnyWorkersAndOrder asks for one answer with 1, 2 and 8 workers and the
// parts shuffled.
func sameForAnyWorkersAndOrder(t *testing.T, answer func(Problem, *task) (string, error)) {
	t.Helper()
	g := rand.New(rand.NewPCG(5, 6))
	eachCase(t, func(t *testing.T, p Problem, car *task, _ *Build) {
		var first string
		for _, workers := range []int{1, 2, 8} {
			q := p
			q.Workers = workers
			shuffled := *p.Catalogue
			shuffled.Parts = slices.Clone(p.Catalogue.Parts)
			g.Shuffle(len(shuffled.Parts), func(i, j int) {
				shuffled.Parts[i], shuffled.Parts[j] = shuffled.Parts[j], shuffled.Parts[i]
			})
			q.Catalogue = &shuffled
			s, err := answer(q, car)
			if err != nil {
				t.Fatal(err)
			}
			if first == "" {
				first = s
			} else if s != first {
				t.Fatalf("%d workers:\n%s\ninstead of\n%s", workers, s, first)
			}
		}
	})
}

// combinations multiplies the build space out by hand.
func combinations(p Problem) *big.Int {
	var n [catalog.KindCount]int64
	for _, part := range p.Catalogue.Parts {
		n[part.Kind]++
	}
	b := p.Brief
	blocks := (n[catalog.KindSubwoofer]*n[catalog.KindEnclosure] + n[catalog.KindLoaded]) * int64(b.Boxes)
	product := big.NewInt(1)
	for _, f := range []int64{blocks, n[catalog.KindAmplifier] * int64(b.Amplifiers), n[catalog.KindKit], n[catalog.KindSource],
		1 + n[catalog.KindFront], 1 + n[catalog.KindAmplifier], 1 + n[catalog.KindConverter], 1 + n[catalog.KindBlocker]} {
		product.Mul(product, big.NewInt(f))
	}
	return product
}

func checkProof(t *testing.T, p Problem, r Result) {
	t.Helper()
	sum := new(big.Int).Set(r.Proof.Evaluated)
	for _, d := range r.Proof.Dropped {
		sum.Add(sum, d.Count)
	}
	if want := combinations(p); sum.Cmp(want) != 0 || r.Proof.Combinations.Cmp(want) != 0 {
		t.Fatalf("the proof covers %v, says %v, of %v combinations", sum, r.Proof.Combinations, want)
	}
}

func TestTheProofAddsUp(t *testing.T) {
	c := garage(t)
	for seed := uint64(1); seed <= 200; seed++ {
		p, car := c.small(seed)
		p.Distinct = Distinct(seed % 2)
		r, err := pickIn(context.Background(), p, car)
		if err != nil {
			t.Fatal(err)
		}
		checkProof(t, p, r)
	}
}

// polled is a context that ends after it was asked so many times.
type polled struct {
	context.Context
	left int
}

func (c *polled) Err() error {
	if c.left--; c.left < 0 {
		return context.DeadlineExceeded
	}
	return nil
}

func TestStoppedSearchKeepsItsFindsAndAValidGap(t *testing.T) {
	c := garage(t)
	stopped := 0
	for seed := uint64(1); seed <= 150; seed++ {
		p, car := c.small(seed)
		p.Workers = 1
		full, err := pickIn(context.Background(), p, car)
		if err != nil {
			t.Fatal(err)
		}
		r, err := pickIn(&polled{context.Background(), int(1 + seed%12)}, p, car)
		if err != nil {
			t.Fatal(err)
		}
		checkProof(t, p, r)
		if r.Stop == StopComplete {
			continue
		}
		stopped++
		// That there is no build may be proven, and what blocks it not be known.
		if r.Outcome == Optimal || r.Outcome == Infeasible && (full.Outcome != Infeasible || r.Conflicts != nil) {
			t.Fatalf("seed %d: stopped, yet %v with %d conflicts", seed, r.Outcome, len(r.Conflicts))
		}
		if len(r.Builds) == 0 || len(full.Builds) == 0 {
			continue
		}
		if most := r.Builds[0].Objective + r.Proof.GapDB; most < full.Builds[0].Objective-levelStep/2 {
			t.Fatalf("seed %d: %.3f dB and a gap of %.3f dB, but the best is %.3f dB", seed, r.Builds[0].Objective, r.Proof.GapDB, full.Builds[0].Objective)
		}
	}
	if stopped < 20 {
		t.Errorf("only %d searches were stopped", stopped)
	}
}
