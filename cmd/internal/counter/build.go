package counter

import (
	"fmt"
	"html/template"
	"strings"

	"loudfor/cmd/internal/facts"
	"loudfor/cmd/internal/record"
	"loudfor/cmd/internal/wiring"
	"loudfor/optimizer"
	"loudfor/optimizer/advice"
)

// One build in full: what to buy, how to wire it, what the meters will show,
// where each limit binds, and what it does to ears.

type buildBody struct {
	Head      *headline
	Parts     []partLine
	Extras    []sumLine
	Total     string
	Left      string // of the cap; empty: over it
	Over      string
	Hookup    []string
	Drawing   template.HTML // made by our own drawing, which escapes its words
	Response  *drawn
	Small     *drawn // the same for a narrow screen
	Ranges    []rangeWords
	Clamp     []figureLine
	Limit     string
	Plays     []figureLine
	Hearing   hearingWords
	Asked     []figureLine
	Warnings  []string
	Assumed   []string
	Cautions  []string
	Quote     string
	Versus    string
	WhyNot    string
	Builds    string
	Elsewhere []figureLine // the reading at each place of the car
	Side      *side        // the same as a drawing
	Room      *plan        // the boxes in their space
	Built     []string     // of a box that the shop would build
}

type partLine struct {
	Count                int
	Name, SKU, Store     string
	Each, Sum, Why, Kind string
	Owned                bool
}

type sumLine struct{ Words, Sum string }

// figureLine is a quantity with its figure and what belongs to it.
type figureLine struct{ Name, Figure, Note string }

type hearingWords struct {
	DBA, Permitted, Caution string
}

func (c *Counter) showBuild(v *visit) error {
	q, err := c.question(v)
	if err != nil {
		return err
	}
	code := v.URL.Query().Get(keyParts)
	if code == "" {
		return unknownError{"the address names no build; choose one from the ranking"}
	}
	b, err := c.build(v.context(), q, code)
	if err != nil {
		return err
	}
	asked, err := c.askedOf(v.context(), q, code, b)
	if err != nil {
		return err
	}
	if v.wantsJSON() {
		return v.reply(record.OfPredict(q.job.Vehicle, b, asked))
	}
	body := v.voice.buildBody(q, b)
	body.Asked = v.voice.answered(b, asked, false)
	if body.Built, err = c.builtWords(v, q, []optimizer.Build{b}); err != nil {
		return err
	}
	if err := c.everywhere(v, q, code, b, body); err != nil {
		return err
	}
	p := c.page(v, q, "build", body.Head.Summary)
	p.Asked = v.voice.asked(q)
	p.Body = body
	return c.show(v, p, "build")
}

func (v voice) buildBody(q *question, b optimizer.Build) *buildBody {
	body := &buildBody{
		Head: v.headline(q, b), Total: v.Money(b.Cost), Hookup: facts.Hookup(b), Limit: facts.Limit(b),
		Ranges: v.ranges(b.Curve), Clamp: v.clamp(b), Plays: v.plays(b), Hearing: v.hearing(b),
		Assumed: facts.Grouped(b.Assumed), Cautions: facts.Cautions,
		Quote: q.buildLink(pathQuote, b.Lines), Versus: q.link(pathVersus, keyVersus, codeOf(b.Lines)),
		WhyNot: q.link(pathWhy), Builds: q.link(pathBuilds),
	}
	if left := facts.Less(q.job.Brief.Cap, b.Cost); left.Minor >= 0 {
		body.Left = v.Money(left)
	} else {
		body.Over = v.Money(facts.Less(b.Cost, q.job.Brief.Cap))
	}
	body.Warnings, body.Drawing = facts.Warnings(b), drawing(b)
	for _, line := range b.Lines {
		body.Parts = append(body.Parts, v.partLine(line))
	}
	body.Extras = v.extras(b)
	return body
}

func (v voice) partLine(line optimizer.Line) partLine {
	p := partLine{Count: line.Count, Name: facts.Name(line.Part), SKU: line.Part.SKU, Store: line.Part.Store,
		Kind: line.Part.Kind.String(), Each: "owned", Sum: "–", Owned: line.Owned == line.Count}
	if line.Owned < line.Count {
		var stores, each []string
		for _, f := range line.Purchases() {
			store := f.Store
			if len(line.From) > 1 {
				store = fmt.Sprintf("%d at %s", f.Count, f.Store)
			}
			stores, each = append(stores, store), append(each, v.Money(f.Each))
		}
		p.Store, p.Each, p.Sum = strings.Join(stores, ", "), strings.Join(each, ", "), v.Money(line.Cost)
	}
	return p
}

// extras are the lines of the bill that are no parts.
func (v voice) extras(b optimizer.Build) (lines []sumLine) {
	for _, c := range facts.Bill(b) {
		lines = append(lines, v.charge(c))
	}
	return lines
}

func (v voice) charge(c facts.Charge) sumLine {
	words := fmt.Sprintf("%s: %s", facts.Capital(c.What), times(c.Count, c.Name))
	if c.What == "tax" {
		words = fmt.Sprintf("Tax %s on %s", c.Name, v.Money(c.On))
	}
	return sumLine{words, v.Money(c.Sum)}
}

func times(n int, what string) string {
	if n == 1 {
		return what
	}
	return fmt.Sprintf("%d × %s", n, what)
}

// drawing is the wiring of one bass amplifier, of however many there are alike.
// The drawing escapes its words; that is what makes its text fit for a page.
func drawing(b optimizer.Build) template.HTML {
	if b.Bass.Amplifier == nil {
		return ""
	}
	title := fmt.Sprintf("%s, %s", b.Bass.Amplifier.SKU, b.Plan.Mode)
	if b.Bass.Amplifiers > 1 {
		title = fmt.Sprintf("each of %d %s", b.Bass.Amplifiers, title)
	}
	var outputs []string
	for i := range b.Plan.Outputs {
		name := fmt.Sprintf("%s output", b.Plan.Mode)
		if b.Plan.Outputs > 1 {
			name += fmt.Sprintf(" %d", i+1)
		}
		outputs = append(outputs, name)
	}
	d := wiring.Coils(b.Plan, wiring.Amplifier{Title: title, Outputs: outputs})
	return template.HTML(d.SVG())
}

// clamp is what an installer's meters will show at the peak.
func (v voice) clamp(b optimizer.Build) (lines []figureLine) {
	for _, l := range facts.Chain(v, b) {
		lines = append(lines, figureLine{facts.Capital(l.Name), l.Figure, l.Where})
	}
	return lines
}

func (v voice) plays(b optimizer.Build) []figureLine {
	music := v.banded(b.Music.DB, b.Music.Band)
	note := "balanced playback" + facts.Balance(v, b)
	return []figureLine{{"Music", music, note}, {"Front", "", facts.Front(v, b.Front)}}
}

// answered is what customers ask; least keeps to what matters to who buys.
func (v voice) answered(b optimizer.Build, a *advice.Asked, least bool) (lines []figureLine) {
	for _, one := range facts.Asked(v, b, a) {
		if one.Matters || !least {
			lines = append(lines, figureLine{Name: facts.Capital(one.Name), Note: one.Words})
		}
	}
	return lines
}

func (v voice) hearing(b optimizer.Build) hearingWords {
	h := facts.Hearing(b)
	return hearingWords{v.DB(h.DBA), h.Permitted, facts.Capital(h.Caution)}
}

// asked is the question in one line, for views without a form.
func (v voice) asked(q *question) string {
	b := q.job.Brief
	text := fmt.Sprintf("%s in %s, %s, front speakers: %s", v.Money(b.Cap), carWords(q), facts.Where(b.Place, b.Openings), b.Front)
	if b.Name != "" {
		text = facts.Capital(b.Name) + ": " + text
	}
	return text
}
