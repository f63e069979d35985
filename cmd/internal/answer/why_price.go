package answer

import (
	"slices"

	"loudfor/cmd/internal/facts"
	"loudfor/cmd/internal/table"
	"loudfor/optimizer"
	"loudfor/optimizer/advice"
)

// ranges are the prices between which the answer stays the same.
func (p *Page) ranges(t *advice.Talk) {
	if len(t.Ranges) == 0 {
		return
	}
	p.head("At which prices the answer would be another")
	p.say("The price of one piece before tax, all other prices kept, between which this build stays the best; to the last digit.")
	columns := []table.Column{{Title: "part", Fill: true}, {Title: "now", Right: true}, {Title: "from", Right: true}, {Title: "up to", Right: true}, {Title: "below, above", Fill: true}}
	var rows [][]string
	for _, r := range t.Ranges {
		from, to := r.Least.Decimal(), r.Most.Decimal()
		if r.Free {
			from = "any"
		}
		if r.Open {
			to = "any"
		}
		name := facts.Name(r.Part)
		if r.In {
			name += " *"
		}
		rows = append(rows, []string{name, r.Price.Decimal(), from, to, otherwise(r)})
	}
	p.table(margin, columns, rows)
	dealt := ""
	if slices.ContainsFunc(t.Ranges, func(r advice.Range) bool { return r.In && r.Open }) {
		dealt = " Of a part that is bought by a deal, or without a cap, the price alone may end nothing."
	}
	p.say("* bought for this build. any: there is no end on that side.%s", dealt)
}

// otherwise says what comes beyond the ends.
func otherwise(r advice.Range) string {
	switch {
	case r.Free && r.Open:
		return "not even as a gift does it change anything"
	case r.Free && r.Dead:
		return "above, nothing can be built"
	case r.Free:
		return "above: " + named(bought(r.Above))
	case r.Open:
		return "below: " + named(bought(r.Below))
	case r.Dead:
		return "below: " + named(bought(r.Below)) + "; above, nothing can be built"
	}
	return "below: " + named(bought(r.Below)) + "; above: " + named(bought(r.Above))
}

// bought are the lines of a build for which money is spent.
func bought(b *optimizer.Build) (lines []optimizer.Line) {
	if b == nil {
		return nil
	}
	for _, l := range b.Lines {
		if l.Count > l.Owned {
			lines = append(lines, l)
		}
	}
	return lines
}

// WhyPart answers for one part.
func (p *Page) WhyPart(q facts.Question, d *advice.Desk, v *advice.Verdict) {
	b := d.Best()
	title := "Why not " + facts.Name(v.Part)
	if v.Answer == advice.InBest {
		title = "Why " + facts.Name(v.Part)
	}
	p.whyHead(q, title, d)
	name := v.Part.Name
	if name == "" {
		name = v.Part.Kind.String()
	}
	price := "without a price"
	if v.Part.Priced {
		price = v.Part.Price.String()
	}
	p.pair("part", "%s, %s, %s", v.Part.SKU, name, price)
	head, lines := facts.Verdict(facts.Terminal{}, b, v)
	p.head(head)
	for _, line := range lines {
		p.say("%s", line)
	}
	if v.Answer == advice.Forbidden {
		p.forbidden(v)
	}
	p.chosen(v)
	p.whyEnd(d, false)
}

// forbidden names the rules, and what would have to give way.
func (p *Page) forbidden(v *advice.Verdict) {
	for _, rule := range v.Rules {
		p.item("%s", rule)
	}
	for _, set := range v.Conflicts {
		if len(set) > 1 {
			p.say("In its way, together:")
		} else {
			p.say("In its way:")
		}
		for _, r := range set {
			p.item("%s", facts.Requirement(r))
		}
		if len(set) > 1 {
			p.say("It could be used as soon as one of these changes:")
		} else {
			p.say("It could be used as soon as this changes:")
		}
		for _, r := range set {
			p.item("%s", r.Remedy)
		}
	}
}

// chosen says from which price on the part would be in the best build.
func (p *Page) chosen(v *advice.Verdict) {
	r := v.Range
	if r == nil {
		return
	}
	p.head(facts.ChosenHead)
	p.say("%s", facts.Chosen(facts.Terminal{}, v))
	if v.Answer == advice.InBest && r.In || !r.Free {
		p.beyond(r)
	}
}

// beyond is what comes at the ends.
func (p *Page) beyond(r *advice.Range) {
	if r.Below != nil {
		p.say("Just below %s the best build is %s: %s.", r.Least, facts.Banded(r.Below.Objective, 0), named(bought(r.Below)))
	}
	switch {
	case r.Dead:
		p.say("Just above %s nothing can be built.", r.Most)
	case r.Above != nil:
		p.say("Just above %s it is %s: %s.", r.Most, facts.Banded(r.Above.Objective, 0), named(bought(r.Above)))
	}
}
