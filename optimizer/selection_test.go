package optimizer

import (
	"context"
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"testing"
	"time"

	"loudfor/catalog"
	"loudfor/optimizer/internal/generate"
	"loudfor/optimizer/linear"
)

// solverTime bounds one call of one solver.
const solverTime = 60 * time.Second

// solvers are those that are installed; a missing one fails the test where all
// are required.
func solvers(t *testing.T) (found []linear.Solver) {
	t.Helper()
	for _, s := range linear.Solvers() {
		if _, err := exec.LookPath(s.Name); err == nil {
			found = append(found, s)
			continue
		}
		if os.Getenv("LOUDFOR_REQUIRE_TOOLS") == "1" {
			t.Errorf("%s is not installed, and LOUDFOR_REQUIRE_TOOLS=1", s.Name)
		} else {
			t.Logf("%s is not installed: not compared", s.Name)
		}
	}
	if len(found) == 0 {
		t.Skip("no solver is installed: lp_solve, glpsol or cbc")
	}
	return found
}

// solve asks a solver about a program.
func solve(t *testing.T, s linear.Solver, p *linear.Program) linear.Answer {
	t.Helper()
	folder := t.TempDir()
	program, solution := filepath.Join(folder, "program.lp"), filepath.Join(folder, "solution.txt")
	if err := os.WriteFile(program, []byte(p.Text(s.Dialect)), 0o600); err != nil {
		t.Fatal(err)
	}
	ctx, cancel := context.WithTimeout(t.Context(), solverTime)
	defer cancel()
	out, err := exec.CommandContext(ctx, s.Name, s.Arguments(program, solution, solverTime)...).Output()
	text, _ := os.ReadFile(solution)
	a, bad := s.Read(string(out), string(text))
	if bad != nil {
		t.Fatalf("%s: %v (%v)\n%s", s.Name, bad, err, out)
	}
	if a.Status == linear.Stopped {
		t.Fatalf("%s stopped: %v\n%s\n%s", s.Name, err, out, text)
	}
	return a
}

// audit asks one solver both questions.
func audit(t *testing.T, s linear.Solver, sel *Selection) (Chosen, bool) {
	t.Helper()
	var c Chosen
	p := sel.Loudest()
	for range 2 {
		a := solve(t, s, p)
		if a.Status == linear.Infeasible {
			return Chosen{}, false
		}
		values, err := p.Exact(a.Values)
		if err != nil {
			t.Fatalf("%s: %v", s.Name, err)
		}
		c = sel.Read(values)
		p = sel.Cheapest(c)
	}
	return c, true
}

// floorUnder is 3 dB below the first build of a result; none if there is none.
func floorUnder(r Result) float64 {
	if len(r.Builds) == 0 {
		return 0
	}
	return r.Builds[0].Objective - 3
}

// auditable makes one of the generated problems, of 60 to 600 parts.
func (c *cars) auditable(i int) Problem {
	n := 60 + 540*i/19
	car := i % len(c.vehicles)
	p := Problem{
		Catalogue: generate.Catalogue(n, uint64(100+i), []generate.Tightness{generate.Loose, generate.Tight}[i/2%2]),
		Vehicle:   c.vehicles[car], Top: 1, Workers: 2, Bare: true,
		Brief: catalog.Brief{Place: "dash", Openings: c.openings[car], Goal: catalog.Goal(i / 4 % 2), Front: catalog.FrontRule(i % 3),
			BassLift: 6, TaxPPM: int64(i%3) * 37_500,
			Cap: catalog.Money{Minor: []int64{25_000, 40_000, 80_000}[i%3], Currency: generate.Currency}},
	}
	switch i % 5 {
	case 1:
		p.Brief.Stores = []string{"North Counter", "Yard"}
	case 2:
		p.Brief.Owned = []catalog.Mention{{SKU: "AM-00003", Count: 1}, {SKU: "DR-00002", Count: 1}, {SKU: "HU-00001", Count: 1}}
	case 3:
		p.Brief.Must = []catalog.Mention{{SKU: "AM-00002", Count: 1}}
		p.Brief.Never = []catalog.Mention{{SKU: "BX-00001", Count: 1}}
	case 4:
		p.Brief.Space = catalog.Size3{Width: 0.9, Depth: 0.45, Height: 0.45}
		for k, part := range p.Catalogue.Parts {
			if k%7 == 0 {
				part.Stock = 1
			}
		}
	}
	return p
}

// Three solvers that know nothing of the search find the same optimum at the
// same price.
func TestAudit(t *testing.T) {
	all := solvers(t)
	c := garage(t)
	step := 1
	if testing.Short() {
		step = 5
	}
	solved := 0
	for i := 0; i < 20; i += step {
		p := c.auditable(i)
		t.Run(fmt.Sprintf("%d-parts-%d", i, len(p.Catalogue.Parts)), func(t *testing.T) {
			start := time.Now()
			r, err := pickIn(t.Context(), p, c.tasks[i%len(c.tasks)])
			if err != nil {
				t.Fatal(err)
			}
			t1 := time.Now()
			task, err := readyIn(p, relaxed{}, c.tasks[i%len(c.tasks)])
			if err != nil {
				t.Fatal(err)
			}
			sel, err := task.formulate(t.Context(), floorUnder(r))
			if err != nil {
				t.Fatal(err)
			}
			t.Logf("pick %v, tabulate %v: %d variables, %d rows", t1.Sub(start), time.Since(t1), len(sel.Program.Variables), len(sel.Program.Rows))
			for _, l := range sel.Program.Title {
				t.Log(l)
			}
			for _, s := range all {
				start := time.Now()
				got, ok := audit(t, s, sel)
				t.Logf("%s: %v %.3f %v", s.Name, time.Since(start), got.DB, got.Cost)
				if ok != (r.Outcome == Optimal) {
					t.Errorf("%s: a solution is %v, the search says %v", s.Name, ok, r.Outcome)
					continue
				}
				if !ok {
					continue
				}
				want := &r.Builds[0]
				if math.Abs(got.DB-want.Objective) > levelStep/2 || got.Cost != want.Cost {
					t.Errorf("%s: %.3f dB for %v (%v)\nsearch: %.3f dB for %v (%v)", s.Name, got.DB, got.Cost, got.Parts, want.Objective, want.Cost, skus(want))
				}
				solved++
			}
		})
	}
	if solved == 0 {
		t.Error("no problem had a solution")
	}
}
