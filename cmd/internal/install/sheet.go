package install

import (
	"fmt"

	"loudfor/catalog"
	"loudfor/cmd/internal/facts"
	"loudfor/cmd/internal/sheet"
	"loudfor/cmd/internal/table"
)

// Sheet words the plan, section by section in the order of the work.
func (p *Plan) Sheet() sheet.Sheet {
	s := sheet.Sheet{Title: "Sheet for the bay", Facts: p.facts()}
	if name := p.Question.Brief.Name; name != "" {
		s.Title += ": " + name
	}
	s.Sections = []sheet.Section{
		{Title: "Before anything else", Blocks: []sheet.Block{sheet.List(facts.Cautions)}},
		p.partsSection(), p.wiringSection(), p.chainSection(), p.powerSection(),
	}
	s.Sections = append(s.Sections, p.Extra...)
	s.Sections = append(s.Sections, p.fitSection(), p.filterSection(), p.gainSection(), p.readingSection(), p.remarksSection(),
		sheet.Section{Title: "Handed over", Blocks: []sheet.Block{
			sheet.Paragraph("Built, set and metered as on this sheet; the customer has been shown the fuse, the gain and what the level does to ears."),
			sheet.Table{Columns: []table.Column{{Title: "who"}, {Title: "name", Fill: true}, {Title: "date"}, {Title: "signature", Fill: true}},
				Rows: [][]string{{"installer", sheet.Pen, sheet.Pen, sheet.Pen}, {"customer", sheet.Pen, sheet.Pen, sheet.Pen}}},
		}})
	return s
}

// line is a place to write a name on.
const line = sheet.Pen + sheet.Pen + sheet.Pen

func (p *Plan) facts() []sheet.Fact {
	b := &p.Build
	all := []sheet.Fact{{Name: "customer", Text: line}, {Name: "job, date", Text: line}, {Name: "car", Text: p.Question.Vehicle.Name}}
	if !p.Question.Vehicle.OpenField {
		all[2].Text += ", space for boxes " + sizeWords(p.spaceFree())
	}
	all = append(all,
		sheet.Fact{Name: "bass", Text: fmt.Sprintf("%s in %s, %s on %s", facts.Times(b.Bass.Drivers, facts.Name(b.Bass.Part)), p.boxWords(), b.Plan.Mode, facts.Times(b.Bass.Amplifiers, facts.Name(b.Bass.Amplifier)))},
		sheet.Fact{Name: "reading", Text: fmt.Sprintf("%s at %s, %s, %s", facts.Banded(b.Reading.DB, b.Reading.Band), facts.Hertz(b.Reading.Hz), b.Reading.Place, b.Reading.Openings)},
	)
	if p.Question.Invented {
		all = append(all, sheet.Fact{Name: "catalogue", Text: "the built-in demo; it is invented: no maker, shop, product or price in it exists"})
	}
	return all
}

// boxWords names the boxes.
func (p *Plan) boxWords() string {
	b := &p.Build.Bass
	kind := b.Box.Kind.String() + " box"
	if b.Enclosure != nil {
		kind += " " + facts.Name(b.Enclosure)
	}
	if b.Boxes > 1 {
		return fmt.Sprintf("%d of %s", b.Boxes, kind)
	}
	return kind
}

func (p *Plan) partsSection() sheet.Section {
	t := sheet.Table{Columns: []table.Column{{Title: "count", Right: true}, {Title: "part", Fill: true}, {Title: "SKU"}, {Title: "from"}, {Title: "there"}}}
	for _, l := range p.Build.Lines {
		name := l.Part.Name
		if name == "" {
			name = l.Part.Kind.String()
		}
		from := l.Part.Store
		switch {
		case l.Owned == l.Count:
			from = "the customer"
		case l.Owned > 0:
			from += fmt.Sprintf(" (%d the customer's)", l.Owned)
		}
		t.Rows = append(t.Rows, []string{fmt.Sprint(l.Count), name, l.Part.SKU, from, penShort})
	}
	for _, what := range facts.ToAdd(p.Question, p.Build) {
		t.Rows = append(t.Rows, []string{"1", what, "", "to buy, in no price", penShort})
	}
	return sheet.Section{Title: "Parts", Blocks: []sheet.Block{t}}
}

// penShort is a place for a tick.
const penShort = sheet.Pen

func (p *Plan) fitSection() sheet.Section {
	t := sheet.Table{Columns: []table.Column{{Title: "what", Fill: true}, {Title: "needs", Width: 30}, {Title: "has"}, {Title: "verdict", Fill: true}}}
	bad := false
	for _, c := range p.Fit {
		t.Rows = append(t.Rows, []string{c.What, c.Needs, c.Has, c.Verdict})
		bad = bad || c.Bad
	}
	s := sheet.Section{Title: "Fit"}
	if bad {
		s.Blocks = append(s.Blocks, sheet.Warning("By what the cards state not everything fits: see the table before anything is cut."))
	}
	s.Blocks = append(s.Blocks, t)
	if box := p.Build.Bass.Box; len(box.Kind.String()) > 0 && p.Build.Bass.Part.Kind == catalog.KindSubwoofer {
		s.Blocks = append(s.Blocks, sheet.Steps{
			"Try the box through the opening of the boot and in its place before the drivers go in.",
			"Lead the wires out, seal the terminal cup and every joint: a leak is heard as a hiss and read as a lower level.",
			"Set the drivers on their gaskets, screws crosswise, no more than tight.",
			"Tie the box down: it weighs as much as a passenger when the car stops at once.",
		})
	}
	return s
}

func (p *Plan) remarksSection() sheet.Section {
	s := sheet.Section{Title: "What the prediction rests on"}
	if len(p.Build.Warnings) > 0 {
		s.Blocks = append(s.Blocks, sheet.Paragraph("To look at:"), sheet.List(p.Build.Warnings))
	}
	assumed := p.Build.Assumed
	if len(assumed) == 0 {
		return sheet.Section{Title: s.Title, Blocks: append(s.Blocks, sheet.Paragraph("Nothing was assumed: every figure was stated."))}
	}
	s.Blocks = append(s.Blocks, sheet.Paragraph("Assumed, because nobody stated it:"), sheet.List(facts.Grouped(assumed)))
	return s
}
