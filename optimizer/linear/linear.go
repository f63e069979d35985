// Package linear holds integer programs, writes them in open text formats, and
// reads what outside solvers answer.
//
//	var p linear.Program
//	p.Maximise = true
//	x := p.Add(linear.Variable{Name: "x", Kind: linear.Choice, Note: "the small one"})
//	y := p.Add(linear.Variable{Name: "y", Kind: linear.Choice})
//	p.Objective = []linear.Term{{x, 3}, {y, 2}}
//	p.Bind(linear.Row{Name: "one", Terms: []linear.Term{{x, 1}, {y, 1}}, Relation: linear.AtMost, Limit: 1})
//	text := p.Text(linear.Sections)
//
// Every coefficient is a whole number, so a solver's answer can be checked
// without any tolerance (Program.Exact): solvers work in floating point, and
// what they call feasible may be over a price by a hair.
//
// The package runs no programs; Solvers describes how each one is called and
// how its answer is read.
//
// Limits: whole coefficients only; names of at most NameLength letters, digits
// and underscores, beginning with a letter other than e (the formats read e5
// as an exponent); no lower bounds but zero.
package linear

import (
	"fmt"
	"math"
	"math/bits"
)

// NameLength is the longest name: one solver breaks the lines of its report
// after longer ones.
const NameLength = 12

// Kind is what values a variable takes, all from zero.
type Kind int

const (
	Choice Kind = iota // 0 or 1
	Whole              // 0, 1, 2 ... Most
	Amount             // any, up to Most
)

// Variable is one unknown.
type Variable struct {
	Name string
	Kind Kind
	Most int64  // upper bound of a Whole or an Amount
	Note string // what it stands for, for the legend
}

// Term is a factor times a variable, which is named by its place.
type Term struct {
	Variable int
	Factor   int64
}

// Relation is how the two sides of a row compare.
type Relation int

const (
	AtMost Relation = iota
	AtLeast
	Equal
)

func (r Relation) String() string { return [...]string{"<=", ">=", "="}[r] }

// Row is one condition: the sum of the terms compared to the limit.
type Row struct {
	Name     string
	Note     string // why it holds; rows that follow under the same rule have none
	Terms    []Term
	Relation Relation
	Limit    int64
}

// Program is an integer program. Its text has its parts in the order in which
// they were added.
type Program struct {
	Title     []string // comment lines at the head
	Maximise  bool
	Objective []Term
	Variables []Variable
	Rows      []Row
}

// Add adds a variable and gives its place.
func (p *Program) Add(v Variable) int {
	if v.Kind == Choice {
		v.Most = 1
	}
	p.Variables = append(p.Variables, v)
	return len(p.Variables) - 1
}

// Bind adds a row.
func (p *Program) Bind(r Row) { p.Rows = append(p.Rows, r) }

// With is a copy with further rows and another objective; variables and earlier
// rows are shared.
func (p *Program) With(maximise bool, objective []Term, rows ...Row) *Program {
	q := *p
	q.Maximise, q.Objective = maximise, objective
	q.Rows = append(p.Rows[:len(p.Rows):len(p.Rows)], rows...)
	return &q
}

// Sum is the value of terms under an assignment; false when it overflows.
func Sum(terms []Term, values []int64) (sum int64, ok bool) {
	for _, t := range terms {
		high, low := bits.Mul64(magnitude(t.Factor), magnitude(values[t.Variable]))
		if high != 0 || low > math.MaxInt64 {
			return 0, false
		}
		product := int64(low)
		if (t.Factor < 0) != (values[t.Variable] < 0) {
			product = -product
		}
		next := sum + product
		if (product > 0) != (next > sum) && product != 0 {
			return 0, false
		}
		sum = next
	}
	return sum, true
}

func magnitude(n int64) uint64 {
	if n < 0 {
		return uint64(-n)
	}
	return uint64(n)
}

// wholeTolerance is how far from a whole number a solver may leave a variable
// that has to be one: ten times the loosest default among the solvers (1e-5).
const wholeTolerance = 1e-4

// Exact rounds a solver's values, by name, to whole numbers and holds them
// against every bound and row without tolerance. Names that are left out are
// zero. An Amount is rounded too: with whole coefficients the best one is whole.
func (p *Program) Exact(named map[string]float64) ([]int64, error) {
	values := make([]int64, len(p.Variables))
	seen := 0
	for i, v := range p.Variables {
		x, ok := named[v.Name]
		if ok {
			seen++
		}
		if math.IsNaN(x) || math.Abs(x) > 1e15 {
			return nil, fmt.Errorf("%s is %g", v.Name, x)
		}
		whole := math.Round(x)
		if v.Kind != Amount && math.Abs(x-whole) > wholeTolerance {
			return nil, fmt.Errorf("%s is %g, which is not whole", v.Name, x)
		}
		values[i] = int64(whole)
		if values[i] < 0 || values[i] > v.Most {
			return nil, fmt.Errorf("%s is %d, outside 0 to %d", v.Name, values[i], v.Most)
		}
	}
	if seen != len(named) {
		return nil, fmt.Errorf("the answer names %d variables that the problem does not have", len(named)-seen)
	}
	for _, r := range p.Rows {
		sum, ok := Sum(r.Terms, values)
		if !ok || !r.holds(sum) {
			return nil, fmt.Errorf("row %s does not hold: %d %s %d", r.Name, sum, r.Relation, r.Limit)
		}
	}
	return values, nil
}

func (r *Row) holds(sum int64) bool {
	switch r.Relation {
	case AtMost:
		return sum <= r.Limit
	case AtLeast:
		return sum >= r.Limit
	}
	return sum == r.Limit
}
