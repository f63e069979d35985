package answer

import (
	"fmt"
	"io"
	"math"
	"slices"

	"loudfor/cmd/internal/chart"
	"loudfor/cmd/internal/curve"
	"loudfor/cmd/internal/facts"
	"loudfor/cmd/internal/table"
	"loudfor/model/bass"
	"loudfor/optimizer"
)

// Predict writes on one screen what one given build will do; more is how to ask for
// the rest.
func (p *Page) Predict(q facts.Question, b optimizer.Build, more string) {
	p.heading(predictTitle(q))
	p.where(q)
	p.say("%s at %s; music %s. Limit: %s.", facts.Banded(b.Reading.DB, b.Reading.Band), facts.Hertz(b.Reading.Hz), facts.Banded(b.Music.DB, b.Music.Band), facts.Limit(b))
	p.parts(q.Brief, shortened(b))
	p.heading("Hookup")
	for _, line := range facts.Hookup(b) {
		p.say("%s", line)
	}
	p.heading(fmt.Sprintf("The chain at the peak, %s", facts.Hertz(b.Operation.Hz)))
	p.links(b, true)
	p.heading("To know")
	p.item("Front: %s.", facts.Front(facts.Terminal{}, b.Front))
	p.warnings(b)
	p.item("It rests on %s. %s", facts.Plural(len(b.Assumed), "assumption"), facts.Sentence(facts.Caution(b)))
	p.item("%s", more)
}

// warnings are those of a build, what currents can do first: that is said whatever the
// screen holds, and of the rest what it does.
func (p *Page) warnings(b optimizer.Build) {
	for _, hazard := range b.Hazards {
		p.item("%s", facts.Sentence(hazard))
	}
	rest := slices.DeleteFunc(facts.Warnings(b), func(text string) bool { return slices.Contains(b.Hazards, text) })
	for i, warning := range rest {
		text := facts.Sentence(warning)
		if !p.fits(text, predictLines) {
			p.item("%s: --full says them.", facts.Plural(len(rest)-i, "more warning"))
			return
		}
		p.item("%s", text)
	}
}

// predictLines leave room on a screen of 45 lines for what comes below the warnings.
const predictLines = 40

// shortName is how wide a part's name may be where its SKU stands beside it, cells.
const shortName = 38

// shortened is a build whose long names end early, at a word.
func shortened(b optimizer.Build) optimizer.Build {
	b.Lines = slices.Clone(b.Lines)
	for i := range b.Lines {
		l := &b.Lines[i]
		if lines := table.Wrap(l.Part.Name, shortName-len(" ...")); table.Cells(l.Part.Name) > shortName {
			part := *l.Part
			part.Name = lines[0] + " ..."
			l.Part = &part
		}
	}
	return b
}

func predictTitle(q facts.Question) string {
	if q.Brief.Name != "" {
		return "Prediction of one build: " + q.Brief.Name
	}
	return "Prediction of one build"
}

// PredictInFull writes the same with what binds where, the curve and all assumptions.
func (p *Page) PredictInFull(q facts.Question, b optimizer.Build) {
	p.heading(predictTitle(q))
	p.asked(q, "")
	if q.Invented {
		p.pair("catalogue", "%s", catalogueWords(q))
	}
	p.build(q, b, "Build")
	p.chain(b)
	p.curve(b.Curve)
	p.sound(b)
	p.remarks(b)
	p.cautions()
}

// chain goes from the battery to the meter, one line a link.
func (p *Page) chain(b optimizer.Build) {
	p.head(fmt.Sprintf("The chain at the peak, %s", facts.Hertz(b.Operation.Hz)))
	p.links(b, false)
}

// links is the table; least leaves out what follows from the rest or stands above.
func (p *Page) links(b optimizer.Build, least bool) {
	o := b.Operation
	var rows [][]string
	for _, l := range facts.Chain(facts.Terminal{}, b) {
		if !least || l.Name != "apparent power" {
			rows = append(rows, []string{l.Name, l.Figure, l.Where})
		}
	}
	if !least {
		rows = append(rows, []string{"level", facts.Decibels(o.Level), facts.Where(b.Reading.Place, b.Reading.Openings) + "; limit: " + facts.Limit(b)})
	}
	p.table(margin, []table.Column{{Title: "quantity"}, {Title: "value", Right: true}, {Title: "where", Fill: true}}, rows)
}

// curve is the level over frequency with what binds where.
func (p *Page) curve(points []bass.Operation) {
	if len(points) == 0 {
		return
	}
	p.head("What binds where")
	var rows [][]string
	for _, r := range curve.Ranges(points) {
		span := facts.Hertz(r.From)
		if r.To > r.From {
			span = facts.Fixed(r.From, 0) + " to " + facts.Hertz(r.To)
		}
		level := facts.Decibels(r.Least)
		if facts.Fixed(r.Least, 1) != facts.Fixed(r.Most, 1) {
			level = facts.Fixed(r.Least, 1) + " to " + facts.Decibels(r.Most)
		}
		rows = append(rows, []string{string(curve.Mark(r.Limit)), r.Limit.String(), span, level})
	}
	p.table(margin, []table.Column{{Title: "mark"}, {Title: "limit"}, {Title: "frequency", Right: true}, {Title: "level", Right: true}}, rows)
	p.printf("\n")
	p.chart("Highest level, dB; the letter is the limit that binds", points)
}

func (p *Page) chart(title string, points []bass.Operation) {
	p.drawn(func(w io.Writer) error { return chart.Text(w, p.width, curve.Chart(title, points)) })
}

// SmallSignal writes the linear response to a voltage, without limits.
func (p *Page) SmallSignal(q facts.Question, b optimizer.Build, volts float64, points []bass.Operation) {
	title := "Small-signal response to " + facts.Plain(volts) + " V at each output, no limits"
	if q.Brief.Name != "" {
		title += ": " + q.Brief.Name
	}
	p.heading(title)
	p.asked(q, "")
	if q.Invented {
		p.pair("catalogue", "%s", catalogueWords(q))
	}
	if b.Plan.Words != "" {
		p.pair("hookup", "%s", b.Plan.Words)
	}
	p.printf("\n")
	p.points(points)
	p.printf("\n")
	p.chart("Level, dB", points)
	if len(b.Warnings) > 0 || len(b.Assumed) > 0 {
		b.Reading.Band = 0
		p.remarks(b)
	}
}

// points is the table of a small-signal response; a box without a port has no
// column for one.
func (p *Page) points(points []bass.Operation) {
	columns := []table.Column{{Title: "frequency", Right: true}, {Title: "load", Right: true}, {Title: "phase", Right: true},
		{Title: "travel, peak", Right: true}, {Title: "level", Right: true}}
	ported := slices.ContainsFunc(points, func(o bass.Operation) bool { return o.PortSpeed > 0 })
	if ported {
		columns = append(columns, table.Column{Title: "port, peak", Right: true})
	}
	var rows [][]string
	for i := 0; i < len(points); i += smallSignalStep {
		o := points[i]
		row := []string{facts.Fixed(o.Hz, 1) + " Hz", facts.Three(o.Load) + " ohm", facts.Fixed(o.Phase*180/math.Pi, 0) + " deg",
			facts.Three(o.Travel*1e3) + " mm", facts.Decibels(o.Level)}
		if ported {
			row = append(row, facts.Three(o.PortSpeed)+" m/s")
		}
		rows = append(rows, row)
	}
	p.table(margin, columns, rows)
}

// smallSignalStep: a row for every sixth of an octave, from 20 Hz, keeps the
// table on a screen; the CSV has every point.
const smallSignalStep = 4
