package answer

import (
	"fmt"
	"io"
	"slices"

	"loudfor/catalog"
	"loudfor/cmd/internal/chart"
	"loudfor/cmd/internal/curve"
	"loudfor/cmd/internal/facts"
	"loudfor/cmd/internal/table"
	"loudfor/optimizer"
)

// Ladder writes what every price buys, step by step where a step gains at least
// so many dB. worth is what 2 dB are worth to the customer, nil if nobody said;
// full says how the proof comes about, too.
func (p *Page) Ladder(q facts.Question, worth *catalog.Money, r optimizer.LadderResult, least float64, full bool) {
	b := q.Brief
	title := "What every price buys"
	if b.Cap != (catalog.Money{}) {
		title += ", up to " + b.Cap.String() + ", everything included"
	}
	if b.Name != "" {
		title += ": " + b.Name
	}
	p.heading(title)
	if full || len(r.Steps) == 0 {
		p.asked(q, "; the best by "+goalWords(b.Goal))
		p.pair("front", "%s", facts.FrontRule(b))
		p.pair("catalogue", "%s", catalogueWords(q))
		p.printf("\n")
	} else {
		p.where(q)
	}
	result := optimizer.Result{Outcome: r.Outcome, Stop: r.Stop, Proof: r.Proof, Conflicts: r.Conflicts}
	if len(r.Steps) == 0 {
		p.none(result)
		p.completes(b, r)
		p.head("Proof")
		p.counts(r.Proof)
		p.say("%s", facts.Proof(facts.Terminal{}, result))
		return
	}
	listed := optimizer.Thin(r.Steps, least)
	p.steps(worth, listed)
	if marked(listed) {
		p.say("%s", facts.Marks)
	}
	if n := len(r.Steps) - len(listed); n > 0 {
		p.say("%s of less than %s dB are left out; --all lists them.", facts.Plural(n, "step"), facts.Plain(least))
	}
	p.staircase(b, worth, r, full)
	p.worth(worth, r)
	if !full {
		p.completeShort(r)
		p.ladderProof(r)
		p.say("%s --full says the rest.", facts.Sentence(facts.Caution(r.Steps[len(r.Steps)-1].Build)))
		return
	}
	p.completes(b, r)
	p.head("Proof")
	p.counts(r.Proof)
	p.ladderProof(r)
	p.cautions()
}

// steps is the table of the steps.
func (p *Page) steps(worth *catalog.Money, steps []optimizer.Step) {
	columns := []table.Column{
		{Title: "step", Right: true}, {Title: "from", Right: true}, {Title: "level", Right: true}, {Title: "gain", Right: true},
		{Title: "for", Right: true}, {Title: "per dB", Right: true}, {Title: "2 dB more", Right: true}, {Title: "what changes", Fill: true},
	}
	changes := facts.Changes(steps)
	var rows [][]string
	for i := range steps {
		s := &steps[i]
		gain, extra, per := "", "", ""
		if i > 0 {
			gain, extra = facts.Fixed(s.Rise, facts.Finer(s.Rise))+facts.Mark(s.Over(), s.Tie), s.Extra.Decimal()
			per = facts.Three(major(s.Extra) / s.Rise)
		}
		rows = append(rows, []string{fmt.Sprint(i + 1), s.Build.Cost.Decimal(), facts.Banded(s.Build.Objective, s.Build.Band()), gain, extra, per, next(s, worth), changes[i]})
	}
	p.table("", columns, rows)
}

// marked tells whether any gain has a mark.
func marked(steps []optimizer.Step) bool {
	return slices.ContainsFunc(steps, func(s optimizer.Step) bool { return s.Tie || s.Over().Uncertain() })
}

// major is a sum in major units.
func major(m catalog.Money) float64 {
	var value float64
	if _, err := fmt.Sscan(m.Decimal(), &value); err != nil {
		return float64(m.Minor)
	}
	return value
}

// next is what LadderRise more costs, marked where that is too much.
func next(s *optimizer.Step, worth *catalog.Money) string {
	text := s.Next.Decimal()
	if s.Open {
		if s.Next.Currency == "" || s.Next.Minor < 0 {
			return "-"
		}
		text = "> " + text
	}
	if worth != nil && s.Steep(*worth) {
		text += " !"
	}
	return text
}

// shortStairs leaves room for the rest on one screen, rows.
const shortStairs = 9

// staircase is the chart of level against price.
func (p *Page) staircase(b catalog.Brief, worth *catalog.Money, r optimizer.LadderResult, full bool) {
	stairs := curve.Ladder("level, dB, against price", r.Steps, worth, b.Cap)
	if !full {
		stairs.Rows = shortStairs
	}
	p.drawn(func(w io.Writer) error { return chart.Text(w, p.width, stairs) })
	legend := "V: best value; K: the knee, up to which money buys more than on the whole"
	if worth != nil {
		legend += fmt.Sprintf("; !: where 2 dB more cost more than %s", worth)
	}
	p.say("%s.", legend)
}

// worth says where to stop.
func (p *Page) worth(worth *catalog.Money, r optimizer.LadderResult) {
	if worth == nil {
		return
	}
	p.head(fmt.Sprintf("Where 2 dB more cost more than %s", worth))
	at := r.WorthUpTo(*worth)
	if at < 0 {
		p.say("Nowhere up to the cap.")
		return
	}
	s := &r.Steps[at]
	cost := "cost " + s.Next.String()
	if s.Open {
		cost = "cost more than the " + s.Next.String() + " that the cap leaves"
	}
	p.say("From %s on: %s; there 2 dB more %s.", s.Build.Cost, facts.Decibels(s.Build.Objective), cost)
	var again []string
	for i := at + 1; i < len(r.Steps); i++ {
		if s := &r.Steps[i]; !s.Open && !s.Steep(*worth) && r.Steps[i-1].Steep(*worth) {
			again = append(again, s.Build.Cost.String())
		}
	}
	if len(again) > 0 {
		p.say("Further up it is less than that once more, from %s on.", facts.List(again))
	}
}

// completes is the lowest price of a system with a new front stage.
func (p *Page) completes(b catalog.Brief, r optimizer.LadderResult) {
	p.head("Lowest price of a complete system, bass and new front stage")
	switch c := r.Complete; {
	case c != nil:
		above := ""
		if b.Cap != (catalog.Money{}) && c.Cost.Minor > b.Cap.Minor {
			above = ", " + facts.Less(c.Cost, b.Cap).String() + " above the cap"
		}
		p.say("%s%s, at %s: %s.", c.Cost, above, facts.Banded(c.Objective, c.Band()), facts.Bought(c.Lines))
	case r.Stop == optimizer.StopComplete:
		p.say("There is none: the catalogue has no front stage that satisfies the brief.")
	default:
		p.say("Not known: the search was stopped.")
	}
}

// completeShort is its price alone.
func (p *Page) completeShort(r optimizer.LadderResult) {
	if c := r.Complete; c != nil {
		p.say("With a new front stage as well: from %s on, at %s.", c.Cost, facts.Banded(c.Objective, c.Band()))
	}
}

// ladderProof says why the ladder can be trusted, or how far.
func (p *Page) ladderProof(r optimizer.LadderResult) {
	for _, line := range facts.LadderProof(facts.Terminal{}, r) {
		p.say("%s", line)
	}
}
