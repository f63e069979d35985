package answer

import (
	"cmp"
	"fmt"

	"loudfor/catalog"
	"loudfor/cmd/internal/facts"
	"loudfor/cmd/internal/table"
	"loudfor/optimizer"
)

// Pick writes the whole answer to "which builds are the loudest?": the ranking
// and all that stands behind its first build.
func (p *Page) Pick(q facts.Question, r optimizer.Result) {
	p.question(q)
	if len(r.Builds) == 0 {
		p.none(r)
		p.head("Proof")
		p.proof(r)
		return
	}
	p.printf("\n")
	p.ranking(r.Builds)
	p.ties(r.Builds)
	p.build(q, r.Builds[0], fmt.Sprintf("Build %d", r.Builds[0].Rank))
	p.clamp(r.Builds[0])
	p.sound(r.Builds[0])
	p.remarks(r.Builds[0])
	p.head("Proof")
	p.proof(r)
	p.cautions()
}

// Ranked writes the ranking alone.
func (p *Page) Ranked(builds []optimizer.Build) {
	p.head("Ranked builds")
	p.ranking(builds)
	p.ties(builds)
}

func (p *Page) ties(builds []optimizer.Build) {
	if ties := facts.Ties(facts.Terminal{}, builds); len(ties) > 0 {
		p.head("Ties: as loud as 1, as far as anyone can tell; the cheapest first")
		for _, line := range ties {
			p.item("%s", line)
		}
	}
}

// question says what was asked, so that a printed page explains itself.
func (p *Page) question(q facts.Question) {
	b := q.Brief
	title := "The loudest builds for " + b.Cap.String() + ", everything included"
	if b.Name != "" {
		title += ": " + b.Name
	}
	p.heading(title)
	p.asked(q, "; ranked by "+goalWords(q.Brief.Goal))
	p.pair("front", "%s", facts.FrontRule(b))
	p.pair("catalogue", "%s", catalogueWords(q))
}

// asked are the lines that pick and predict have in common; ranking is what
// the reading's line says besides.
func (p *Page) asked(q facts.Question, ranking string) {
	b := q.Brief
	car := q.Vehicle.Name
	if q.Vehicle.Space != (catalog.Size3{}) {
		space := q.Vehicle.Space
		if b.Space != (catalog.Size3{}) {
			space = b.Space
		}
		car += ", space for boxes " + facts.Centimetres(space.Width, space.Depth, space.Height)
	}
	if boot := q.Vehicle.Boot; boot != ([2]float64{}) {
		car += " through an opening of " + facts.Centimetres(boot[:]...)
	}
	if amps := cmp.Or(b.Alternator, q.Vehicle.Alternator); amps > 0 && !q.Vehicle.OpenField {
		car += ", alternator " + facts.Plain(amps) + " A"
	}
	p.pair("car", "%s", car)
	p.outdated(q.Vehicle)
	if !q.Vehicle.OpenField {
		p.pair("reading", "%s%s", facts.Where(b.Place, b.Openings), ranking)
	}
}

func goalWords(g catalog.Goal) string {
	if g == catalog.GoalMusic {
		return "music: the loudest balanced playback"
	}
	return "reading: the highest level on a meter"
}

func catalogueWords(q facts.Question) string {
	text := facts.Plural(q.Parts, "part")
	if q.Built > 1 {
		text += fmt.Sprintf(" and %d boxes that could be built of them", q.Built)
	}
	if q.Invented {
		text = "the built-in demo, " + text + "; it is invented: no maker, shop, product or price in it exists"
	}
	return text
}

func (p *Page) ranking(builds []optimizer.Build) {
	columns := []table.Column{
		{Title: "rank"}, {Title: "to 1"}, {Title: "price", Right: true}, {Title: "reading", Right: true},
		{Title: "at", Right: true}, {Title: "music", Right: true},
		{Title: "limit", Width: 9}, {Title: "parts to buy", Fill: true},
	}
	var rows [][]string
	for _, b := range builds {
		rank := fmt.Sprint(b.Rank)
		behind := ""
		if b.Rank > 1 {
			behind = facts.Signed(facts.Terminal{}, b.Difference.DB) + facts.Mark(b.Difference, b.Tie)
		}
		rows = append(rows, []string{
			rank, behind, b.Cost.String(), facts.Banded(b.Reading.DB, b.Reading.Band), facts.Hertz(b.Reading.Hz),
			facts.Banded(b.Music.DB, b.Music.Band), b.Operation.Limit.String(), facts.Bought(b.Lines),
		})
	}
	p.table("", columns, rows)
	if len(builds) > 1 {
		p.say("to 1: dB. %s", facts.Marks)
	}
}
