package answer

import (
	"fmt"
	"strings"

	"loudfor/catalog"
	"loudfor/cmd/internal/facts"
	"loudfor/cmd/internal/table"
	"loudfor/optimizer"
)

// Choices writes the answer that a builder would give: the loudest build, the
// best value and the best by the other goal, on one screen. more is how to ask
// for the rest; empty where the rest follows. Nothing is said without a build.
func (p *Page) Choices(q facts.Question, a *optimizer.Answers, within float64, more string) {
	if len(a.Builds) == 0 {
		return
	}
	b := q.Brief
	title := "What " + b.Cap.String() + " buys, everything included"
	if b.Cap == (catalog.Money{}) {
		title = "What money buys"
	}
	if b.Name != "" {
		title += ": " + b.Name
	}
	p.heading(title)
	p.where(q)
	all, cards := facts.Choices(b, a), facts.Cards(facts.Terminal{}, b, a)
	p.choiceTable(b, a, all)
	first := all[0]
	for _, c := range cards {
		p.heading(facts.Sentence(c.Name + ": " + c.Held))
		p.say("%s. %s", c.Parts, c.Hookup)
	}
	for _, c := range cards[1:] {
		p.item("%s: %s", c.Name, c.Trade)
	}
	if len(first.Names) > 1 && first.Names[1] == "best value" {
		p.item("No cheaper build comes within %s dB of the first.", facts.Plain(within))
	}
	idle := facts.Idle(facts.Terminal{}, b, a)
	for i, l := range idle {
		text := strings.TrimSpace("Owned and idle: " + l.Part + ". " + l.Words)
		if more != "" && !p.fits(text, choiceLines) {
			if text = "Owned and idle: " + l.SKU; i+1 < len(idle) {
				text += fmt.Sprintf(" and %d more", len(idle)-i-1)
			}
			p.item("%s. See loudfor why --part %s.", text, l.SKU)
			break
		}
		p.item("%s", text)
	}
	proof := facts.Proof(facts.Terminal{}, a.Result)
	if a.Whole {
		proof = "Proven: no build of this catalogue does better."
	}
	for _, c := range all {
		if words := facts.NotConfirmed(c.Build); words != "" {
			proof = words
			break
		}
	}
	p.item("%s It rests on %s. %s", proof, facts.Plural(len(first.Build.Assumed), "assumption"), facts.Sentence(facts.Caution(first.Build)))
	if !a.Whole {
		p.item("The search was stopped: a better value or another choice may exist.")
	}
	if more != "" {
		p.item("%s", more)
		return
	}
	p.printf("\n")
}

// choiceLines leave room on a screen of 30 lines for the proof and what comes below it.
const choiceLines = 25

// where says the car and the meter in it, and what is no longer true of the car.
func (p *Page) where(q facts.Question) {
	where := q.Vehicle.Name
	if !q.Vehicle.OpenField {
		where += ", meter " + facts.Where(q.Brief.Place, q.Brief.Openings)
	}
	if q.Invented {
		where += "; an invented demo"
	}
	p.say("%s.", where)
	if q.Vehicle.Outdated != "" {
		p.item("%s", facts.Sentence(q.Vehicle.Outdated))
	}
}

// choiceTable is the figures side by side, and what plays in the car today.
func (p *Page) choiceTable(b catalog.Brief, a *optimizer.Answers, all []facts.Choice) {
	columns := []table.Column{{Title: "", Fill: true}, {Title: "price, " + all[0].Build.Cost.Currency, Right: true}}
	capped := b.Cap != (catalog.Money{})
	if capped {
		columns = append(columns, table.Column{Title: "left", Right: true})
	}
	columns = append(columns, table.Column{Title: "reading", Right: true}, table.Column{Title: "music", Right: true})
	var rows [][]string
	row := func(name, price, left, reading, music string) {
		r := []string{name, price}
		if capped {
			r = append(r, left)
		}
		rows = append(rows, append(r, reading, music))
	}
	for _, c := range all {
		build := c.Build
		left := ""
		if capped {
			left = facts.Less(b.Cap, build.Cost).Decimal()
		}
		row(c.Name(), build.Cost.Decimal(), left, facts.Banded(build.Reading.DB, build.Reading.Band), facts.Banded(build.Music.DB, build.Music.Band))
	}
	if f := a.Before; f != nil {
		row("the car today", "", "", "no bass", facts.Banded(f.DB, f.Band))
	}
	p.table(margin, columns, rows)
}
