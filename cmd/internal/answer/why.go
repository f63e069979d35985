package answer

import (
	"fmt"
	"math"
	"strings"

	"loudfor/catalog"
	"loudfor/cmd/internal/facts"
	"loudfor/cmd/internal/table"
	"loudfor/model/bass"
	"loudfor/optimizer"
	"loudfor/optimizer/advice"
)

// WhyInFull writes the whole trade-off talk about the best build.
func (p *Page) WhyInFull(q facts.Question, d *advice.Desk, t *advice.Talk) {
	b := d.Best()
	p.whyHead(q, "Why this build", d)
	p.limits(q, b, t.Limits)
	if t.Asked != nil {
		p.head(facts.AskedHead)
		p.askedOf(b, t)
	}
	p.changes(q, b, t)
	p.roles(b, t)
	p.wastes(b, t)
	p.ranges(t)
	p.whyEnd(d, t.Stopped)
}

// WhyNone says that there is no build to talk about, and what would free one.
func (p *Page) WhyNone(q facts.Question, r optimizer.Result) {
	p.whyTitle(q, "Why this build")
	p.none(r)
	p.head("Proof")
	p.proof(r)
}

func (p *Page) whyTitle(q facts.Question, title string) {
	if q.Brief.Name != "" {
		title += ": " + q.Brief.Name
	}
	p.heading(title)
	p.asked(q, "; the best by "+goalWords(q.Brief.Goal))
	p.pair("front", "%s", facts.FrontRule(q.Brief))
	p.pair("catalogue", "%s", catalogueWords(q))
}

func (p *Page) whyHead(q facts.Question, title string, d *advice.Desk) {
	b := d.Best()
	p.whyTitle(q, title)
	limit := ""
	if q.Brief.Cap != (catalog.Money{}) {
		limit = fmt.Sprintf(" of %s", q.Brief.Cap)
	}
	p.pair("best build", "%s, %s%s: %s", facts.Banded(b.Objective, b.Band()), b.Cost, limit, named(b.Lines))
}

// named are the parts of a build.
func named(lines []optimizer.Line) string {
	var words []string
	for _, l := range lines {
		text := facts.Times(l.Count, facts.Name(l.Part))
		if l.Owned == l.Count {
			text += " (owned)"
		}
		words = append(words, text)
	}
	return strings.Join(words, "; ")
}

// limits says what holds the build back, and what is left of the rest.
func (p *Page) limits(q facts.Question, b *optimizer.Build, l advice.Limits) {
	p.head("What holds it back")
	p.say("It is loudest at %s, and there %s%s.", facts.Hertz(l.Hz), facts.RunsOut(l.Binding), strings.TrimPrefix(facts.Limit(*b), l.Binding.String()))
	rows := [][]string{{l.Binding.String(), "0.0 dB", "binds"}}
	for _, m := range l.Margins {
		left, what := facts.Decibels(m.DB), "left, were it the only limit"
		if m.More {
			left = "> " + left
		}
		rows = append(rows, []string{m.Limit.String(), left, what})
	}
	p.table(margin, []table.Column{{Title: "limit"}, {Title: "left", Right: true}, {Title: "", Fill: true}}, rows)
	p.lifted(l)
	if q.Brief.Goal == catalog.GoalMusic {
		p.sides(b, l)
		return
	}
	var words []string
	for _, x := range l.Lifts {
		if x.Limit != l.Binding && x.DB >= 0.05 {
			words = append(words, fmt.Sprintf("%s from %s", facts.Banded(x.DB, x.Band), easier(x.Limit)))
		}
	}
	if len(words) > 0 {
		p.say("By themselves, the binding limit kept: %s.", facts.List(words))
	}
}

// lifted says what it would be without the limit that binds.
func (p *Page) lifted(l advice.Limits) {
	if l.Gain >= 0.05 {
		then := fmt.Sprintf("then %s", facts.RunsOut(l.Lifted.Limit))
		if l.Lifted.Limit == l.Binding {
			then = "the model follows the cone no further"
		}
		p.say("Without that limit it would read %s at %s, %s more; %s.", facts.Banded(l.Lifted.Level, l.LiftedBand), facts.Hertz(l.Lifted.Hz), facts.Banded(l.Gain, l.GainBand), then)
	} else {
		p.say("Without that limit it would read no more: %s just as soon.", facts.RunsOut(l.Lifted.Limit))
	}
}

// easier names a limit lifted.
func easier(l bass.Limit) string {
	switch l {
	case bass.LimitVoltage:
		return "an amplifier of more voltage"
	case bass.LimitCurrent:
		return "an amplifier of more current"
	case bass.LimitSupply:
		return "a supply that holds its voltage"
	case bass.LimitTravel:
		return "more travel"
	case bass.LimitHeat:
		return "a coil that stays cold"
	}
	return "a wider port"
}

// sides says which half of the music is the weaker one.
func (p *Page) sides(b *optimizer.Build, l advice.Limits) {
	if b.Music.FrontLimits {
		p.say("In music the front is the weaker side: %s at the seat, where the bass could follow to %s. More bass would not be heard; louder front speakers, or more power for them, would be.",
			facts.Banded(l.Front, b.Front.Band), facts.Banded(l.Bass, b.Music.BassBand))
		return
	}
	p.say("In music the bass is the weaker side: it follows to %s, and the front would reach %s.", facts.Banded(l.Bass, b.Music.BassBand), facts.Banded(l.Front, b.Front.Band))
	var words []string
	for _, x := range l.Lifts {
		if x.DB >= 0.05 {
			words = append(words, fmt.Sprintf("%s from %s", facts.Banded(x.DB, x.Band), easier(x.Limit)))
		}
	}
	if len(words) > 0 {
		p.say("What the bass would gain over its bands: %s.", facts.List(words))
	}
}

// signed is a difference in price for a table.
func signed(m catalog.Money) string {
	if m.Minor > 0 {
		return "+" + m.Decimal()
	}
	return m.Decimal()
}

// changes is what more money buys.
func (p *Page) changes(q facts.Question, b *optimizer.Build, t *advice.Talk) {
	p.head("What more money buys")
	if q.Brief.Cap == (catalog.Money{}) {
		p.say("Nothing: no cap is stated, so this is the best that money can buy.")
		return
	}
	columns := []table.Column{{Title: "in the cap", Right: true}, {Title: "price", Right: true}, {Title: "gain", Right: true},
		{Title: "per dB", Right: true}, {Title: "what changes", Fill: true}}
	var rows [][]string
	for _, c := range t.Changes {
		extra := "+" + c.Extra.Decimal()
		if c.Nothing {
			rows = append(rows, []string{extra, b.Cost.Decimal(), "-", "-", "nothing"})
			continue
		}
		rows = append(rows, []string{extra, c.Build.Cost.Decimal(), facts.Apart(facts.Terminal{}, c.Difference, c.Tie), perDB(c), facts.Change(b.Lines, c.Build.Lines)})
	}
	p.table(margin, columns, rows)
	switch n := t.Next; {
	case n == nil && len(t.Changes) == 0 && t.Stopped:
		p.say("Not known: the search was stopped.")
	case n == nil:
		p.say("No build for as much is better.")
	default:
		p.say("The next better build costs %s, %s more than the cap: %s.", n.Build.Cost, n.Extra, facts.Apart(facts.Terminal{}, n.Difference, n.Tie))
	}
}

// perDB is what a decibel more costs, in major units.
func perDB(c advice.Change) string {
	if c.PerDB <= 0 {
		return "-"
	}
	return facts.Three(major(catalog.Money{Minor: int64(math.Round(c.PerDB)), Currency: c.Cost.Currency}))
}

// roles is what each part is there for.
func (p *Page) roles(b *optimizer.Build, t *advice.Talk) {
	p.head("What each part is there for")
	p.say("Without it: the best build that does without the part, everything else chosen anew. The next cheaper one: only that part changed, for the next cheaper of its kind that goes with the others.")
	columns := []table.Column{{Title: "part", Fill: true}, {Title: "without it", Right: true}, {Title: "price", Right: true},
		{Title: "level", Right: true}, {Title: "price", Right: true}, {Title: "with the next cheaper one", Fill: true}}
	var rows [][]string
	for _, r := range t.Roles {
		row := []string{facts.Name(r.Part), "nothing can be built", "", "", "", ""}
		if r.Without != nil {
			row[1], row[2] = facts.Apart(facts.Terminal{}, r.Without.Difference, r.Without.Tie), signed(r.Without.Cost)
		}
		switch {
		case r.Owned:
			row[5] = "owned"
		case r.Cheaper == nil:
			row[5] = "none goes with the rest"
		default:
			row[3], row[4], row[5] = facts.Apart(facts.Terminal{}, r.Cheaper.Difference, r.Cheaper.Tie), signed(r.Cheaper.Cost), facts.Name(r.Instead)
		}
		rows = append(rows, row)
	}
	p.table(margin, columns, rows)
}

// wastes is where money buys nothing that can be heard.
func (p *Page) wastes(b *optimizer.Build, t *advice.Talk) {
	p.head("Where money would be wasted")
	for _, w := range t.Wastes {
		lost := fmt.Sprintf("loses %s dB", facts.Fixed(-w.Difference.DB, 3))
		if w.Difference.DB >= 0 {
			lost = "loses nothing"
		}
		what := "A cheaper build"
		if w.Part != nil {
			what = facts.Name(w.Part) + " is more than is needed: " + facts.Change(b.Lines, w.Build.Lines)
		} else {
			what += ": " + facts.Change(b.Lines, w.Build.Lines)
		}
		p.item("%s %s, less than a meter shows, and costs %s", what, lost, facts.Dearer(facts.Terminal{}, w.Cost))
	}
	if len(t.Wastes) == 0 && !t.Stopped {
		p.item("in this build nowhere: every cheaper one is below it by %s dB or more, the smallest step that a meter shows", facts.Fixed(advice.Unheard, 1))
	}
	for _, words := range spare(b, t.Limits) {
		p.item("%s", words)
	}
}

// spareMargin is from when on a part is so far from its limit that more of it
// is a waste of money, dB.
const spareMargin = 1.0

// spare says of what there is enough: more of it would buy nothing.
func spare(b *optimizer.Build, l advice.Limits) (words []string) {
	for _, m := range l.Margins {
		if m.DB < spareMargin {
			continue
		}
		left := facts.Decibels(m.DB)
		if m.More {
			left = "more than " + left
		}
		switch m.Limit {
		case bass.LimitVoltage:
			words = append(words, fmt.Sprintf("a stronger amplifier: %s has %s left that the rest cannot use", facts.Name(b.Bass.Amplifier), left))
		case bass.LimitTravel:
			words = append(words, fmt.Sprintf("a driver of more travel: that of %s has %s left", facts.Name(b.Bass.Part), left))
		case bass.LimitHeat:
			words = append(words, fmt.Sprintf("a driver rated for more power: that of %s has %s left", facts.Name(b.Bass.Part), left))
		}
	}
	if f := b.Front; f.Usable > 0 && f.Given > f.Usable*(1+facts.UsableStep) {
		words = append(words, fmt.Sprintf("more power for the front speakers: they can use %s of the %s W a side that they get", facts.Three(f.Usable), facts.Three(f.Given)))
	}
	return words
}

// whyEnd is the proof and what always has to be said where a level is shown.
func (p *Page) whyEnd(d *advice.Desk, stopped bool) {
	b := d.Best()
	p.head("Proof")
	switch {
	case d.Result.Outcome != optimizer.Optimal || b.Fault != "":
		p.say("%s", facts.Proof(facts.Terminal{}, d.Result))
	case stopped:
		p.say("The search was stopped: what is shown is exact, and not all was looked at.")
	default:
		p.say("Every line is the result of a search of its own, over all builds of this catalogue that satisfy the brief.")
	}
	if b.Difference.Band > 0 || b.Band() > 0 {
		p.say("+/- is half the width of the band that holds nine cases out of ten. %s", facts.Marks)
	}
	if caution := facts.Hearing(*b).Caution; caution != "" {
		p.say("Hearing: %s.", caution)
	}
	p.cautions()
}
