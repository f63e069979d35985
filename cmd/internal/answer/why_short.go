package answer

import (
	"fmt"
	"strings"

	"loudfor/catalog"
	"loudfor/cmd/internal/facts"
	"loudfor/optimizer"
	"loudfor/optimizer/advice"
)

// Why writes the best build's talk on one screen: what holds it back, what
// customers ask, what more or less money would do. more is how to ask for the rest.
func (p *Page) Why(q facts.Question, d *advice.Desk, t *advice.Talk, more string) {
	b := d.Best()
	title := "Why this build"
	if q.Brief.Name != "" {
		title += ": " + q.Brief.Name
	}
	p.heading(title)
	p.where(q)
	what := ""
	if b.ByMusic {
		what = " with music"
	}
	p.say("%s%s for %s: %s.", facts.Banded(b.Objective, b.Band()), what, b.Cost, facts.Bought(b.Lines))
	p.heading("What holds it back")
	p.say("It is loudest at %s, and there %s%s.", facts.Hertz(t.Limits.Hz), facts.RunsOut(t.Limits.Binding), strings.TrimPrefix(facts.Limit(*b), t.Limits.Binding.String()))
	if b.ByMusic {
		p.sides(b, t.Limits)
	} else {
		p.lifted(t.Limits)
	}
	if t.Asked != nil {
		p.heading(facts.AskedHead)
		p.askedOf(b, t)
	}
	p.heading("What other money would do")
	for _, words := range sums(q, b, t) {
		p.item("%s", words)
	}
	proof := facts.Proof(facts.Terminal{}, d.Result)
	switch {
	case t.Stopped:
		proof = "The search was stopped: what is shown is exact, and not all was looked at."
	case d.Result.Outcome == optimizer.Optimal && b.Fault == "":
		proof = "Proven, each by a search of its own over all builds of this catalogue."
	}
	p.item("%s %s", proof, facts.Sentence(facts.Caution(*b)))
	p.item("%s", more)
}

// askedOf writes what customers ask.
func (p *Page) askedOf(b *optimizer.Build, t *advice.Talk) {
	for _, a := range facts.Asked(facts.Terminal{}, *b, t.Asked) {
		p.pair(a.Name, "%s", a.Words)
	}
}

// sums say what more money buys that would be noticed, and where less would do.
func sums(q facts.Question, b *optimizer.Build, t *advice.Talk) (lines []string) {
	last, most := 0.0, catalog.Money{}
	for _, c := range t.Changes {
		most = c.Extra
		if c.Nothing || c.Difference.DB < last+optimizer.Noticed {
			continue
		}
		last = c.Difference.DB
		lines = append(lines, fmt.Sprintf("%s more: %s for %s: %s.", c.Extra, facts.Apart(facts.Terminal{}, c.Difference, c.Tie), c.Build.Cost, facts.Change(b.Lines, c.Build.Lines)))
	}
	switch {
	case q.Brief.Cap == (catalog.Money{}):
		lines = append(lines, "No cap is stated: this is the best that money can buy.")
	case len(lines) == 0 && len(t.Changes) > 0:
		lines = append(lines, fmt.Sprintf("Up to %s more buy nothing that is %s dB louder, about what a listener notices.", most, facts.Plain(optimizer.Noticed)))
	}
	for _, w := range t.Wastes {
		lines = append(lines, fmt.Sprintf("%s: %s, and no meter shows the difference.", facts.Dearer(facts.Terminal{}, w.Cost), facts.Change(b.Lines, w.Build.Lines)))
	}
	if len(t.Wastes) == 0 && !t.Stopped {
		lines = append(lines, "No money is wasted: every cheaper build is quieter, if only on a meter.")
	}
	return lines
}
