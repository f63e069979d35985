package answer

import (
	"cmp"
	"fmt"
	"math/big"
	"slices"

	"loudfor/catalog"
	"loudfor/cmd/internal/facts"
	"loudfor/cmd/internal/solver"
	"loudfor/cmd/internal/table"
	"loudfor/optimizer"
	every "loudfor/optimizer/audit"
	"loudfor/optimizer/build"
	"loudfor/optimizer/linear"
)

// Audit is the search's answer, what a look at every block makes of it, and what
// outside solvers do.
type Audit struct {
	Result   optimizer.Result
	Every    *every.Report // nil: not looked at
	Drivers  []every.Best  // nil: not asked for
	Findings []solver.Finding
	Program  *linear.Program // nil: none was made
	Written  string          // the file, where the program was only written
}

// Audit writes an audit: the search's answer, what settled every block, and each
// solver's answer beside it.
func (p *Page) Audit(q facts.Question, a Audit) {
	title := "Audit of the best build for " + q.Brief.Cap.String() + ", everything included"
	if q.Brief.Name != "" {
		title += ": " + q.Brief.Name
	}
	p.heading(title)
	p.asked(q, "; ranked by "+goalWords(q.Brief.Goal))
	p.pair("catalogue", "%s", catalogueWords(q))
	if a.Program != nil {
		p.pair("program", "%d unknowns, %d rows", len(a.Program.Variables), len(a.Program.Rows))
	}
	if a.Written != "" {
		p.pair("written to", "%s", a.Written)
		return
	}
	claim := "that no build exists"
	if len(a.Result.Builds) > 0 {
		best := &a.Result.Builds[0]
		claim = fmt.Sprintf("%s for %s: %s", exact(best.Objective), best.Cost, solver.SKUs(build.Mentions(best.Lines)))
	}
	p.pair("claimed", "%s", claim)
	if a.Every != nil {
		p.every(a.Every, len(a.Result.Builds) > 0)
	}
	if len(a.Drivers) > 0 {
		p.drivers(a.Drivers)
	}
	if len(a.Findings) > 0 {
		p.solvers(&a)
	}
}

// every says what a look at every block found; levelled: the claim has a level.
func (p *Page) every(r *every.Report, levelled bool) {
	p.head(fmt.Sprintf("%s blocks fit: a driver, so many times, in so many of one box", count(r.Blocks)))
	var rows [][]string
	for step, n := range r.Settled {
		if n > 0 {
			rows = append(rows, []string{every.Step(step).Words(), count(n)})
		}
	}
	if len(rows) > 0 {
		p.table(margin, []table.Column{{Title: "settled because"}, {Title: "blocks", Right: true}}, rows)
	}
	switch {
	case r.Verdict == every.Confirmed && r.Equal == 0:
		p.head("Confirmed: no set of parts satisfies the brief")
	case r.Verdict == every.Confirmed:
		p.head("Confirmed: no complete build comes before it")
		if r.Equal > 1 {
			p.say("%d builds are as loud and cost no more; this one has fewer pieces, or comes first by its SKUs.", r.Equal)
		}
	case r.Verdict == every.Refuted:
		p.head("NOT CONFIRMED: refuted")
		if r.Fault != "" {
			p.say("%s", r.Fault)
		}
		if b := r.Better; b != nil {
			level := ""
			if levelled {
				level = exact(b.Level.DB()) + " for "
			}
			p.say("Better: %s%s: %s", level, b.Cost, solver.SKUs(b.Parts))
		}
		p.say("The answer stands above all the same. Please report it with the files.")
	default:
		p.head("NOT CONFIRMED: not settled")
		for _, why := range r.Left {
			p.item("%s", why)
		}
	}
	p.head("Taken on trust")
	for _, what := range every.Trusted() {
		p.item("%s", what)
	}
}

// drivers lists the loudest build of each, the loudest first.
func (p *Page) drivers(all []every.Best) {
	p.head("The loudest complete build of each driver")
	all = slices.Clone(all)
	level := func(b every.Best) build.Level {
		if b.Found == nil {
			return build.Silent
		}
		return b.Found.Level
	}
	slices.SortStableFunc(all, func(a, b every.Best) int { return cmp.Compare(level(b), level(a)) })
	var rows [][]string
	for _, b := range all {
		row := []string{b.Driver.SKU, "none", "", ""}
		if f := b.Found; f != nil {
			box := b.Driver
			if b.Box != nil {
				box = b.Box
			}
			row = []string{b.Driver.SKU, exact(f.Level.DB()), f.Cost.String(), solver.SKUs([]catalog.Mention{{SKU: box.SKU, Count: b.Boxes}})}
		}
		rows = append(rows, row)
	}
	p.table(margin, []table.Column{{Title: "driver"}, {Title: "level", Right: true}, {Title: "price", Right: true}, {Title: "in"}}, rows)
}

func count(n int) string { return facts.Thousands(big.NewInt(int64(n))) }

// solvers writes each solver's answer beside the search's.
func (p *Page) solvers(a *Audit) {
	p.head("Outside solvers")
	level, price := "no build", ""
	if len(a.Result.Builds) > 0 {
		best := &a.Result.Builds[0]
		level, price = exact(best.Objective), best.Cost.String()
	}
	rows := [][]string{{"this program", a.Result.Outcome.String(), level, price, ""}}
	agree := true
	for i := range a.Findings {
		f := &a.Findings[i]
		level, price, verdict := "", "", "the same"
		switch f.Status {
		case linear.Optimal:
			level, price = exact(f.Chosen.DB), f.Chosen.Cost.String()
		case linear.Infeasible:
			level = "no build"
		}
		status := f.Status.String()
		if f.Fault != nil {
			status, level, price = "no answer", "", ""
		}
		if !f.Agrees(&a.Result) {
			verdict, agree = "differs", false
			if f.Fault != nil || f.Status == linear.Stopped {
				verdict = "not confirmed"
			}
		}
		rows = append(rows, []string{f.Name, status, level, price, verdict})
	}
	p.table("", []table.Column{{Title: "found by"}, {Title: "outcome"}, {Title: "level", Right: true}, {Title: "price", Right: true}, {Title: "verdict"}}, rows)
	p.faults(a)
	p.printf("\n")
	switch {
	case !agree:
		p.say("NOT CONFIRMED. A solver that stopped or gave no answer proves nothing either way; where one found another level or price, please report it with the files.")
	case len(a.Result.Builds) == 0:
		p.say("Confirmed: no set of parts satisfies the brief.")
	default:
		p.say("Confirmed: no set of parts is louder, and none is as loud for less. The levels themselves are this program's prediction.")
	}
}

// faults says what went wrong with a solver, and what another answer holds.
func (p *Page) faults(a *Audit) {
	for i := range a.Findings {
		switch f := &a.Findings[i]; {
		case f.Fault != nil:
			p.say("%s: %v", f.Name, f.Fault)
		case f.Status == linear.Stopped:
			p.say("%s: stopped before it was sure; --solver-time gives it longer", f.Name)
		case f.Status == linear.Optimal && !f.Agrees(&a.Result):
			p.say("%s chose: %s", f.Name, solver.SKUs(f.Chosen.Parts))
		}
	}
}

// exact is a level to the step to which the search compares.
func exact(db float64) string { return facts.Fixed(db, 3) + " dB" }
