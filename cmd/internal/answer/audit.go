package answer

import (
	"loudfor/cmd/internal/facts"
	"loudfor/cmd/internal/solver"
	"loudfor/cmd/internal/table"
	"loudfor/optimizer"
	"loudfor/optimizer/linear"
)

// Audit is what outside solvers make of the search's answer.
type Audit struct {
	Result   optimizer.Result
	Findings []solver.Finding
	Program  *linear.Program
	Written  string // the file, where the program was only written
}

// Audit writes an audit: the search's answer, and beside it each solver's.
func (p *Page) Audit(q facts.Question, a Audit) {
	title := "Audit of the best build for " + q.Brief.Cap.String() + ", everything included"
	if q.Brief.Name != "" {
		title += ": " + q.Brief.Name
	}
	p.heading(title)
	p.asked(q, "; ranked by "+goalWords(q.Brief.Goal))
	p.pair("catalogue", "%s", catalogueWords(q))
	p.pair("program", "%d unknowns, %d rows", len(a.Program.Variables), len(a.Program.Rows))
	if a.Written != "" {
		p.pair("written to", "%s", a.Written)
		return
	}
	p.printf("\n")
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
	p.faults(&a)
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
