package metering

import (
	"context"
	"encoding/json"
	"fmt"
	"math"
	"slices"
	"strings"

	"loudfor/catalog"
	"loudfor/catalog/book"
	"loudfor/catalog/readings"
	"loudfor/cmd/internal/answer"
	"loudfor/cmd/internal/inputs"
	"loudfor/cmd/internal/record"
	"loudfor/optimizer/learning"
)

// What is said of readings, in the terminal and on the page.

// Compared is predicted beside measured, and what could be behind the difference.
type Compared struct {
	Prior  *learning.Fit
	Causes []learning.Cause
	Band   answer.Band
}

// Compare holds the readings against the prediction.
func (j *Job) Compare() (c Compared, err error) {
	if c.Prior, err = j.Study.Prior(); err != nil {
		return c, err
	}
	if c.Causes, err = c.Prior.Diagnose(); err != nil {
		return c, err
	}
	c.Band, err = j.OverBand(c.Prior)
	return c, err
}

// Learned is the car that explains the readings best, and what that does to the
// bands at the usual tones.
type Learned struct {
	Fit           *learning.Fit
	Targets       []learning.Setting
	Before, After []learning.Estimate
}

// Learn starts from the car as stated.
func (j *Job) Learn() (l Learned, err error) {
	j.Vehicle.Body.Learned, j.Study.Body.Learned = nil, nil
	if l.Fit, err = j.Study.Fit(); err != nil {
		return l, err
	}
	prior, err := j.Study.Prior()
	if err != nil {
		return l, err
	}
	l.Targets = j.usualSettings()
	if l.Before, err = prior.Predict(l.Targets); err != nil {
		return l, err
	}
	l.After, err = l.Fit.Predict(l.Targets)
	return l, err
}

// Planned is what to meter next.
type Planned struct {
	Words  string // what is to be foretold
	Before float64
	Steps  []learning.Step
}

// Plan chooses readings; place and openings are those to be foretold, "all", or
// empty for those of the readings.
func (j *Job) Plan(place, openings string, steps int) (p Planned, err error) {
	now, err := j.Study.Prior()
	if len(j.Study.Readings) > 0 {
		j.Vehicle.Body.Learned, j.Study.Body.Learned = nil, nil
		now, err = j.Study.Fit()
	}
	if err != nil {
		return p, err
	}
	places, sets, err := j.wanted(place, openings)
	if err != nil {
		return p, err
	}
	targets := settings(places, sets, usualTones)
	body := j.Vehicle.Body
	p.Before, p.Steps, err = now.Plan(settings(body.PlaceNames(), body.OpeningNames(), planTones), targets, steps, learning.UsualTolerance)
	p.Words = fmt.Sprintf("levels from %g to %g Hz at the %s, %s", usualTones[0], usualTones[len(usualTones)-1], strings.Join(places, ", "), strings.Join(sets, ", "))
	return p, err
}

// wanted is what is to be foretold.
func (j *Job) wanted(place, openings string) (places, sets []string, err error) {
	choose := func(word, usual, what string, all []string) ([]string, error) {
		if word == "" {
			word = usual
		}
		if strings.EqualFold(word, "all") {
			return all, nil
		}
		if i := slices.IndexFunc(all, func(n string) bool { return strings.EqualFold(n, word) }); i >= 0 {
			return all[i : i+1], nil
		}
		return nil, inputs.UsageError{Text: fmt.Sprintf("--%s: %s has no %q; there are %s, or all", what, j.Vehicle.Name, word, strings.Join(all, ", "))}
	}
	if places, err = choose(place, j.Place, "place", j.Vehicle.Body.PlaceNames()); err != nil {
		return nil, nil, err
	}
	all := j.Vehicle.Body.OpeningNames()
	for _, word := range []string{openings, j.Openings} {
		if _, ok := j.Vehicle.Body.Openings(word); ok && openings != "all" {
			all = append(all, word) // "doors open 45 degrees"
		}
	}
	sets, err = choose(openings, j.Openings, "openings", all)
	return places, sets, err
}

// planTones are the tones that a plan may ask for, Hz: what a tone disc holds.
var planTones = []float64{28, 32, 36, 40, 45, 50, 56, 63, 71}

func settings(places, sets []string, tones []float64) (list []learning.Setting) {
	for _, p := range places {
		for _, s := range sets {
			for _, hz := range tones {
				list = append(list, learning.Setting{Place: p, Openings: s, Hz: hz})
			}
		}
	}
	return list
}

// The range of a chart, Hz, and its points to the octave.
const (
	chartFrom, chartTo = 22.0, 100.0
	chartPerOctave     = 24
)

// OverBand foretells the curve on which most readings lie.
func (j *Job) OverBand(f *learning.Fit) (b answer.Band, err error) {
	list := j.Study.Readings
	if len(list) == 0 {
		return b, nil
	}
	same := func(a, b learning.Reading) bool {
		return a.Place == b.Place && a.Openings == b.Openings && a.Case == b.Case
	}
	best, most := 0, 0
	for i, r := range list {
		n := 0
		for _, o := range list {
			if same(r, o) {
				n++
			}
		}
		if n > most {
			best, most = i, n
		}
	}
	first := list[best]
	low, high := chartFrom, chartTo
	for i, r := range list {
		if same(first, r) {
			b.Readings = append(b.Readings, i)
			low, high = min(low, r.Hz), max(high, r.Hz)
		}
	}
	slices.SortStableFunc(b.Readings, func(i, k int) int { return int(math.Copysign(1, list[i].Hz-list[k].Hz)) })
	var settings []learning.Setting
	for hz := low; hz <= high*1.001; hz *= math.Exp2(1.0 / chartPerOctave) {
		settings = append(settings, learning.Setting{Case: first.Case, Place: first.Place, Openings: first.Openings, Hz: hz})
		b.Hz = append(b.Hz, hz)
	}
	b.Title = fmt.Sprintf("Level at full output, dB, %s, %s", first.Place, first.Openings)
	b.Expected, err = f.Predict(settings)
	return b, err
}

// usualTones are where a car is foretold in an answer, Hz.
var usualTones = []float64{31.5, 40, 50, 63}

// usualSettings are the usual tones wherever the car was metered.
func (j *Job) usualSettings() (list []learning.Setting) {
	type at struct {
		place, openings string
		build           int
	}
	var seen []at
	for _, r := range j.Study.Readings {
		if a := (at{r.Place, r.Openings, r.Case}); !slices.Contains(seen, a) {
			seen = append(seen, a)
		}
	}
	for _, a := range seen {
		for _, hz := range usualTones {
			list = append(list, learning.Setting{Case: a.build, Place: a.place, Openings: a.openings, Hz: hz})
		}
	}
	return list
}

// Provenance says where what was learned comes from.
func (j *Job) Provenance() string {
	first, last := "", ""
	for _, r := range j.Readings {
		if d := r.Date.String(); d != "" {
			if first == "" || d < first {
				first = d
			}
			last = max(last, d)
		}
	}
	words := fmt.Sprintf("loudfor meter learn, %d readings", len(j.Readings))
	switch {
	case first == "":
	case first == last:
		words += " of " + first
	default:
		words += " of " + first + " to " + last
	}
	return words
}

// Booked are the readings of a book; those of a quote have its build.
func Booked(ctx context.Context, b *book.Book, vehicle string) ([]readings.Reading, error) {
	list, err := readings.FromBook(ctx, b, vehicle)
	if err != nil {
		return nil, err
	}
	quoted := map[int64]Quoted{}
	for i := range list {
		r := &list[i]
		if r.Quote == 0 {
			continue
		}
		of, ok := quoted[r.Quote]
		if !ok {
			q, err := b.Quote(ctx, r.Quote)
			if err != nil {
				return nil, err
			}
			of = BuildOf(q)
			quoted[r.Quote] = of
		}
		of.Lay(r)
	}
	return list, nil
}

// Quoted is the build of a booked quote.
type Quoted struct {
	Words string
	Box   *catalog.BuiltBox // that the shop builds for it; nil: none
}

// BuildOf makes a build of a quote again: its parts are its lines, and a box that
// the shop builds, which stands in no catalogue, is described in its answer.
func BuildOf(q book.Quote) Quoted {
	of := Quoted{Words: readings.Words(partsOf(q.Lines), "", 0)}
	var doc record.Pick
	if json.Unmarshal(q.Answer, &doc) != nil {
		return of
	}
	for _, box := range doc.BuiltBoxes {
		if slices.ContainsFunc(q.Lines, func(l book.Line) bool { return l.SKU == box.SKU }) {
			d := box.Description()
			of.Box = &d
		}
	}
	return of
}

// In tells whether a catalogue knows all parts of the build, and of its box.
func (q Quoted) In(c *catalog.Catalogue) bool {
	parts, _, _, err := readings.Parts(q.Words)
	if err != nil {
		return false
	}
	if q.Box != nil {
		parts = slices.DeleteFunc(parts, func(m catalog.Mention) bool { return m.SKU == q.Box.SKU })
		parts = append(parts, catalog.Mention{SKU: q.Box.Driver}, catalog.Mention{SKU: q.Box.Sheet}, catalog.Mention{SKU: q.Box.Workshop})
	}
	return !slices.ContainsFunc(parts, func(m catalog.Mention) bool { return c.Part(m.SKU) == nil })
}

// Lay gives a reading of the quote its build, unless it names another.
func (q Quoted) Lay(r *readings.Reading) {
	if r.Build == "" {
		r.Build = q.Words
	}
	if parts, _, _, err := readings.Parts(r.Build); err == nil && q.Box != nil &&
		slices.ContainsFunc(parts, func(m catalog.Mention) bool { return m.SKU == q.Box.SKU }) {
		r.Built = q.Box
	}
}

// InWords are the readings with the parts of their builds. A box that the shop
// built stands in its build file or its quote alone, which therefore stays named.
func (j *Job) InWords() []readings.Reading {
	list := make([]readings.Reading, len(j.Readings))
	for i, r := range j.Readings {
		if m := j.Cases[j.Study.Readings[i].Case]; m.Built == nil {
			r.Build = m.Words
		}
		r.Vehicle = j.Vehicle.Name
		list[i] = r
	}
	return list
}

// partsOf joins the lines of a quote, which tell owned pieces from bought ones.
func partsOf(lines []book.Line) (parts []catalog.Mention) {
	for _, l := range lines {
		if k := slices.IndexFunc(parts, func(m catalog.Mention) bool { return m.SKU == l.SKU }); k >= 0 {
			parts[k].Count += l.Count
		} else {
			parts = append(parts, catalog.Mention{SKU: l.SKU, Count: l.Count})
		}
	}
	return parts
}
