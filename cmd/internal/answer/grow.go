package answer

import (
	"fmt"

	"loudfor/cmd/internal/facts"
	"loudfor/cmd/internal/table"
	"loudfor/optimizer/growth"
)

// Grow writes a plan in steps: the figures side by side, each step in words, and what
// the plan is given up for.
func (p *Page) Grow(q facts.Question, a *growth.Answer) {
	plan := &a.Plan
	title := "What to buy first"
	if q.Brief.Name != "" {
		title += ": " + q.Brief.Name
	}
	p.heading(title)
	p.where(q)
	if len(plan.Steps) == 0 {
		p.say("%s", "The search was stopped before it found a plan.")
		return
	}
	p.say("Looked for: %s.", facts.OrderWords(q.Brief.Order))
	s := facts.Terminal{}
	columns := []table.Column{{Title: "step", Right: true}, {Title: "spendable", Right: true}, {Title: "spent", Right: true}, {Title: "left", Right: true},
		{Title: "level", Right: true}, {Title: "from nothing", Right: true}, {Title: "behind", Right: true}}
	var rows [][]string
	for i := range plan.Steps {
		step := &plan.Steps[i]
		nothing, behind := "", ""
		if step.Best != nil {
			nothing = facts.Banded(step.Best.Objective, step.Best.Band())
			behind = facts.Fixed(-step.Behind.DB, 1) + " dB" + facts.Mark(step.Behind, step.Tie)
		}
		rows = append(rows, []string{fmt.Sprint(i + 1), step.Cash.Decimal(), step.Build.Cost.Decimal(), step.Left.Decimal(),
			facts.Banded(step.Build.Objective, step.Build.Band()), nothing, behind})
	}
	p.table(margin, columns, rows)
	for _, g := range facts.GrownSteps(s, plan) {
		p.heading(g.Title)
		p.say("Buy: %s.", g.Buys)
		if g.Sold != "" {
			p.say("Sell: %s.", g.Sold)
		}
		if g.Idle != "" {
			p.say("Idle from now on: %s.", g.Idle)
		}
		p.say("%s", g.Wired)
	}
	if len(a.Ways) > 0 {
		p.ways(s, a.Ways)
	}
	p.heading("What the steps cost")
	for _, words := range []string{facts.Regret(s, plan), facts.Instead(s, plan, a.Naive, q.Brief.Order), facts.GrowthProof(s, plan, q.Brief.Order)} {
		if words != "" {
			p.item("%s", words)
		}
	}
	p.item("%s", facts.Sentence(facts.Caution(plan.Last().Build)))
}

// ways writes the two ways to power bass and doors side by side.
func (p *Page) ways(s facts.Speaker, all []growth.Plans) {
	p.heading(facts.WaysHead)
	rows, sentence, amplifiers := facts.Ways(s, all)
	columns := []table.Column{{Title: "", Fill: true}, {Title: "step", Right: true}, {Title: "in all", Right: true},
		{Title: facts.WayNames[growth.Apart], Right: true}, {Title: facts.WayNames[growth.Together], Right: true}, {Title: "difference", Right: true}}
	var cells [][]string
	for _, r := range rows {
		cells = append(cells, []string{r.Goal, r.Step, r.Budget, r.Levels[growth.Apart], r.Levels[growth.Together], r.Behind})
	}
	p.table(margin, columns, cells)
	p.say("%s", sentence)
	for _, words := range amplifiers {
		p.item("%s", words)
	}
}
