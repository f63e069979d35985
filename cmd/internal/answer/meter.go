package answer

import (
	"fmt"
	"io"
	"slices"

	"loudfor/catalog"
	"loudfor/catalog/readings"
	"loudfor/catalog/units"
	"loudfor/cmd/internal/chart"
	"loudfor/cmd/internal/curve"
	"loudfor/cmd/internal/facts"
	"loudfor/cmd/internal/table"
	"loudfor/optimizer/learning"
)

// Metered is what was metered, for the head of an answer.
type Metered struct {
	Vehicle  catalog.Vehicle
	Invented bool
	Readings []readings.Reading
	Builds   []string // in words, in the order of the study's cases
	Study    *learning.Study
}

// Band is a prediction over frequency, and the readings to draw over it.
type Band struct {
	Title    string
	Hz       []float64
	Expected []learning.Estimate
	Readings []int // numbers of the readings that it is about
}

// Chart draws it, with those of the readings that it is about.
func (b *Band) Chart(title string, readings []learning.Reading) *chart.Chart {
	c := &chart.Chart{Title: title, Band: chart.Band{Name: "90 % band"}}
	line := chart.Line{Name: "predicted", Class: "curve"}
	for i, e := range b.Expected {
		hz := b.Hz[i]
		c.Band.Low = append(c.Band.Low, chart.XY{X: hz, Y: e.DB - e.Band()})
		c.Band.High = append(c.Band.High, chart.XY{X: hz, Y: e.DB + e.Band()})
		line.Points = append(line.Points, chart.XY{X: hz, Y: e.DB})
	}
	for _, i := range b.Readings {
		r := &readings[i]
		c.Marks = append(c.Marks, chart.Mark{At: chart.XY{X: r.Hz, Y: r.DB}, Sign: 'x', Tolerance: r.Tolerance, Size: 2.5, Class: "measured", Name: "measured"})
	}
	all := append(slices.Clone(c.Band.Low), c.Band.High...)
	for _, m := range c.Marks {
		all = append(all, chart.XY{Y: m.At.Y - m.Tolerance}, chart.XY{Y: m.At.Y + m.Tolerance})
	}
	low, high := curve.Levels(all...)
	c.X, c.Y = chart.Frequencies(b.Hz[0], b.Hz[len(b.Hz)-1], chart.Octaves), chart.Levels(low, high, units.Plain)
	c.Lines = []chart.Line{line}
	return c
}

func (p *Page) metered(title string, m Metered) {
	p.heading(title + ": " + m.Vehicle.Name)
	for i, b := range m.Builds {
		name := "build"
		if len(m.Builds) > 1 {
			name = fmt.Sprintf("build %d", i+1)
		}
		p.pair(name, "%s", b)
	}
	if m.Invented {
		p.pair("catalogue", "the built-in demo; it is invented: no maker, shop or product in it exists")
	}
	if l := m.Vehicle.Body.Learned; l != nil {
		p.pair("car", "as learned from %s%s", facts.Plural(l.Readings, "reading"), leftOut(l.LeaveOneOut))
	}
	p.outdated(m.Vehicle)
}

// outdated says that what was learned about a car is not used.
func (p *Page) outdated(v catalog.Vehicle) {
	if v.Outdated != "" {
		p.pair("learned", "%s", v.Outdated)
	}
}

func leftOut(rms float64) string {
	if rms == 0 {
		return ""
	}
	return fmt.Sprintf("; each foretold by the others to %.1f dB rms", rms)
}

// Compare writes predicted beside measured, what stands out, and what could be
// behind it.
func (p *Page) Compare(m Metered, prior *learning.Fit, causes []learning.Cause, band Band) {
	p.metered("Predicted beside measured", m)
	p.printf("\n")
	columns := []table.Column{{Title: "no", Right: true}, {Title: "place, openings", Fill: true}, {Title: "tone", Right: true}, {Title: "measured", Right: true},
		{Title: "predicted", Right: true}, {Title: "off", Right: true}, {Title: "impedance", Right: true}, {Title: "power", Right: true}}
	var rows [][]string
	compared := prior.Compare()
	for i, c := range compared {
		r := &m.Study.Readings[i]
		impedance, power := "", ""
		if c.Expected.Ohms > 0 {
			impedance = fmt.Sprintf("%.2f / %.2f ohm", r.Volts/r.Amps, c.Expected.Ohms)
			power = fmt.Sprintf("%.0f / %.0f VA", r.Volts*r.Amps, c.Expected.Watts)
			if c.FullVolts > 0 {
				power = fmt.Sprintf("%.0f / %.0f VA", r.Volts*r.Amps, c.FullWatts)
			}
		}
		off := fmt.Sprintf("%+.1f", c.OffDB)
		if c.Outside {
			off += " !"
		}
		rows = append(rows, []string{fmt.Sprint(i + 1), r.Place + ", " + r.Openings, facts.Hertz(r.Hz), facts.Decibels(r.DB), facts.Banded(c.Expected.DB, c.Band), off, impedance, power})
	}
	p.table("", columns, rows)
	p.say("Off: measured less predicted, dB; ! outside the 90 %% band, which holds the meter's own error too. Impedance and power: measured / predicted, power at full output.")
	for _, c := range prior.Curves() {
		at := fmt.Sprintf("%s, %s, %s: %+.1f dB on average", c.Place, c.Openings, facts.Plural(len(c.Readings), "tone"), c.Off)
		switch {
		case c.Measured > 0 && c.Predicted > 0:
			p.say("%s; peak at %.0f Hz measured, %.0f Hz predicted.", at, c.Measured, c.Predicted)
		case c.Predicted > 0:
			p.say("%s; the loudest tone is at an end of the curve, so that the peak (predicted at %.0f Hz) is not found.", at, c.Predicted)
		default:
			p.say("%s.", at)
		}
	}
	p.band(m, band)
	p.head("What stands out")
	for _, f := range prior.Findings() {
		p.item("%s: %s. Points to: %s.", f.Words, f.Figures, f.Points)
	}
	p.head("What could be behind it, the likeliest first")
	told := learning.Told(causes)
	for i, c := range told {
		odds := ""
		if c.Kind != learning.Ordinary {
			odds = fmt.Sprintf(" (%s times likelier than ordinary errors)", facts.Odds(c.Gain))
		}
		p.printf("%s", table.Indent(p.width, fmt.Sprintf("  %d. ", i+1), fmt.Sprintf("%s%s. To check: %s.", c.Words, odds, c.Check)))
		for _, line := range c.Figures {
			p.printf("%s", table.Indent(p.width, "     - ", line))
		}
	}
	if rest := len(causes) - len(told); rest > 0 {
		p.say("%s tried and found no likelier than ordinary errors.", was(rest, "other cause"))
	}
	p.loud()
}

func was(n int, what string) string {
	if n == 1 {
		return "1 " + what + " was"
	}
	return fmt.Sprintf("%d %ss were", n, what)
}

// loud is the caution where a level is shown that a meter showed.
func (p *Page) loud() {
	p.head("Cautions")
	p.item("The levels here can harm hearing at once: meter from outside the car, or with ear protection.")
	p.item("Bursts of a few seconds: a coil heats fast. Noise rules apply on public roads.")
}

func (p *Page) band(m Metered, b Band) {
	if len(b.Hz) == 0 {
		return
	}
	p.printf("\n")
	p.drawn(func(w io.Writer) error {
		return chart.Text(w, p.width, b.Chart(b.Title+": x measured, - predicted, : its 90 % band", m.Study.Readings))
	})
}

// Learn writes what the readings have taught.
func (p *Page) Learn(m Metered, f *learning.Fit, before, after []learning.Estimate, targets []learning.Setting, written string) {
	m.Vehicle.Body.Learned, m.Vehicle.Outdated = nil, ""
	p.metered(fmt.Sprintf("Learned from %s", facts.Plural(len(m.Study.Readings), "reading")), m)
	p.printf("\n")
	columns := []table.Column{{Title: "what"}, {Title: "before", Right: true}, {Title: "now", Right: true}, {Title: "verdict"}, {Title: "mostly by", Fill: true}}
	var rows [][]string
	for _, x := range f.Parameters() {
		rows = append(rows, []string{x.Name, facts.Valued(x.Before, x.SpreadBefore, x.Unit), facts.Valued(x.After, x.SpreadAfter, x.Unit), x.Verdict.String(), x.By})
	}
	p.table("", columns, rows)
	p.say("+/-: one standard deviation. What stays as assumed was not decided by these readings.")
	p.head("How well each reading is foretold by the others")
	rows = nil
	for i, l := range f.Cross.Each {
		r := &m.Study.Readings[i]
		note := ""
		if l.Weight < 1 {
			note = fmt.Sprintf("counts %.0f %%", 100*l.Weight)
		}
		rows = append(rows, []string{fmt.Sprint(i + 1), r.Place + ", " + r.Openings, facts.Hertz(r.Hz), facts.Decibels(r.DB), fmt.Sprintf("%+.1f", l.Error), fmt.Sprintf("%.1f", l.Sigma), note})
	}
	p.table("", []table.Column{{Title: "no", Right: true}, {Title: "place, openings", Fill: true}, {Title: "tone", Right: true}, {Title: "measured", Right: true}, {Title: "off, dB", Right: true}, {Title: "expected", Right: true}, {Title: "weight"}}, rows)
	p.cross(f, m)
	p.head("What it does to the bands")
	rows = nil
	for i, t := range targets {
		rows = append(rows, []string{t.Place + ", " + t.Openings, facts.Hertz(t.Hz), facts.Banded(before[i].DB, before[i].Band()), facts.Banded(after[i].DB, after[i].Band())})
	}
	p.table("", []table.Column{{Title: "place, openings", Fill: true}, {Title: "tone", Right: true}, {Title: "before", Right: true}, {Title: "now", Right: true}}, rows)
	if written != "" {
		p.say("Written: %s. Name it with --vehicles and every command predicts in the learned car.", written)
	} else {
		p.say("Nothing is written: --out FILE writes the vehicle file with which every command predicts in the learned car.")
	}
	p.loud()
}

func (p *Page) cross(f *learning.Fit, m Metered) {
	if f.Cross.RMS == 0 {
		p.say("Fewer than %d different readings: no cross-validation; the bands rest on the assumed spreads.", learning.FewestForCross)
	} else {
		p.say("Leave-one-out error: %.2f dB rms.", f.Cross.RMS)
		if f.Cross.Widened > 1 {
			p.say("That is more than the spreads allow for: this car differs from the model, and all bands in it are widened by %.0f %%.", 100*(f.Cross.Widened-1))
		} else {
			p.say("That is within what the spreads allow for: the bands stand as computed.")
		}
	}
	for _, i := range f.Outliers() {
		r := &m.Study.Readings[i]
		p.say("Reading %d (%s, %s, %s, %s) fits none of the others and counts only %.0f %%: take it again, or mend it.",
			i+1, r.Place, r.Openings, facts.Hertz(r.Hz), facts.Decibels(r.DB), 100*f.Cross.Each[i].Weight)
	}
}

// Plan writes which readings to take.
func (p *Page) Plan(m Metered, before float64, steps []learning.Step, targets string) {
	p.metered("Which readings teach most", m)
	p.say("For the sake of %s, now known to +/- %.2f dB on average (90 %%).", targets, before)
	p.printf("\n")
	var rows [][]string
	for i, s := range steps {
		rows = append(rows, []string{fmt.Sprint(i + 1), s.Setting.Place, s.Setting.Openings, facts.Hertz(s.Setting.Hz), "+/- " + facts.Fixed(s.Band, 2) + " dB"})
	}
	p.table("", []table.Column{{Title: "step", Right: true}, {Title: "place"}, {Title: "openings"}, {Title: "tone", Right: true}, {Title: "then known to", Right: true}}, rows)
	p.say("Each a steady tone of about 3 s at full output, the clamp on one output. Order does not matter; the first ones teach most.")
	p.loud()
}

// Readings lists readings.
func (p *Page) Readings(list []readings.Reading) {
	if len(list) == 0 {
		p.printf("No readings.\n")
		return
	}
	var rows [][]string
	for _, r := range list {
		clamp := ""
		if r.Volts > 0 {
			clamp = fmt.Sprintf("%.3g V", r.Volts)
		}
		if r.Amps > 0 {
			clamp += fmt.Sprintf(" %.3g A", r.Amps)
		}
		build := r.Build
		if r.Quote > 0 {
			build = fmt.Sprintf("quote %d", r.Quote)
		}
		rows = append(rows, []string{fmt.Sprint(r.ID), r.Date.String(), r.Vehicle, r.Place + ", " + r.Openings, facts.Hertz(r.Frequency), facts.Decibels(r.Level), clamp, build})
	}
	p.table("", []table.Column{{Title: "no", Right: true}, {Title: "day"}, {Title: "vehicle"}, {Title: "place, openings"}, {Title: "tone", Right: true}, {Title: "level", Right: true}, {Title: "clamp"}, {Title: "build", Fill: true}}, rows)
}
