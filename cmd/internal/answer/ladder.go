package answer

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"loudfor/catalog"
	"loudfor/cmd/internal/chart"
	"loudfor/cmd/internal/table"
	"loudfor/optimizer"
)

// Ladder writes what every price buys. worth is what 2 dB are worth to the
// customer, nil if nobody said.
func (p *Page) Ladder(q Question, worth *catalog.Money, r optimizer.LadderResult) {
	b := q.Brief
	title := "What every price buys"
	if b.Cap != (catalog.Money{}) {
		title += ", up to " + b.Cap.String() + ", everything included"
	}
	if b.Name != "" {
		title += ": " + b.Name
	}
	p.printf("%s\n", p.style.Bold(title))
	p.asked(q, "; the best by "+goalWords(b.Goal))
	p.pair("front", "%s", frontRule(b))
	p.pair("catalogue", "%s", catalogueWords(q))
	result := optimizer.Result{Outcome: r.Outcome, Stop: r.Stop, Proof: r.Proof, Conflicts: r.Conflicts}
	if len(r.Steps) == 0 {
		p.none(result)
		p.head("Proof")
		p.counts(r.Proof)
		p.outcome(result)
		return
	}
	p.printf("\n")
	p.steps(worth, r)
	if ties(r.Steps) {
		p.say("tie: the gain is inside its own band, so maybe the money buys nothing.")
	}
	p.printf("\n")
	p.staircase(b, worth, r)
	p.worth(worth, r)
	p.completes(b, r)
	p.head("Proof")
	p.counts(r.Proof)
	p.ladderProof(r)
	p.cautions()
}

// steps is the table of the steps.
func (p *Page) steps(worth *catalog.Money, r optimizer.LadderResult) {
	columns := []table.Column{
		{Title: "step", Right: true}, {Title: "from", Right: true}, {Title: "level", Right: true}, {Title: "gain", Right: true},
		{Title: "for", Right: true}, {Title: "per dB", Right: true}, {Title: "2 dB more", Right: true}, {Title: "what changes", Fill: true},
	}
	changes := Changes(r.Steps)
	var rows [][]string
	for i := range r.Steps {
		s := &r.Steps[i]
		gain, extra, per := "", "", ""
		if i > 0 {
			gain, extra = fixed(s.Rise, finer(s.Rise)), s.Extra.Decimal()
			if s.Tie {
				gain += " tie"
			}
			per = three(major(s.Extra) / s.Rise)
		}
		rows = append(rows, []string{fmt.Sprint(i + 1), s.Build.Cost.Decimal(), banded(s.Build.Objective, s.Build.Band()), gain, extra, per, next(s, worth), changes[i]})
	}
	p.table("", columns, rows)
}

// ties tells whether any gain is marked as one.
func ties(steps []optimizer.Step) bool {
	return slices.ContainsFunc(steps, func(s optimizer.Step) bool { return s.Tie })
}

// finer gives small gains the decimals that they need to be more than nothing.
func finer(db float64) int {
	switch {
	case db < 0.01:
		return 3
	case db < 0.1:
		return 2
	}
	return 1
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

// Changes says in words what each step changes against the one before.
func Changes(steps []optimizer.Step) []string {
	words := make([]string, len(steps))
	var before []optimizer.Line
	for i := range steps {
		if lines := steps[i].Build.Lines; i == 0 {
			words[i] = partWords(lines)
		} else {
			words[i] = change(before, lines)
		}
		before = steps[i].Build.Lines
	}
	return words
}

// blockKinds are the parts of a bass block, which can stand in for each other:
// a loaded enclosure for a driver and its box.
var blockKinds = []catalog.Kind{catalog.KindSubwoofer, catalog.KindEnclosure, catalog.KindLoaded}

// change compares kind by kind: what comes for what, as well, or goes. Where
// the block is made of other kinds than before, it is compared as a whole.
func change(before, after []optimizer.Line) string {
	var in, out [catalog.KindCount][]string
	for kind := range catalog.KindCount {
		in[kind], out[kind] = surplus(after, before, kind), surplus(before, after, kind)
	}
	other := false
	for _, kind := range blockKinds {
		other = other || (len(in[kind]) > 0) != (len(out[kind]) > 0)
	}
	if first := blockKinds[0]; other {
		for _, kind := range blockKinds[1:] {
			in[first], out[first] = append(in[first], in[kind]...), append(out[first], out[kind]...)
			in[kind], out[kind] = nil, nil
		}
	}
	var words []string
	for kind := range catalog.KindCount {
		in, out := in[kind], out[kind]
		switch {
		case len(in) > 0 && len(out) > 0:
			words = append(words, list(in)+" for "+list(out))
		case len(in) > 0:
			words = append(words, list(in)+" as well")
		case len(out) > 0:
			words = append(words, "no "+list(out))
		}
	}
	return strings.Join(words, "; ")
}

// surplus names what a has of a kind beyond b.
func surplus(a, b []optimizer.Line, kind catalog.Kind) (words []string) {
	for _, line := range a {
		n := line.Count
		for _, other := range b {
			if other.Part.SKU == line.Part.SKU {
				n -= other.Count
			}
		}
		if line.Part.Kind != kind || n <= 0 {
			continue
		}
		text := line.Part.SKU
		if n > 1 {
			text = fmt.Sprintf("%d x %s", n, text)
		}
		words = append(words, text)
	}
	return words
}

// staircase is the chart of level against price.
func (p *Page) staircase(b catalog.Brief, worth *catalog.Money, r optimizer.LadderResult) {
	var steps []chart.Step
	for i := range r.Steps {
		s := &r.Steps[i]
		mark := 'o'
		if worth != nil && s.Steep(*worth) {
			mark = '!'
		}
		steps = append(steps, chart.Step{At: major(s.Build.Cost), Level: s.Build.Objective, Mark: mark})
	}
	end := 0.0
	if b.Cap != (catalog.Money{}) {
		end = major(b.Cap)
	}
	title := "level, dB, against price"
	if worth != nil {
		title += fmt.Sprintf("; ! where 2 dB more cost more than %s", worth)
	}
	p.drawn(func(w io.Writer) error { return chart.Steps(w, title, r.Steps[0].Build.Cost.Currency, steps, end) })
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
	p.say("From step %d on: %s, %s; there 2 dB more %s.", at+1, s.Build.Cost, decibels(s.Build.Objective), cost)
	var again []string
	for i := at + 1; i < len(r.Steps); i++ {
		if s := &r.Steps[i]; !s.Open && !s.Steep(*worth) && r.Steps[i-1].Steep(*worth) {
			again = append(again, fmt.Sprint(i+1))
		}
	}
	if len(again) > 0 {
		p.say("Further up it is less than that once more, from %s %s.", stepWord(len(again)), list(again))
	}
}

func stepWord(n int) string {
	if n == 1 {
		return "step"
	}
	return "steps"
}

// completes is the lowest price of a system with a new front stage.
func (p *Page) completes(b catalog.Brief, r optimizer.LadderResult) {
	p.head("Lowest price of a complete system, bass and new front stage")
	switch c := r.Complete; {
	case c != nil:
		above := ""
		if b.Cap != (catalog.Money{}) && c.Cost.Minor > b.Cap.Minor {
			above = ", " + less(c.Cost, b.Cap).String() + " above the cap"
		}
		p.say("%s%s, at %s: %s.", c.Cost, above, banded(c.Objective, c.Band()), partWords(c.Lines))
	case r.Outcome == optimizer.Optimal && r.Stop == optimizer.StopComplete:
		p.say("There is none: the catalogue has no front stage that satisfies the brief.")
	default:
		p.say("Not known: the search was stopped.")
	}
}

// ladderProof says why the ladder can be trusted, or how far.
func (p *Page) ladderProof(r optimizer.LadderResult) {
	if r.Outcome == optimizer.Optimal {
		p.say("Proven at every price: from one step's price to the next, no build of this catalogue that satisfies the brief is better than the lower step; below the first there is none.")
		return
	}
	p.say("The search stopped early (%s): at no price from the first step's on is there a build louder than the step by more than %s.", r.Stop, decibels(r.Proof.GapDB))
	if r.Below != (catalog.Money{}) {
		p.say("Below the first step, from %s on, there may be builds as well.", r.Below)
	}
}
