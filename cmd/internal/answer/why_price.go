package answer

import (
	"fmt"
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
	columns := []table.Column{{Title: "part"}, {Title: "now", Right: true}, {Title: "from", Right: true}, {Title: "up to", Right: true}, {Title: "below, above", Fill: true}}
	var rows [][]string
	for _, r := range t.Ranges {
		from, to := r.Least.Decimal(), r.Most.Decimal()
		if r.Free {
			from = "any"
		}
		if r.Open {
			to = "any"
		}
		sku := r.Part.SKU
		if r.In {
			sku += " *"
		}
		rows = append(rows, []string{sku, r.Price.Decimal(), from, to, otherwise(r)})
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
		return "above: " + skuWords(bought(r.Above))
	case r.Open:
		return "below: " + skuWords(bought(r.Below))
	case r.Dead:
		return "below: " + skuWords(bought(r.Below)) + "; above, nothing can be built"
	}
	return "below: " + skuWords(bought(r.Below)) + "; above: " + skuWords(bought(r.Above))
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
	title := "Why not " + v.Part.SKU
	if v.Answer == advice.InBest {
		title = "Why " + v.Part.SKU
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
	switch v.Answer {
	case advice.InBest:
		p.inBest(b, v)
	case advice.Possible:
		p.head("It would do, and another build is better")
		s := v.With
		p.say("The best build with it: %s, %s; %s, %s.", facts.Banded(s.Build.Objective, s.Build.Band()), s.Build.Cost, apart(s.Difference, s.Tie), dearer(s.Cost))
		p.say("What changes: %s.", facts.Change(b.Lines, s.Build.Lines))
		if s.Tie {
			p.say("The difference is inside its band: a tie. Who likes it better loses nothing that anyone could be sure to hear.")
		}
	case advice.AboveCap:
		p.head("It costs too much")
		p.say("No build with it is within the cap. The cheapest costs %s, which is %s more than the cap.", v.Cheapest, v.Over)
	case advice.Forbidden:
		p.forbidden(v)
	}
	p.chosen(v)
	p.whyEnd(d, false)
}

func (p *Page) inBest(b *optimizer.Build, v *advice.Verdict) {
	p.head("It is in the best build")
	r := v.Role
	if r.Without == nil {
		p.say("Without it nothing can be built.")
	} else {
		p.say("The best build without it: %s, %s: %s.", apart(r.Without.Difference, r.Without.Tie), dearer(r.Without.Cost), facts.Change(b.Lines, r.Without.Build.Lines))
	}
	if r.Cheaper != nil {
		p.say("With the next cheaper one of its kind, %s, and nothing else changed: %s, %s.", r.Instead.SKU, apart(r.Cheaper.Difference, r.Cheaper.Tie), dearer(r.Cheaper.Cost))
	}
}

// forbidden names the rules, and what would have to give way.
func (p *Page) forbidden(v *advice.Verdict) {
	p.head("No build can hold it, whatever it costs")
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
			p.item("%s: %s", r.Kind, r.Words)
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
	p.head("At which price it would be chosen")
	switch {
	case v.Answer == advice.InBest && r.In:
		between := "at any price of it"
		switch {
		case !r.Free && !r.Open:
			between = fmt.Sprintf("from %s to %s for one piece, before tax", r.Least, r.Most)
		case !r.Free:
			between = fmt.Sprintf("from %s for one piece, before tax, with no upper end", r.Least)
		case !r.Open:
			between = fmt.Sprintf("up to %s for one piece, before tax", r.Most)
		}
		p.say("It is; and this build stays the best %s. It costs %s now.", between, r.Price)
		p.beyond(r)
	case r.Free:
		p.say("Not even as a gift: the best build would still do without it.")
	default:
		most := r.Least
		most.Minor--
		p.say("At %s or less for one piece, before tax, all other prices kept; it costs %s now.", most, r.Price)
		p.beyond(r)
	}
}

// beyond is what comes at the ends.
func (p *Page) beyond(r *advice.Range) {
	if r.Below != nil {
		p.say("Just below %s the best build is %s: %s.", r.Least, facts.Banded(r.Below.Objective, 0), skuWords(bought(r.Below)))
	}
	switch {
	case r.Dead:
		p.say("Just above %s nothing can be built.", r.Most)
	case r.Above != nil:
		p.say("Just above %s it is %s: %s.", r.Most, facts.Banded(r.Above.Objective, 0), skuWords(bought(r.Above)))
	}
}
