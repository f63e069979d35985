package solver

import (
	"context"
	"errors"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"loudfor/catalog"
	"loudfor/optimizer"
	"loudfor/optimizer/linear"
)

func usd(minor int64) catalog.Money { return catalog.Money{Minor: minor, Currency: "USD"} }

// Every difference counts, either side of half a step.
func TestAgrees(t *testing.T) {
	found := &optimizer.Result{Outcome: optimizer.Optimal, Builds: []optimizer.Build{{Objective: 128.302, Cost: usd(24_618)}}}
	none := &optimizer.Result{Outcome: optimizer.Infeasible}
	for _, c := range []struct {
		name string
		f    Finding
		r    *optimizer.Result
		want bool
	}{
		{"the same", Finding{Status: linear.Optimal, Chosen: optimizer.Chosen{DB: 128.302, Cost: usd(24_618)}}, found, true},
		{"rounding", Finding{Status: linear.Optimal, Chosen: optimizer.Chosen{DB: 128.3024, Cost: usd(24_618)}}, found, true},
		{"a step louder", Finding{Status: linear.Optimal, Chosen: optimizer.Chosen{DB: 128.303, Cost: usd(24_618)}}, found, false},
		{"a step quieter", Finding{Status: linear.Optimal, Chosen: optimizer.Chosen{DB: 128.301, Cost: usd(24_618)}}, found, false},
		{"a cent", Finding{Status: linear.Optimal, Chosen: optimizer.Chosen{DB: 128.302, Cost: usd(24_617)}}, found, false},
		{"no build", Finding{Status: linear.Infeasible}, found, false},
		{"both no build", Finding{Status: linear.Infeasible}, none, true},
		{"a build after all", Finding{Status: linear.Optimal}, none, false},
		{"stopped", Finding{Status: linear.Stopped}, none, false},
		{"broken", Finding{Status: linear.Optimal, Chosen: optimizer.Chosen{DB: 128.302, Cost: usd(24_618)}, Fault: errors.New("x")}, found, false},
	} {
		if got := c.f.Agrees(c.r); got != c.want {
			t.Errorf("%s: %v", c.name, got)
		}
	}
}

// knapsack is a small program with the optimum 7: b and c.
func knapsack() *linear.Program {
	p := &linear.Program{Maximise: true}
	for i, name := range []string{"a", "b", "c"} {
		v := p.Add(linear.Variable{Name: name})
		p.Objective = append(p.Objective, linear.Term{Variable: v, Factor: []int64{5, 4, 3}[i]})
	}
	p.Bind(linear.Row{Name: "weight", Relation: linear.AtMost, Limit: 5,
		Terms: []linear.Term{{Variable: 0, Factor: 4}, {Variable: 1, Factor: 3}, {Variable: 2, Factor: 2}}})
	return p
}

func TestSolve(t *testing.T) {
	for _, s := range Missing() {
		if os.Getenv("LOUDFOR_REQUIRE_TOOLS") == "1" {
			t.Errorf("%s is not installed, and LOUDFOR_REQUIRE_TOOLS=1", s.Name)
		}
	}
	if len(Installed()) == 0 {
		t.Skip("no solver is installed: lp_solve, glpsol or cbc")
	}
	for _, s := range Installed() {
		if version(t.Context(), s) == "" {
			t.Errorf("%s does not tell its version", s.Name)
		}
		p := knapsack()
		a, err := Solve(t.Context(), s, p, however)
		if err != nil || a.Status != linear.Optimal {
			t.Fatalf("%s: %v, %v", s.Name, a.Status, err)
		}
		values, err := p.Exact(a.Values)
		if err != nil {
			t.Fatalf("%s: %v", s.Name, err)
		}
		if sum, _ := linear.Sum(p.Objective, values); sum != 7 {
			t.Errorf("%s: %d, want 7", s.Name, sum)
		}
		// The same with more than can be: no solution in numbers, and none in
		// whole numbers.
		for name, limit := range map[string]int64{"too much": 10, "odd": 1} {
			q := p.With(true, p.Objective, linear.Row{Name: "more", Relation: linear.Equal, Limit: limit,
				Terms: []linear.Term{{Variable: 0, Factor: 2}, {Variable: 1, Factor: 2}, {Variable: 2, Factor: 2}}})
			a, err := Solve(t.Context(), s, q, however)
			if err != nil || a.Status != linear.Infeasible {
				t.Errorf("%s, %s: %v, %v", s.Name, name, a.Status, err)
			}
		}
	}
}

// however long a solver takes on a machine that is busy with other work, it takes
// less.
const however = 10 * time.Minute

// script makes a program that stands in for a solver.
func script(t *testing.T, text string) linear.Solver {
	t.Helper()
	path := filepath.Join(t.TempDir(), "solver")
	if err := os.WriteFile(path, []byte("#!/bin/sh\n"+text), 0o700); err != nil {
		t.Fatal(err)
	}
	s := linear.Solvers()[0]
	s.Name = path
	return s
}

// A solver that hangs, dies or talks nonsense gives no answer, in plain words.
func TestBadSolvers(t *testing.T) {
	if _, err := os.Stat("/bin/sh"); err != nil {
		t.Skip("no /bin/sh to stand in for a solver")
	}
	ctx, cancel := context.WithTimeout(t.Context(), 300*time.Millisecond)
	defer cancel()
	if a, err := Solve(ctx, script(t, "exec sleep 60\n"), knapsack(), however); err != nil || a.Status != linear.Stopped {
		t.Errorf("hangs: %v, %v", a.Status, err)
	}
	if a, err := Solve(t.Context(), script(t, "echo memory >&2; exit 3\n"), knapsack(), however); a.Status != linear.Stopped || err == nil || !strings.Contains(err.Error(), "it failed") {
		t.Errorf("dies: %v, %v", a.Status, err)
	}
	nonsense := "echo 'Actual values of the variables:'; echo 'a much'\n"
	if a, err := Solve(t.Context(), script(t, nonsense), knapsack(), however); a.Status != linear.Stopped || err == nil || !strings.Contains(err.Error(), `"much" is no number`) {
		t.Errorf("nonsense: %v, %v", a.Status, err)
	}
}

func TestSKUs(t *testing.T) {
	if got := SKUs([]catalog.Mention{{SKU: "TM-12V", Count: 2}, {SKU: "OR-4C", Count: 1}}); got != "TM-12V x 2, OR-4C" {
		t.Error(got)
	}
}

// leftRow is what is left of a program of two amplifiers, a box and a driver: a solver
// that prepares it finds all but one row superfluous, and no variable in that one.
func leftRow() *linear.Program {
	p := &linear.Program{Maximise: true}
	at := map[string]int{}
	for _, name := range []string{"level", "amp1", "amp2", "blk4", "box5", "sub13", "spk15", "src17", "src18", "src19", "src21", "cnv23", "kit26", "a2", "b1", "y1"} {
		v := linear.Variable{Name: name, Kind: linear.Whole, Most: 7}
		if name == "level" {
			v.Kind, v.Most = linear.Amount, 20_000
		}
		at[name] = p.Add(v)
	}
	sum := func(pairs ...any) (terms []linear.Term) {
		for i := 0; i < len(pairs); i += 2 {
			terms = append(terms, linear.Term{Variable: at[pairs[i+1].(string)], Factor: int64(pairs[i].(int))})
		}
		return terms
	}
	p.Objective = sum(1, "level")
	for name, r := range map[string]linear.Row{
		"a_bass":   {Terms: sum(1, "level", -15680, "y1")},
		"b_cap":    {Limit: 28971, Terms: sum(21500, "amp1", 11500, "amp2", 727, "blk4", 2826, "box5", 2119, "sub13", 10000, "spk15", 5766, "src17", 6111, "src18", 10084, "src19", 10028, "src21", 1228, "cnv23", 4474, "kit26")},
		"c_amp2":   {Relation: linear.Equal, Terms: sum(-1, "amp2", 1, "a2")},
		"d_box5":   {Relation: linear.Equal, Terms: sum(-1, "box5", 1, "b1")},
		"e_sub13":  {Relation: linear.Equal, Terms: sum(-1, "sub13", 2, "b1")},
		"f_system": {Relation: linear.Equal, Limit: 1, Terms: sum(1, "y1")},
		"g_is_b1":  {Relation: linear.Equal, Terms: sum(-1, "b1", 1, "y1")},
		"h_is_a2":  {Relation: linear.Equal, Terms: sum(-1, "a2", 1, "y1")},
		"i_kit":    {Relation: linear.Equal, Limit: 1, Terms: sum(1, "kit26")},
		"j_source": {Relation: linear.Equal, Limit: 1, Terms: sum(1, "src17", 1, "src18", 1, "src19", 1, "src21")},
	} {
		r.Name = name
		p.Bind(r)
	}
	slices.SortFunc(p.Rows, func(a, b linear.Row) int { return strings.Compare(a.Name, b.Name) })
	return p
}

// No solver ends without an answer on a program that is one.
func TestSolveWhatIsNearlySolved(t *testing.T) {
	for _, s := range Installed() {
		p := leftRow()
		a, err := Solve(t.Context(), s, p, however)
		if err != nil || a.Status != linear.Optimal || a.Values["level"] != 15680 {
			t.Errorf("%s: %v, %v, %v", s.Name, a.Status, a.Values["level"], err)
		}
	}
}
