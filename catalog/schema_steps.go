package catalog

import (
	"fmt"
	"strings"

	"go.yaml.in/yaml/v3"

	"loudfor/catalog/document"
)

// Money that comes in steps: what a brief says of a system that grows.

// PlanOrder is which of two plans in steps is the better one; package growth says
// it exactly.
type PlanOrder int

const (
	PlanLast  PlanOrder = iota // the loudest at the end
	PlanFirst                  // the loudest now
	PlanFair                   // near the best at every step, with the least thrown away
)

var planWords = []string{PlanLast: "last", PlanFirst: "first", PlanFair: "fair"}

func (o PlanOrder) String() string {
	if o < 0 || int(o) >= len(planWords) {
		return "order"
	}
	return planWords[o]
}

// MostSteps is how many steps a plan may have.
const MostSteps = 4

var stepsSpec = spec{Key: "steps", Shape: document.Texts, Example: "[250 USD, +300 USD, +200 USD]",
	Help: "money that comes in two to four steps, the cap first: +300 USD comes on top of what is left over, 550 USD without a plus is all that may be spent by then"}

// readSteps reads sums of money, of which those with a plus are added to the one
// before.
func readSteps(r *document.Reader, f *BuildFile, n *yaml.Node) {
	var v value
	if !r.Read(n, &stepsSpec, &v) {
		return
	}
	if len(v.Texts) < 2 || len(v.Texts) > MostSteps {
		r.Complain(n, fmt.Sprintf("%d steps", len(v.Texts)), fmt.Sprintf("a plan has 2 to %d steps, such as %s", MostSteps, stepsSpec.Example))
		return
	}
	var sums []Money
	for i, n := range v.Texts {
		text, more := strings.CutPrefix(strings.TrimSpace(document.Resolve(n).Value), "+")
		sum, err := ParseMoney(strings.TrimSpace(text))
		switch {
		case err != nil:
			r.Complain(n, fmt.Sprintf("a step cannot be %q", document.Resolve(n).Value), "write a sum of money, such as 250 USD or, on top of the step before, +300 USD")
			return
		case i > 0 && sum.Currency != sums[0].Currency:
			r.Complain(n, fmt.Sprintf("a step in %s after one in %s", sum.Currency, sums[0].Currency), "write all steps in one currency")
			return
		case more && i > 0:
			sum.Minor += sums[i-1].Minor
		}
		if sum.Minor > mostMoney || i == 0 && sum.Minor <= 0 || i > 0 && sum.Minor <= sums[i-1].Minor {
			r.Complain(n, fmt.Sprintf("by step %d all that may be spent would be %s", i+1, sum),
				"each step has more than the one before; write +300 USD for money that comes on top")
			return
		}
		sums = append(sums, sum)
	}
	f.Brief.Steps = sums
}

// mostMoney is the largest cap, minor units: the range of its key.
const mostMoney = 1_000_000_000_000

// stepTexts are the steps as readSteps reads them.
func stepTexts(b *Brief) (texts []string) {
	for i, sum := range b.Budgets() {
		if i == 0 {
			texts = append(texts, sum.String())
			continue
		}
		texts = append(texts, "+"+b.Later(i).String())
	}
	return texts
}

func writeSteps(w *document.Writer, f *BuildFile) {
	if texts := stepTexts(&f.Brief); len(texts) > 0 {
		w.Key(stepsSpec.Key, "["+strings.Join(texts, ", ")+"]")
	}
}

// Later is what step i brings, counted from 0 for the cap.
func (b *Brief) Later(i int) Money {
	sum := b.Steps[i]
	sum.Minor -= b.Steps[i-1].Minor
	return sum
}

// Budgets is all that may have been spent by each step: the cap, and what each
// further step brings on top; none where the brief has no steps.
func (b *Brief) Budgets() (all []Money) {
	for i, sum := range b.Steps {
		switch {
		case i > 0:
			sum = all[i-1]
			sum.Minor += b.Later(i).Minor
		case b.Cap != (Money{}):
			sum = b.Cap
		}
		all = append(all, sum)
	}
	return all
}

// stepped reports steps that do not begin with the cap.
func (b *Brief) stepped(report *Report) {
	if len(b.Steps) > 0 && b.Cap != (Money{}) && b.Steps[0] != b.Cap {
		report.Add(b.problem(Error, b.At("steps"), fmt.Sprintf("the first step is %s, but the cap is %s", b.Steps[0], b.Cap),
			"write the same sum for both: the cap is what may be spent now").Citing(b.At("cap"), "the cap"))
	}
}
