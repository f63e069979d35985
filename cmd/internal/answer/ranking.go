package answer

import (
	"cmp"
	"fmt"
	"strings"

	"loudfor/catalog"
	"loudfor/cmd/internal/table"
	"loudfor/optimizer"
)

// Pick writes the whole answer to "which builds are the loudest?".
func (p *Page) Pick(q Question, r optimizer.Result) {
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

// question says what was asked, so that a printed page explains itself.
func (p *Page) question(q Question) {
	b := q.Brief
	title := "The loudest builds for " + b.Cap.String() + ", everything included"
	if b.Name != "" {
		title += ": " + b.Name
	}
	p.printf("%s\n", p.style.Bold(title))
	p.asked(q, "; ranked by "+goalWords(q.Brief.Goal))
	p.pair("front", "%s", frontRule(b))
	p.pair("catalogue", "%s", catalogueWords(q))
}

// asked are the lines that pick and predict have in common; ranking is what
// the reading's line says besides.
func (p *Page) asked(q Question, ranking string) {
	b := q.Brief
	car := q.Vehicle.Name
	if q.Vehicle.Space != (catalog.Size3{}) {
		space := q.Vehicle.Space
		if b.Space != (catalog.Size3{}) {
			space = b.Space
		}
		car += ", space for boxes " + centimetres(space)
	}
	if boot := q.Vehicle.Boot; boot != ([2]float64{}) {
		car += fmt.Sprintf(" through an opening of %s x %s cm", plain(round1(boot[0]*100)), plain(round1(boot[1]*100)))
	}
	if amps := cmp.Or(b.Alternator, q.Vehicle.Alternator); amps > 0 && !q.Vehicle.OpenField {
		car += ", alternator " + plain(amps) + " A"
	}
	p.pair("car", "%s", car)
	if !q.Vehicle.OpenField {
		p.pair("reading", "%s%s", where(b.Place, b.Openings), ranking)
	}
}

func goalWords(g catalog.Goal) string {
	if g == catalog.GoalMusic {
		return "music: the loudest balanced playback"
	}
	return "reading: the highest level on a meter"
}

// where is the place and what is open.
func where(place, openings string) string {
	switch {
	case place == "":
		return openings
	case place[0] >= '0' && place[0] <= '9' && strings.Count(place, " ") > 1: // a point in the car
		return "at the point " + place + ", " + openings
	case place[0] >= '0' && place[0] <= '9': // a distance, not a place of a car
		return place + " away, " + openings
	case openings == "":
		return "at the " + place
	}
	return "at the " + place + ", " + openings
}

func frontRule(b catalog.Brief) string {
	text := [...]string{"stays as it is", "is replaced", "stays or is replaced, whichever wins"}[b.Front]
	var owned []string
	for _, mention := range b.Owned {
		owned = append(owned, mention.SKU)
	}
	if len(owned) > 0 {
		text += "; owned: " + list(owned)
	}
	return text
}

func catalogueWords(q Question) string {
	text := plural(q.Parts, "part")
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
		{Title: "rank"}, {Title: "price", Right: true}, {Title: "reading", Right: true},
		{Title: "at", Right: true}, {Title: "music", Right: true},
		{Title: "limit", Width: 9}, {Title: "parts to buy", Fill: true},
	}
	var rows [][]string
	for _, b := range builds {
		rank := fmt.Sprint(b.Rank)
		if b.Tie && b.Rank > 1 {
			rank += " tie"
		}
		rows = append(rows, []string{
			rank, b.Cost.String(), banded(b.Reading.DB, b.Reading.Band), hertz(b.Reading.Hz),
			banded(b.Music.DB, b.Music.Band), b.Operation.Limit.String(), partWords(b.Lines),
		})
	}
	p.table("", columns, rows)
}

// partWords names what has to be bought.
func partWords(lines []optimizer.Line) string {
	var words []string
	for _, line := range lines {
		bought := line.Count - line.Owned
		if bought == 0 {
			continue
		}
		text := line.Part.SKU
		if line.Part.Name != "" {
			text = line.Part.Name
		}
		if bought > 1 {
			text = fmt.Sprintf("%d x %s", bought, text)
		}
		words = append(words, text)
	}
	if len(words) == 0 {
		return "nothing"
	}
	return strings.Join(words, "; ")
}
