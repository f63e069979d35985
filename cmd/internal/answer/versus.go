package answer

import (
	"fmt"
	"slices"
	"strings"

	"loudfor/catalog"
	"loudfor/cmd/internal/facts"
	"loudfor/cmd/internal/table"
	"loudfor/cmd/internal/versus"
	"loudfor/optimizer"
)

// Versus writes builds side by side: the same questions, one column for each.
func (p *Page) Versus(q facts.Question, v versus.Versus) {
	title := fmt.Sprintf("%d builds side by side", len(v.Rivals))
	if q.Brief.Name != "" {
		title += ": " + q.Brief.Name
	}
	p.heading(title)
	p.asked(q, "; ranked by "+goalWords(q.Brief.Goal))
	p.pair("catalogue", "%s", catalogueWords(q))
	for i, r := range v.Rivals {
		p.pair(facts.Letter(i), "%s: %s", r.Name, facts.Bought(v.Here[i].Lines))
	}
	p.head("Who wins")
	p.standings(v)
	if q.Brief.Goal == catalog.GoalMusic {
		p.head("Reading, dB, everywhere in the car")
	} else {
		p.head("Reading, dB, everywhere in the car; under it the difference to A with its own band")
	}
	p.everywhere(q, v)
	p.head("The rest, " + facts.Where(v.Here[0].Reading.Place, v.Here[0].Reading.Openings))
	p.sideBySide(q, v)
	p.head("Parts that differ")
	p.differing(v)
	p.versusWarnings(v)
	p.cautions()
}

// standings says how each build stands to the first, in a sentence.
func (p *Page) standings(v versus.Versus) {
	for i, b := range v.Here[1:] {
		p.item("%s", facts.Standing(facts.Terminal{}, facts.Letter(i+1), v.Here[0], b))
	}
}

// everywhere is the table of readings.
func (p *Page) everywhere(q facts.Question, v versus.Versus) {
	spots := v.Spots
	if len(spots) == 0 {
		spots = []versus.Spot{{Place: v.Here[0].Reading.Place, Openings: v.Here[0].Reading.Openings, Builds: v.Here}}
	}
	columns := []table.Column{{Title: "place", Fill: true}}
	for i := range v.Rivals {
		columns = append(columns, table.Column{Title: facts.Letter(i), Right: true})
	}
	var rows [][]string
	for _, s := range spots {
		row := []string{facts.Where(s.Place, s.Openings)}
		for i, b := range s.Builds {
			cell := facts.Banded(b.Reading.DB, b.Reading.Band)
			if i > 0 && q.Brief.Goal != catalog.GoalMusic {
				cell += "\n" + facts.Difference(facts.Terminal{}, b)
			}
			row = append(row, cell)
		}
		rows = append(rows, row)
	}
	p.table(margin, columns, rows)
	if q.Brief.Goal == catalog.GoalMusic {
		p.say("The brief ranks by music; differences in music stand below.")
	}
}

// sideBySide is everything else that a customer chooses by.
func (p *Page) sideBySide(q facts.Question, v versus.Versus) {
	columns := []table.Column{{Title: "", Width: 18}}
	for i := range v.Rivals {
		columns = append(columns, table.Column{Title: facts.Letter(i), Fill: true})
	}
	var rows [][]string
	for _, r := range facts.SideBySide(facts.Terminal{}, q.Brief, v.Here) {
		rows = append(rows, append([]string{r.Name}, r.Cells...))
	}
	p.table(margin, columns, rows)
}

// differing lists what only some of the builds have.
func (p *Page) differing(v versus.Versus) {
	shared := v.Here[0].Lines
	has := func(b optimizer.Build, l optimizer.Line) bool {
		return slices.ContainsFunc(b.Lines, func(m optimizer.Line) bool { return m.Part.SKU == l.Part.SKU && m.Count == l.Count })
	}
	for _, b := range v.Here[1:] {
		shared = slices.DeleteFunc(slices.Clone(shared), func(l optimizer.Line) bool { return !has(b, l) })
	}
	for i, b := range v.Here {
		var words []string
		for _, l := range b.Lines {
			if slices.ContainsFunc(shared, func(m optimizer.Line) bool { return m.Part.SKU == l.Part.SKU }) {
				continue
			}
			words = append(words, countedPart(l))
		}
		if len(words) == 0 {
			words = []string{"nothing else"}
		}
		p.pair(facts.Letter(i)+" alone", "%s", strings.Join(words, "; "))
	}
	var words []string
	for _, l := range shared {
		words = append(words, countedPart(l))
	}
	if len(words) > 0 {
		p.pair("all of them", "%s", strings.Join(words, "; "))
	}
}

// countedPart names a part with its SKU and how many there are.
func countedPart(l optimizer.Line) string {
	text := l.Part.SKU
	if l.Part.Name != "" {
		text = l.Part.Name + " (" + l.Part.SKU + ")"
	}
	text = facts.Times(l.Count, text)
	if l.Owned == l.Count {
		text += ", owned"
	}
	return text
}

// versusWarnings are those of all builds, each once with the builds that it is
// about.
func (p *Page) versusWarnings(v versus.Versus) {
	var texts []string
	about := map[string][]string{}
	for i, b := range v.Here {
		for _, warning := range b.Warnings {
			if about[warning] == nil {
				texts = append(texts, warning)
			}
			about[warning] = append(about[warning], facts.Letter(i))
		}
	}
	if len(texts) == 0 {
		return
	}
	p.head("Warnings")
	for _, text := range texts {
		p.item("%s: %s", facts.List(about[text]), text)
	}
}
