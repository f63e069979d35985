package answer

import (
	"fmt"
	"io"
	"strings"

	"loudfor/cmd/internal/cutlist"
	"loudfor/cmd/internal/facts"
	"loudfor/model/air"
	"loudfor/optimizer"
	"loudfor/optimizer/workshop"
)

// Boxes that the shop builds: a line or two in a ranking, and the carpenter's
// page.

// Built says of a ranking what its built boxes are and how far the search for
// them goes.
func (p *Page) Built(q facts.Question, s *workshop.Shop, builds []optimizer.Build) {
	if s == nil {
		return
	}
	p.head("Boxes built in the shop")
	if s.Why != nil {
		p.say("%s", facts.Sentence(s.Why.Error()))
		return
	}
	words := BuiltWords(q, s, builds)
	for _, text := range words {
		p.item("%s", text)
	}
	if len(words) == 0 {
		p.say("None of the builds has one: boxes that are ready made do as well for less.")
	}
	p.reach(s)
}

// BuiltWords say of each built box of ranked builds what it is, once.
func BuiltWords(q facts.Question, s *workshop.Shop, builds []optimizer.Build) (words []string) {
	told := map[string]bool{}
	for i := range builds {
		b := s.Of(&builds[i])
		if b == nil || told[b.Part.SKU] {
			continue
		}
		told[b.Part.SKU] = true
		where := ""
		if builds[i].Rank > 0 {
			where = fmt.Sprintf(" (%d above)", builds[i].Rank)
		}
		words = append(words, fmt.Sprintf("%s%s: %s", b.Part.SKU, where, builtWords(q, b)))
	}
	return words
}

// builtWords says what a box is, and what it takes.
func builtWords(q facts.Question, b *workshop.Box) string {
	j := b.Joinery
	text := fmt.Sprintf("%s net, %s", litres(j.Net(j.Displacement())), j.Enclosure.Kind)
	if hz := cutlist.Tuning(b, air.At(q.Brief.Celsius)); hz > 0 {
		text += fmt.Sprintf(" at %s", facts.Hertz(hz))
	}
	return text + fmt.Sprintf("; %s of %s and %s h at %s: %s", facts.Plural(b.Nesting.Sheets, "sheet"), b.Sheet.SKU, facts.Fixed(b.Hours, 1), b.Workshop.SKU, b.Part.Price)
}

// rebuilt says which boxes an answer to new prices has built.
func (p *Page) rebuilt(q facts.Question, s *workshop.Shop, builds ...*optimizer.Build) {
	if s == nil {
		return
	}
	p.head("Boxes built in the shop")
	if s.Why != nil {
		p.say("%s", facts.Sentence(s.Why.Error()))
		return
	}
	told := map[string]bool{}
	for _, build := range builds {
		if build == nil {
			continue
		}
		if b := s.Of(build); b != nil && !told[b.Part.SKU] {
			told[b.Part.SKU] = true
			p.item("%s, at the new prices: %s", b.Part.SKU, builtWords(q, b))
		}
	}
	if len(told) == 0 {
		p.say("Neither build has one.")
	}
	p.say("%d boxes were held against both states of the prices: those thought of at the old ones, made again at the new, and those that the new ones bring. Material and work matter where one of them does.", len(s.Boxes))
}

// reach says what the search for boxes covers, and what it does not.
func (p *Page) reach(s *workshop.Shop) {
	p.say("%d boxes were worked out for %d of %d drivers in so many a box, and %d taken into the catalogue; those of the best builds were refined in %s until the best gained less than %g dB.",
		s.Considered, s.Pairs, s.AllPairs, len(s.Boxes), facts.Plural(s.Rounds, "round"), workshop.Tolerance)
	p.say("The proof is that of the catalogue with these boxes. Volumes and ports are continuous, so it is none over all boxes that could be built: a refined box is within %g dB of the best of a fine grid for its own driver, amplifier and money.", workshop.GridTolerance)
}

// widestPlan keeps a plan of the sheets on a screen, cells.
const widestPlan = 93

func litres(v float64) string { return facts.Three(1000*v) + " L" }

// Box is the carpenter's page of one box with what its build will do.
func (p *Page) Box(q facts.Question, b optimizer.Build, box *workshop.Box, s *workshop.Shop, bought *optimizer.Build) {
	title := "Box to build: " + box.Part.SKU
	if q.Brief.Name != "" {
		title += ", " + q.Brief.Name
	}
	p.heading(title)
	p.asked(q, "")
	if q.Invented {
		p.pair("catalogue", "%s", catalogueWords(q))
	}
	figure := fmt.Sprintf("%s at %s; music %s; %s, everything included", facts.Banded(b.Reading.DB, b.Reading.Band), facts.Hertz(b.Reading.Hz), facts.Banded(b.Music.DB, b.Music.Band), b.Cost)
	p.pair("build", "%s", figure)
	p.pair("parts", "%s", facts.Bought(b.Lines))
	if bought != nil {
		p.pair("ready made", "the best build of all buys its box: %s for %s", facts.Decibels(bought.Objective), bought.Cost)
	}
	p.head("What it is")
	for _, f := range cutlist.Facts(box, air.At(q.Brief.Celsius)) {
		p.pair(f.Name, "%s", f.Text)
	}
	p.head("Cut list")
	columns, rows := cutlist.Table(box)
	p.table(margin, columns, rows)
	p.head("Plan of the sheets")
	p.say("%s.", cutlist.Caption(box))
	p.drawn(func(w io.Writer) error {
		_, err := io.WriteString(w, indentLines(cutlist.Text(box, min(p.width-len(margin), widestPlan))))
		return err
	})
	p.curve(b.Curve)
	p.remarks(b)
	p.head("To predict or cut it again")
	p.say("Put these lines into a build file beside the keys of the brief:")
	p.drawn(func(w io.Writer) error {
		lines := append([]string{"parts: [" + mentions(b.Lines) + "]"}, cutlist.Lines(box)...)
		_, err := io.WriteString(w, indentLines(strings.Join(lines, "\n")+"\n"))
		return err
	})
	if s != nil {
		p.head("How it was found")
		p.reach(s)
	}
	p.cautions()
}

// mentions are the parts as a build file names them.
func mentions(lines []optimizer.Line) string {
	var words []string
	for _, l := range lines {
		text := l.Part.SKU
		if l.Count > 1 {
			text = fmt.Sprintf("%q", fmt.Sprintf("%s x %d", text, l.Count))
		}
		words = append(words, text)
	}
	return strings.Join(words, ", ")
}

func indentLines(text string) string {
	return margin + strings.ReplaceAll(strings.TrimSuffix(text, "\n"), "\n", "\n"+margin) + "\n"
}
