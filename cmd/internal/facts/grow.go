package facts

import (
	"fmt"
	"slices"
	"strings"

	"loudfor/catalog"
	"loudfor/optimizer"
	"loudfor/optimizer/growth"
)

// Grown is one step of a plan in words.
type Grown struct {
	Title string // "Step 2, with 300.00 USD more"
	Buys  string
	Idle  string // what was bought before and is kept without a use; empty: nothing
	Sold  string // empty: nothing
	Wired string // the hookup, or that it stays
}

// GrownSteps says each step of a plan.
func GrownSteps(s Speaker, p *growth.Plan) (all []Grown) {
	name := func(list []catalog.Mention) string {
		var words []string
		for _, m := range list {
			words = append(words, Times(m.Count, Name(p.Part(m.SKU))))
		}
		return strings.Join(words, "; ")
	}
	for i := range p.Steps {
		step := &p.Steps[i]
		g := Grown{Title: "Step 1, with " + s.Money(step.Budget), Buys: Bought(step.Build.Lines), Idle: name(step.Idle), Sold: name(step.Sold)}
		hookup := Hookup(step.Build)
		g.Wired = strings.Join(hookup, " ")
		if i > 0 {
			g.Title = fmt.Sprintf("Step %d, with %s more", i+1, s.Money(Less(step.Budget, p.Steps[i-1].Budget)))
			if slices.Equal(hookup, Hookup(p.Steps[i-1].Build)) {
				g.Wired = "Wired as before."
			}
		}
		all = append(all, g)
	}
	return all
}

// OrderWords say which plan was looked for.
func OrderWords(o catalog.PlanOrder) string {
	return [...]string{
		catalog.PlanLast:  "the loudest at the end, then the loudest on the way",
		catalog.PlanFirst: "the loudest now, then the best that grows from it",
		catalog.PlanFair:  "within 1 dB of the best at every step, with the least thrown away",
	}[o]
}

// Regret says what a plan costs against buying its end at once.
func Regret(s Speaker, p *growth.Plan) string {
	last := p.Last()
	if last.Best == nil {
		return ""
	}
	thrown := "nothing is thrown away"
	if p.Thrown.Minor > 0 {
		thrown = s.Money(p.Thrown) + " of it, before tax, for parts that the end does not use"
	}
	level := "as loud as"
	switch db := -last.Behind.DB; {
	case abs(db) < MeterStep:
	case last.Tie:
		level = "a tie (" + apart(s, db) + ") with"
	case db < 0:
		level = s.Figure(-db, 1) + " dB above"
	default:
		level = s.Figure(db, 1) + " dB below"
	}
	return fmt.Sprintf("The end is %s what %s at once would buy, for %s. The plan costs %s in all; %s.", level, s.Money(last.Budget), s.Money(last.Best.Cost), s.Money(p.Spent), thrown)
}

// Instead says what becomes of the loudest first buy, and what the plan gives for it.
// naive is nil where that was not asked for, or not found out in time.
func Instead(s Speaker, p, naive *growth.Plan, order catalog.PlanOrder) string {
	switch {
	case order == catalog.PlanFirst || p.Stop != optimizer.StopComplete:
		return ""
	case naive == nil:
		return "The search was stopped before it was known what becomes of the loudest first buy."
	}
	if naive.Steps[0].Build.Same(&p.Steps[0].Build) {
		return "The first buy is also the loudest one for its money."
	}
	first := naive.Steps[0].Build.Objective - p.Steps[0].Build.Objective
	end := p.Last().Build.Objective - naive.Last().Build.Objective
	return fmt.Sprintf("The loudest first buy would be %s dB louder now, end %s, and throw %s away.",
		s.Figure(first, 1), apart(s, end), s.Money(naive.Thrown))
}

func apart(s Speaker, db float64) string {
	switch {
	case abs(db) < MeterStep:
		return "as loud"
	case db > 0:
		return s.Figure(db, 1) + " dB lower"
	}
	return s.Figure(-db, 1) + " dB louder"
}

// GrowthProof says how a plan is known to be the best.
func GrowthProof(s Speaker, p *growth.Plan, order catalog.PlanOrder) string {
	builds := make([]optimizer.Build, len(p.Steps))
	for i := range p.Steps {
		builds[i] = p.Steps[i].Build
	}
	if words := NotConfirmed(builds...); words != "" {
		return words
	}
	if p.Stop == optimizer.StopComplete {
		return "Proven: no plan of this catalogue comes before it."
	}
	when := "at the end"
	if order == catalog.PlanFirst {
		when = "now"
	}
	words := fmt.Sprintf("The search was stopped (%s): another plan could be up to %s dB louder %s", p.Stop, s.Figure(p.GapDB, 1), when)
	if order == catalog.PlanFair {
		return words + ", nearer to the best on the way, or throw less away."
	}
	return words + "."
}
