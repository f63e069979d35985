package answer

import (
	"fmt"
	"math"

	"loudfor/catalog"
	"loudfor/cmd/internal/facts"
	"loudfor/cmd/internal/table"
	"loudfor/optimizer"
)

// build writes one build in full: what to buy, how to wire it, what the meters
// will show, what it rests on.
func (p *Page) build(q facts.Question, b optimizer.Build, title string) {
	figure := fmt.Sprintf("%s at %s %s", facts.Banded(b.Reading.DB, b.Reading.Band), facts.Hertz(b.Reading.Hz), facts.Where(b.Reading.Place, b.Reading.Openings))
	if q.Brief.Goal == catalog.GoalMusic {
		figure = "music " + facts.Banded(b.Music.DB, b.Music.Band) + "; reading " + figure
	}
	p.head(title + ": " + figure)
	p.parts(q.Brief, b)
	p.hookup(b)
}

func (p *Page) parts(brief catalog.Brief, b optimizer.Build) {
	columns := []table.Column{
		{Title: "count", Right: true}, {Title: "part", Fill: true}, {Title: "SKU"}, {Title: "store"},
		{Title: "each", Right: true}, {Title: "sum, " + b.Cost.Currency, Right: true},
	}
	var rows [][]string
	for _, line := range b.Lines {
		part := line.Part
		stores, each, cost := part.Store, "owned", "-"
		if line.Owned < line.Count {
			stores, each = boughtAt(line)
			cost = line.Cost.Decimal()
			if line.Owned > 0 {
				each += fmt.Sprintf("\n(%d owned)", line.Owned)
			}
		}
		name := part.Name
		if name == "" {
			name = part.Kind.String()
		}
		rows = append(rows, []string{fmt.Sprint(line.Count), name, part.SKU, stores, each, cost})
	}
	rows = append(rows, extras(b)...)
	rows = append(rows, []string{"", "total", "", "", "", b.Cost.Decimal()})
	if brief.Cap.Currency == b.Cost.Currency && brief.Cap.Minor > 0 {
		rows = append(rows, []string{"", "left of the cap", "", "", "", facts.Less(brief.Cap, b.Cost).Decimal()})
	}
	p.table(margin, columns, rows)
}

// boughtAt names the shops of a line with the price at each; how many come from
// where is said where there are several.
func boughtAt(line optimizer.Line) (stores, each string) {
	from := line.Purchases()
	for i, f := range from {
		if i > 0 {
			stores += "\n"
			each += "\n"
		}
		if len(from) > 1 {
			stores += fmt.Sprintf("%d at ", f.Count)
		}
		stores += f.Store
		each += f.Each.Decimal()
	}
	return stores, each
}

func (p *Page) hookup(b optimizer.Build) {
	p.head("Hookup")
	for _, line := range facts.Hookup(b) {
		p.say("%s", line)
	}
}

// clamp is what an installer's meters will show: the check on the whole chain.
func (p *Page) clamp(b optimizer.Build) {
	c := facts.ClampOf(b)
	p.head(fmt.Sprintf("Expected clamp reading at the peak, %s", facts.Hertz(b.Reading.Hz)))
	p.say("%s V and %s A at %s: %s ohm, nominally %s ohm.", c.Volts, c.Amps, c.Output, c.Load, c.Nominal)
	p.say("%s W real, %s VA apparent, all outputs together.", c.Watts, c.Apparent)
	p.say("Limit: %s.", facts.Limit(b))
}

// sound is music, front stage and what the level does to ears.
func (p *Page) sound(b optimizer.Build) {
	p.head("How it plays")
	p.pair("music", "%s balanced%s", facts.Banded(b.Music.DB, b.Music.Band), facts.Balance(facts.Terminal{}, b))
	p.pair("front", "%s", facts.Front(facts.Terminal{}, b.Front))
	hear := facts.HearingWords(b)
	if caution := facts.Hearing(b).Caution; caution != "" {
		hear += "; " + caution
	}
	p.pair("hearing", "%s", hear)
}

// remarks are the warnings and the assumptions behind the figures.
func (p *Page) remarks(b optimizer.Build) {
	warnings := facts.Warnings(b)
	if len(warnings) > 0 {
		p.head("Warnings")
		for _, warning := range warnings {
			p.item("%s", warning)
		}
	}
	p.head("Assumed")
	if len(b.Assumed) == 0 {
		p.say("Nothing: every figure was stated.")
	}
	for _, assumption := range facts.Grouped(b.Assumed) {
		p.item("%s", assumption)
	}
	if b.Reading.Band > 0 {
		p.item("the band of the reading holds nine meters out of ten, were the parts and the car drawn again; "+
			"it is %s dB each way", facts.Fixed(math.Abs(b.Reading.Band), 1))
	}
}
