package optimizer

import (
	"context"
	"fmt"
	"math/big"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"loudfor/catalog"
	"loudfor/optimizer/build"
)

// How much is looked at. A bound that is looser than it could be costs time and no
// answer, so that nothing else here would notice; how the proofs of some problems divide
// what they cover shows it. Where the search is changed on purpose, UPDATE=1 writes the
// file anew: fewer evaluated is better, more wants a reason.
func TestWorkOfTheSearch(t *testing.T) {
	c := garage(t)
	pick := func(p Problem, car *task) (proof Proof, err error) {
		r, err := pickIn(context.Background(), p, car)
		if err == nil {
			proof = r.Proof
		}
		return proof, err
	}
	ladder := func(p Problem, car *task) (proof Proof, err error) {
		r, err := ladderIn(context.Background(), p, car)
		if err == nil {
			proof = r.Proof
		}
		return proof, err
	}
	var lines strings.Builder
	for _, q := range []struct {
		name string
		goal catalog.Goal
		ask  func(Problem, *task) (Proof, error)
	}{{"ladder, reading", catalog.GoalReading, ladder}, {"pick, reading", catalog.GoalReading, pick}, {"ladder, music", catalog.GoalMusic, ladder}, {"pick, music", catalog.GoalMusic, pick}} {
		evaluated, dropped := new(big.Int), [build.ReasonCount]big.Int{}
		add := func(p Problem, car *task) {
			p.Brief.Goal, p.Bare = q.goal, true
			proof, err := q.ask(p, car)
			if err != nil {
				t.Fatal(err)
			}
			evaluated.Add(evaluated, proof.Evaluated)
			for _, d := range proof.Dropped {
				dropped[d.Reason].Add(&dropped[d.Reason], d.Count)
			}
		}
		for seed := uint64(1); seed <= 40; seed++ {
			p, car := c.small(seed)
			if seed%5 == 0 {
				dealt(&p, seed)
			}
			add(p, car)
		}
		for i := range 8 {
			add(c.auditable(i), c.tasks[i%len(c.tasks)])
		}
		fmt.Fprintf(&lines, "%s\n\tevaluated %s\n", q.name, evaluated)
		for r := range dropped {
			if dropped[r].Sign() > 0 {
				fmt.Fprintf(&lines, "\t%s %s\n", Reason(r), &dropped[r])
			}
		}
	}
	got, file := lines.String(), filepath.Join("testdata", "work.txt")
	if os.Getenv("UPDATE") == "1" {
		if err := os.WriteFile(file, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(string(want), got); diff != "" {
		t.Errorf("the search looks at something else than before; with UPDATE=1 that becomes what is expected:\n%s", diff)
	}
}
