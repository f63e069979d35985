package counter

import (
	"fmt"
	"html/template"
	"slices"
	"strings"

	"loudfor/catalog"
	"loudfor/cmd/internal/facts"
	"loudfor/cmd/internal/record"
	"loudfor/cmd/internal/wiring"
	"loudfor/model/hearing"
	"loudfor/optimizer"
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
	Warnings  []string
	Assumed   []string
	Cautions  []string
	Quote     string
	Versus    string
	WhyNot    string
	Builds    string
	Elsewhere []figureLine // the reading at each place of the car
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
	if v.wantsJSON() {
		return v.reply(record.OfPredict(q.job.Vehicle, b))
	}
	body := v.voice.buildBody(q, b)
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
		Head: v.headline(q, b), Total: v.Money(b.Cost), Hookup: hookupWords(b), Limit: facts.Limit(b),
		Ranges: v.ranges(b.Curve), Clamp: v.clamp(b), Plays: v.plays(b), Hearing: v.hearing(b),
		Assumed: facts.Grouped(b.Assumed), Cautions: facts.Cautions,
		Quote: q.buildLink(pathQuote, b.Lines), Versus: q.link(pathVersus, keyVersus, codeOf(b.Lines)),
		WhyNot: q.link(pathWhy), Builds: q.link(pathBuilds),
	}
	if left := less(q.job.Brief.Cap, b.Cost); left.Minor >= 0 {
		body.Left = v.Money(left)
	} else {
		body.Over = v.Money(less(b.Cost, q.job.Brief.Cap))
	}
	body.Warnings, body.Drawing = warningsOf(b), drawing(b)
	for _, line := range b.Lines {
		body.Parts = append(body.Parts, v.partLine(line))
	}
	body.Extras = v.extras(b)
	return body
}

// warningsOf leaves out what stands beside the level or the wiring already.
func warningsOf(b optimizer.Build) []string {
	hear := hearing.Caution(b.Reading.DB, hearing.Weighted(b.Reading.DB, b.Reading.Hz))
	return slices.DeleteFunc(slices.Clone(b.Warnings), func(text string) bool { return text == hear || text == b.Plan.Caution })
}

func (v voice) partLine(line optimizer.Line) partLine {
	p := partLine{Count: line.Count, Name: nameOf(line.Part), SKU: line.Part.SKU, Store: line.Part.Store,
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
	for _, d := range b.Deals {
		lines = append(lines, sumLine{fmt.Sprintf("Deal: %s", times(d.Times, d.Name)), v.Money(catalog.Money{Minor: -d.Saving.Minor, Currency: d.Saving.Currency})})
	}
	for _, l := range b.Labour {
		lines = append(lines, sumLine{fmt.Sprintf("Labour: %s", times(l.Count, l.Name)), v.Money(l.Cost)})
	}
	for _, t := range b.Taxes {
		if t.PPM != 0 {
			lines = append(lines, sumLine{fmt.Sprintf("Tax %s %% on %s", v.figures.Sprint(facts.Plain(float64(t.PPM)/1e4)), v.Money(t.Sum)), v.Money(t.Tax)})
		}
	}
	return lines
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

func hookupWords(b optimizer.Build) (lines []string) {
	if b.Plan.Words != "" {
		lines = append(lines, facts.Sentence(b.Plan.Words))
	}
	if b.Bass.Amplifier != nil {
		each := ""
		if b.Bass.Amplifiers > 1 {
			each = fmt.Sprintf("; %d of them, each wired so", b.Bass.Amplifiers)
		}
		lines = append(lines, fmt.Sprintf("Amplifier: %s, %s%s.", nameOf(b.Bass.Amplifier), b.Plan.Mode, each))
	}
	if b.Plan.Caution != "" {
		lines = append(lines, facts.Sentence(b.Plan.Caution))
	}
	if b.Signal != "" {
		lines = append(lines, fmt.Sprintf("Signal: %s.", b.Signal))
	}
	if b.Demand > 0 {
		lines = append(lines, fmt.Sprintf("Supply: the amplifiers together can draw %s A.", facts.Three(b.Demand)))
	}
	return lines
}

// clamp is what an installer's meters will show at the peak.
func (v voice) clamp(b optimizer.Build) []figureLine {
	o := b.Operation
	output := "at the output"
	if b.Plan.Outputs*max(b.Bass.Amplifiers, 1) > 1 {
		output = "at each output"
	}
	lines := []figureLine{
		{"Voltage", facts.Three(o.Volts) + " V", output},
		{"Current", facts.Three(o.Amps) + " A", output},
		{"Load", facts.Three(o.Load) + " Ω", "nominally " + facts.Plain(b.Plan.Load) + " Ω"},
		{"Power", facts.Three(o.Watts) + " W", facts.Three(o.Apparent) + " VA apparent, all outputs together"},
		{"Supply", facts.Three(o.SupplyVolts) + " V", facts.Three(o.SupplyAmps) + " A at the amplifier's terminals"},
		{"Cone travel", facts.Three(o.Travel*1e3) + " mm", "peak, one way; rated " + facts.Three(b.Bass.Driver.Xmax*1e3) + " mm"},
		{"Coil", "+" + facts.Three(o.CoilRise) + " K", "above the air"},
	}
	if o.PortSpeed > 0 {
		lines = append(lines, figureLine{"Port", facts.Three(o.PortSpeed) + " m/s", "peak speed of its air"})
	}
	return lines
}

func (v voice) plays(b optimizer.Build) []figureLine {
	music := v.banded(b.Music.DB, b.Music.Band)
	note := "balanced playback" + facts.Balance(b)
	return []figureLine{{"Music", music, note}, {"Front", "", facts.Front(b.Front)}}
}

func (v voice) hearing(b optimizer.Build) hearingWords {
	dba := hearing.Weighted(b.Reading.DB, b.Reading.Hz)
	return hearingWords{v.DB(dba), hearing.Words(hearing.PermittedTime(dba)), capital(hearing.Caution(b.Reading.DB, dba))}
}

// asked is the question in one line, for views without a form.
func (v voice) asked(q *question) string {
	b := q.job.Brief
	text := fmt.Sprintf("%s in %s, %s, front speakers: %s", v.Money(b.Cap), carWords(q), facts.Where(b.Place, b.Openings), b.Front)
	if b.Name != "" {
		text = capital(b.Name) + ": " + text
	}
	return text
}
