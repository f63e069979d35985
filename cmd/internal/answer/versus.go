package answer

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"loudfor/catalog"
	"loudfor/cmd/internal/facts"
	"loudfor/cmd/internal/table"
	"loudfor/cmd/internal/versus"
	"loudfor/model/hearing"
	"loudfor/optimizer"
)

// Versus writes builds side by side: the same questions, one column for each.
func (p *Page) Versus(q facts.Question, v versus.Versus) {
	title := fmt.Sprintf("%d builds side by side", len(v.Rivals))
	if q.Brief.Name != "" {
		title += ": " + q.Brief.Name
	}
	p.printf("%s\n", p.style.Bold(title))
	p.asked(q, "; ranked by "+goalWords(q.Brief.Goal))
	p.pair("catalogue", "%s", catalogueWords(q))
	for i, r := range v.Rivals {
		p.pair(letter(i), "%s: %s", r.Name, facts.Bought(v.Here[i].Lines))
	}
	p.head("Who wins")
	p.standings(q, v)
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

// letter names a column.
func letter(i int) string { return string(rune('A' + i)) }

// standings says how each build stands to the first, in a sentence.
func (p *Page) standings(q facts.Question, v versus.Versus) {
	a := v.Here[0]
	for i, b := range v.Here {
		if i == 0 {
			continue
		}
		price := "costs the same"
		switch extra := facts.Less(b.Cost, a.Cost); {
		case extra.Minor > 0:
			price = "costs " + extra.String() + " more"
		case extra.Minor < 0:
			price = "costs " + facts.Less(a.Cost, b.Cost).String() + " less"
		}
		diff := fmt.Sprintf("%s +/- %s", facts.Fixed(math.Abs(b.Difference.DB), 1), facts.Fixed(b.Difference.Band, 1))
		switch {
		case b.Tie || math.Abs(b.Difference.DB) < facts.MeterStep:
			p.item("%s and A are a tie: %s dB apart; %s %s", letter(i), diff, letter(i), price)
		case b.Difference.DB > 0:
			p.item("%s is %s dB louder than A, and %s", letter(i), diff, price)
		default:
			p.item("%s is %s dB quieter than A, and %s", letter(i), diff, price)
		}
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
		columns = append(columns, table.Column{Title: letter(i), Right: true})
	}
	var rows [][]string
	for _, s := range spots {
		row := []string{facts.Where(s.Place, s.Openings)}
		for i, b := range s.Builds {
			cell := facts.Banded(b.Reading.DB, b.Reading.Band)
			if i > 0 && q.Brief.Goal != catalog.GoalMusic {
				cell += "\n" + differenceWords(b)
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

// differenceWords is "+1.2 +/- 0.4", and tie where it is one.
func differenceWords(b optimizer.Build) string {
	text := fmt.Sprintf("%s +/- %s", signedDB(b.Difference.DB), facts.Fixed(b.Difference.Band, 1))
	if b.Tie || math.Abs(b.Difference.DB) < facts.MeterStep {
		return "tie " + text
	}
	return text
}

// signedDB is a difference with its sign.
func signedDB(db float64) string {
	text := facts.Fixed(db, 1)
	if db > 0 && strings.Trim(text, "0.") != "" {
		text = "+" + text
	}
	return text
}

// sideBySide is everything else that a customer chooses by.
func (p *Page) sideBySide(q facts.Question, v versus.Versus) {
	columns := []table.Column{{Title: "", Width: 18}}
	for i := range v.Rivals {
		columns = append(columns, table.Column{Title: letter(i), Fill: true})
	}
	var rows [][]string
	row := func(name string, cell func(b optimizer.Build) string) {
		cells := []string{name}
		for _, b := range v.Here {
			cells = append(cells, cell(b))
		}
		rows = append(rows, cells)
	}
	row("price", func(b optimizer.Build) string { return b.Cost.String() + overCap(q.Brief, b) })
	row("reading", func(b optimizer.Build) string {
		return facts.Banded(b.Reading.DB, b.Reading.Band) + " at " + facts.Hertz(b.Reading.Hz)
	})
	row("limit", facts.Limit)
	row("music", func(b optimizer.Build) string {
		text := facts.Banded(b.Music.DB, b.Music.Band)
		if q.Brief.Goal == catalog.GoalMusic && b.Difference != (optimizer.Difference{}) {
			text += "; " + differenceWords(b) + " dB to A"
		}
		return text
	})
	row("front", func(b optimizer.Build) string {
		if b.Front.Power == optimizer.FromNothing {
			return "nothing drives it"
		}
		return facts.Banded(b.Front.DB, b.Front.Band) + " at the seat, " + b.Front.Power.String()
	})
	row("at the clamp", func(b optimizer.Build) string {
		o := b.Operation
		return fmt.Sprintf("%s W real; %s V, %s A, %s ohm", facts.Three(o.Watts), facts.Three(o.Volts), facts.Three(o.Amps), facts.Three(o.Load))
	})
	row("hookup", func(b optimizer.Build) string {
		return fmt.Sprintf("%s, %s ohm", b.Plan.Mode, facts.Plain(b.Plan.Load))
	})
	row("current draw", func(b optimizer.Build) string { return facts.Three(b.Demand) + " A at most" })
	for _, c := range versus.Controls {
		row(c.Name, func(b optimizer.Build) string { return c.Has(b) })
	}
	row("hearing", func(b optimizer.Build) string {
		dba := hearing.Weighted(b.Reading.DB, b.Reading.Hz)
		return fmt.Sprintf("%s dBA; permitted: %s", facts.Fixed(dba, 1), hearing.Words(hearing.PermittedTime(dba)))
	})
	p.table(margin, columns, rows)
}

func overCap(brief catalog.Brief, b optimizer.Build) string {
	if brief.Cap.Currency != b.Cost.Currency || brief.Cap.Minor <= 0 || b.Cost.Minor <= brief.Cap.Minor {
		return ""
	}
	return ", " + facts.Less(b.Cost, brief.Cap).String() + " above the cap"
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
		p.pair(letter(i)+" alone", "%s", strings.Join(words, "; "))
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
	if l.Count > 1 {
		text = fmt.Sprintf("%d x %s", l.Count, text)
	}
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
			about[warning] = append(about[warning], letter(i))
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
