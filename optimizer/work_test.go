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
// file anew: few may be evaluated more than before.
func TestWorkOfTheSearch(t *testing.T) {
	c := garage(t)
	var lines []string
	for _, goal := range []catalog.Goal{catalog.GoalReading, catalog.GoalMusic} {
		for name, ask := range map[string]func(Problem, *task) (Proof, error){
			"pick": func(p Problem, car *task) (Proof, error) {
				r, err := pickIn(context.Background(), p, car)
				if err != nil {
					return Proof{}, err
				}
				return r.Proof, nil
			},
			"ladder": func(p Problem, car *task) (Proof, error) {
				r, err := ladderIn(context.Background(), p, car)
				if err != nil {
					return Proof{}, err
				}
				return r.Proof, nil
			},
		} {
			evaluated, dropped := new(big.Int), [build.ReasonCount]*big.Int{}
			for r := range dropped {
				dropped[r] = new(big.Int)
			}
			add := func(p Problem, car *task) {
				p.Brief.Goal, p.Bare = goal, true
				proof, err := ask(p, car)
				if err != nil {
					t.Fatal(err)
				}
				evaluated.Add(evaluated, proof.Evaluated)
				for _, d := range proof.Dropped {
					dropped[d.Reason].Add(dropped[d.Reason], d.Count)
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
				p := c.auditable(i)
				p.Brief.Goal = goal
				add(p, c.tasks[i%len(c.tasks)])
			}
			line := fmt.Sprintf("%s, goal %d\n\tevaluated %s\n", name, goal, evaluated)
			for r := range dropped {
				if dropped[r].Sign() > 0 {
					line += fmt.Sprintf("\t%s %s\n", Reason(r), dropped[r])
				}
			}
			lines = append(lines, line)
		}
	}
	// Maps have no order.
	for i := 0; i+1 < len(lines); i += 2 {
		if lines[i] > lines[i+1] {
			lines[i], lines[i+1] = lines[i+1], lines[i]
		}
	}
	got, file := strings.Join(lines, ""), filepath.Join("testdata", "work.txt")
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
