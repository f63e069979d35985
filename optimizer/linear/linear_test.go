package linear

import (
	"math"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

// small uses everything that the formats can say.
func small() *Program {
	p := &Program{Title: []string{"A title", "", "with an \u00e9 and a\nline break"}, Maximise: true}
	x := p.Add(Variable{Name: "x", Note: `a "choice"`})
	y := p.Add(Variable{Name: "y", Kind: Whole, Most: 7, Note: "pieces"})
	z := p.Add(Variable{Name: "z", Kind: Amount, Most: 100})
	p.Objective = []Term{{z, 1}, {x, -2}}
	p.Bind(Row{Name: "one", Note: "a reason", Terms: []Term{{x, 1}}, Relation: AtLeast, Limit: 1})
	p.Bind(Row{Name: "two", Terms: []Term{{z, 1}, {y, -10}, {x, -3}}, Relation: AtMost})
	p.Bind(Row{Name: "none", Relation: Equal})
	return p
}

func TestText(t *testing.T) {
	for d, want := range map[Dialect]string{
		Sections: `\ A title
\
\ with an \u00e9 and a\nline break
\ x            a "choice"
\ y            pieces
Maximize
 goal: + z - 2 x
Subject To
\ a reason
 one: + x >= 1
 two: + z - 10 y - 3 x <= 0
 none: 0 x = 0
Bounds
 0 <= y <= 7
 0 <= z <= 100
Generals
 y
Binaries
 x
End
`,
		Statements: `// A title
//
// with an \u00e9 and a\nline break
// x            a "choice"
// y            pieces
max: + z - 2 x;
// a reason
 one: + x >= 1;
 two: + z - 10 y - 3 x <= 0;
 none: 0 x = 0;
 y <= 7;
 z <= 100;
int y;
bin x;
`,
	} {
		if diff := cmp.Diff(want, small().Text(d)); diff != "" {
			t.Errorf("dialect %d (-want +got):\n%s", d, diff)
		}
	}
}

// Lines stay short, however long the sums.
func TestLinesAreShort(t *testing.T) {
	p := &Program{}
	row := Row{Name: "all", Relation: Equal, Limit: 1}
	for range 500 {
		row.Terms = append(row.Terms, Term{p.Add(Variable{Name: "x" + strings.Repeat("9", NameLength-1)}), math.MinInt32})
	}
	p.Bind(row)
	for _, d := range []Dialect{Sections, Statements} {
		for _, line := range strings.Split(p.Text(d), "\n") {
			if len(line) > lineLength {
				t.Errorf("%d characters: %s", len(line), line)
			}
		}
	}
}

// Exact rounds what solvers leave unrounded, and takes nothing else.
func TestExact(t *testing.T) {
	p := small()
	for _, c := range []struct {
		name   string
		values map[string]float64
		want   string // part of the error; empty: none
	}{
		{"as it should be", map[string]float64{"x": 1, "y": 2, "z": 23}, ""},
		{"noise", map[string]float64{"x": 0.99999, "y": 2.00001, "z": 22.9999}, ""},
		{"not whole", map[string]float64{"x": 0.9998, "y": 2}, "x is 0.9998, which is not whole"},
		{"above its bound", map[string]float64{"x": 1, "y": 8}, "y is 8, outside 0 to 7"},
		{"below zero", map[string]float64{"x": 1, "y": -1}, "y is -1, outside"},
		{"a row by one", map[string]float64{"x": 1, "y": 2, "z": 24}, "row two does not hold: 1 <= 0"},
		{"left out", map[string]float64{"y": 2}, "row one does not hold: 0 >= 1"},
		{"unknown", map[string]float64{"x": 1, "q": 1}, "names 1 variables that the problem does not have"},
		{"no number", map[string]float64{"x": math.NaN()}, "x is NaN"},
		{"huge", map[string]float64{"x": 1, "z": 1e300}, "z is 1e+300"},
	} {
		_, err := p.Exact(c.values)
		if (err == nil) != (c.want == "") || err != nil && !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: %v", c.name, err)
		}
	}
}

// Sum gives what big numbers would, or says that it cannot.
func TestSum(t *testing.T) {
	if _, ok := Sum([]Term{{0, math.MaxInt64}, {0, 1}}, []int64{1}); ok {
		t.Error("an overflow passed")
	}
	if _, ok := Sum([]Term{{0, math.MaxInt64}}, []int64{2}); ok {
		t.Error("an overflowing product passed")
	}
	rapid.Check(t, func(t *rapid.T) {
		a, b := rapid.Int64Range(-1e9, 1e9).Draw(t, "a"), rapid.Int64Range(-1e9, 1e9).Draw(t, "b")
		x, y := rapid.Int64Range(-1e9, 1e9).Draw(t, "x"), rapid.Int64Range(-1e9, 1e9).Draw(t, "y")
		if got, ok := Sum([]Term{{0, a}, {1, b}}, []int64{x, y}); !ok || got != a*x+b*y {
			t.Fatalf("%d, %v", got, ok)
		}
	})
}

// The reports of the solvers, as the versions in Debian 12 write them.
const (
	statementsReport = `
Value of objective function: 23.00000000

Actual values of the variables:
x                               1
y                         2.00000
a_longer_name_that_is_cut_o      1e-15

Actual values of the constraints:
one                             1
`
	tableReport = `Problem:
Rows:       2
Columns:    3 (2 integer, 1 binary)
Non-zeros:  4
Status:     INTEGER OPTIMAL
Objective:  goal = 21 (MAXimum)

   No.   Row name        Activity     Lower bound   Upper bound
------ ------------    ------------- ------------- -------------
     1 one                         1             1
     2 a_row_with_a_long_name
                                   0                           0

   No. Column name       Activity     Lower bound   Upper bound
------ ------------    ------------- ------------- -------------
     1 z                          23             0           100
     2 x            *              1             0             1
     3 a_longer_name_here
                    *              2             0             7

Integer feasibility conditions:

KKT.PE: max.abs.err = 0.00e+00 on row 0
`
	listReport = `Optimal - objective value 21.00000000
      0 z                           23                       0
**    1 x                   1.00000001                      -2
      2 y                            2                       0
`
)

func TestRead(t *testing.T) {
	by := map[string]Solver{}
	for _, s := range Solvers() {
		by[s.Name] = s
	}
	for _, c := range []struct {
		name, solver, output, solution string
		want                           Answer
	}{
		{"optimal", "lp_solve", statementsReport, "", Answer{Optimal, map[string]float64{"x": 1, "y": 2, "a_longer_name_that_is_cut_o": 1e-15}}},
		{"infeasible", "lp_solve", "\nThis problem is infeasible\n", "", Answer{Status: Infeasible}},
		{"out of time", "lp_solve", "\nThe model is sub-optimal. Only a faster solution was found.\n" + statementsReport, "", Answer{}},
		{"nothing", "lp_solve", "", "", Answer{Values: map[string]float64{}}},
		{"optimal", "glpsol", "INTEGER OPTIMAL SOLUTION FOUND\n", tableReport, Answer{Optimal, map[string]float64{"z": 23, "x": 1, "a_longer_name_here": 2}}},
		{"line ends", "glpsol", "", strings.ReplaceAll(tableReport, "\n", "\r\n"), Answer{Optimal, map[string]float64{"z": 23, "x": 1, "a_longer_name_here": 2}}},
		{"infeasible in numbers", "glpsol", "PROBLEM HAS NO PRIMAL FEASIBLE SOLUTION\n", "Status:     INTEGER UNDEFINED\n", Answer{Status: Infeasible}},
		{"infeasible in whole numbers", "glpsol", "PROBLEM HAS NO INTEGER FEASIBLE SOLUTION\n", "Status:     INTEGER EMPTY\n", Answer{Status: Infeasible}},
		{"out of time", "glpsol", "TIME LIMIT EXCEEDED; SEARCH TERMINATED\n", strings.Replace(tableReport, "INTEGER OPTIMAL", "INTEGER NON-OPTIMAL", 1), Answer{}},
		{"optimal", "cbc", "Result - Optimal solution found\n", listReport, Answer{Optimal, map[string]float64{"z": 23, "x": 1.00000001, "y": 2}}},
		{"infeasible", "cbc", "", "Infeasible - objective value 0.00000000\n", Answer{Status: Infeasible}},
		{"infeasible in whole numbers", "cbc", "", "Integer infeasible - objective value 0.00000000\n", Answer{Status: Infeasible}},
		{"out of time", "cbc", "", "Stopped on time - objective value 20\n" + listReport, Answer{}},
		{"nothing", "cbc", "", "", Answer{}},
	} {
		got, err := by[c.solver].Read(c.output, c.solution)
		if diff := cmp.Diff(c.want, got); diff != "" || err != nil {
			t.Errorf("%s, %s: %v\n%s", c.solver, c.name, err, diff)
		}
	}
}

func TestVersionIn(t *testing.T) {
	for text, want := range map[string]string{
		"Usage of lp_solve version 5.5.2.5:\n":                                    "5.5.2.5",
		"GLPSOL--GLPK LP/MIP Solver 5.0\nCopyright":                               "5.0",
		"Welcome to the CBC MILP Solver \nVersion: 2.10.8 \nBuild Date: May 2022": "2.10.8",
		"nothing of the kind":                                                     "",
	} {
		if got := VersionIn(text); got != want {
			t.Errorf("%q: %q, want %q", text, got, want)
		}
	}
}

// Whatever a solver prints, reading it ends, and an answer without proof is no
// answer.
func FuzzRead(f *testing.F) {
	f.Add(statementsReport, "")
	f.Add("", tableReport)
	f.Add("", listReport)
	f.Add("This problem is infeasible", "Status: INTEGER EMPTY")
	f.Fuzz(func(t *testing.T, output, solution string) {
		for _, s := range Solvers() {
			a, err := s.Read(output, solution)
			if err != nil && a.Status == Optimal {
				t.Errorf("%s: an error (%v) and an answer", s.Name, err)
			}
			if a.Status == Infeasible && len(a.Values) > 0 {
				t.Errorf("%s: infeasible with values", s.Name)
			}
			_ = s.Arguments("a", "b", time.Second)
		}
	})
}
