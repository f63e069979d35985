package counter

import (
	"encoding/json"
	"fmt"
	"html/template"
	"math"

	"loudfor/cmd/internal/chart"
	"loudfor/cmd/internal/curve"
	"loudfor/cmd/internal/facts"
	"loudfor/model/bass"
	"loudfor/model/parallel"
	"loudfor/optimizer"
)

// The response: the highest level at each frequency, at the place of the brief
// with the limit that binds shaded under it, and as thin lines at the car's
// other places. A limit is told by its letter, not by its shade alone.

type rangeWords struct{ Letter, Class, Limit, Hz, Level string }

func (v voice) ranges(points []bass.Operation) (all []rangeWords) {
	for _, r := range curve.Ranges(points) {
		hz, level := v.Figure(r.From, 0)+" Hz", v.DB(r.Least)+" dB"
		if v.Figure(r.From, 0) != v.Figure(r.To, 0) {
			hz = v.Figure(r.From, 0) + " to " + v.Figure(r.To, 0) + " Hz"
		}
		if v.DB(r.Most) != v.DB(r.Least) {
			level = v.DB(r.Least) + " to " + v.DB(r.Most) + " dB"
		}
		all = append(all, rangeWords{string(curve.Mark(r.Limit)), curve.LimitClass(r.Limit), r.Limit.String(), hz, level})
	}
	return all
}

// otherPlace is a build heard somewhere else in the car.
type otherPlace struct {
	name  string
	build optimizer.Build
}

// everywhere adds what is heard at each place of the car, each predicted for
// itself.
func (c *Counter) everywhere(v *visit, q *question, code string, b optimizer.Build, body *buildBody) error {
	var names []string
	if !q.job.Vehicle.OpenField {
		for _, name := range q.job.Vehicle.Body.PlaceNames() {
			if name != q.job.Brief.Place {
				names = append(names, name)
			}
		}
	}
	others, faults := make([]otherPlace, len(names)), make([]error, len(names))
	parallel.Each(len(names), len(names), func(i int) {
		others[i].name = names[i]
		others[i].build, faults[i] = c.buildAt(v.context(), q, code, names[i])
	})
	for _, err := range faults {
		if err != nil {
			return err
		}
	}
	line := func(name string, b optimizer.Build) figureLine {
		return figureLine{facts.Capital(name), v.voice.banded(b.Reading.DB, b.Reading.Band), fmt.Sprintf("at %s Hz; limit: %s", v.voice.Figure(b.Reading.Hz, 0), b.Operation.Limit)}
	}
	if len(others) > 0 {
		body.Elsewhere = append(body.Elsewhere, line(q.job.Brief.Place, b))
		for _, o := range others {
			body.Elsewhere = append(body.Elsewhere, line(o.name, o.build))
		}
	}
	body.Side, body.Room = v.voice.side(q, b, others), v.voice.room(q, b)
	body.Response, body.Small = v.voice.response(b, others, false), v.voice.response(b, others, true)
	return nil
}

// response is nil for a build without a curve.
func (v voice) response(b optimizer.Build, others []otherPlace, small bool) *drawn {
	points := b.Curve
	if len(points) < 2 {
		return nil
	}
	frame := chart.Frame{Width: 860, Height: 380, Left: 52, Right: 730, Top: 30, Bottom: 336}
	marks := []float64{20, 25, 31.5, 40, 50, 63, 80, 100, 120}
	if small {
		frame = chart.Frame{Width: 400, Height: 340, Left: 42, Right: 300, Top: 30, Bottom: 296}
		marks = []float64{20, 31.5, 50, 80, 120}
	}
	first := curve.Line(points)
	first.Name, first.Class = b.Reading.Place, "curve main"
	lines, all := []chart.Line{first}, first.Points
	for _, o := range others {
		l := curve.Line(o.build.Curve)
		if len(l.Points) < 2 {
			continue
		}
		l.Name, l.Class, l.Of = o.name, fmt.Sprintf("curve line-%d", len(lines)), nil
		lines, all = append(lines, l), append(all, l.Points...)
	}
	low, high := curve.Levels(all...)
	peak := fmt.Sprintf("%s dB at %s Hz", v.DB(b.Operation.Level), v.Figure(b.Operation.Hz, 0))
	words := fmt.Sprintf("Highest level over frequency %s, the peak %s; which limit binds where stands in the table below.",
		facts.Where(b.Reading.Place, b.Reading.Openings), peak)
	d := draw(&chart.Chart{Words: words, Lines: lines, X: chart.Frequencies(points[0].Hz, points[len(points)-1].Hz, marks),
		Y:     chart.Levels(low, high, func(db float64) string { return v.Figure(db, 0) }),
		Marks: []chart.Mark{{At: chart.XY{X: b.Operation.Hz, Y: b.Operation.Level}, Sign: 'o', Size: 6, Class: "peak", Label: peak}},
	}, frame, words, "response", small)
	d.Read = v.reading(points, frame, low, high)
	return d
}

// readOff is what the page's script needs to read the curve off, by pointer or
// keyboard: the field of the drawing and, for each point, where it lies and its
// words.
type readOff struct {
	Top, Bottom float64   `json:"-"`
	X           []float64 `json:"x"`
	Y           []float64 `json:"y"`
	Words       []string  `json:"words"`
	Peak        int       `json:"peak"`
}

func (v voice) reading(points []bass.Operation, f chart.Frame, low, high float64) *readOff {
	axis := chart.Levels(low, high, func(float64) string { return "" })
	r := &readOff{Top: f.Top, Bottom: f.Bottom}
	from, to := points[0].Hz, points[len(points)-1].Hz
	for i, p := range points {
		if p.Level > points[r.Peak].Level {
			r.Peak = i
		}
		r.X = append(r.X, tenth(f.Left+math.Log(p.Hz/from)/math.Log(to/from)*(f.Right-f.Left)))
		r.Y = append(r.Y, tenth(f.Bottom-(p.Level-axis.From)/(axis.To-axis.From)*(f.Bottom-f.Top)))
		r.Words = append(r.Words, fmt.Sprintf("%s Hz: %s dB, limit: %s", v.Figure(p.Hz, 1), v.DB(p.Level), p.Limit))
	}
	return r
}

// JSON is the reading for an attribute.
func (r *readOff) JSON() (string, error) {
	text, err := json.Marshal(r)
	return string(text), err
}

// Last is the number of the last point.
func (r *readOff) Last() int { return len(r.X) - 1 }

// PeakWords are those of the highest point.
func (r *readOff) PeakWords() string { return r.Words[r.Peak] }

// drawn is a chart as a view shows it.
type drawn struct {
	SVG          template.HTML // made by our own drawing, which escapes its words
	Words, Class string
	Read         *readOff // nil: it cannot be read off point by point
}

// draw draws a chart; small: for a narrow screen.
func draw(c *chart.Chart, f chart.Frame, words, class string, small bool) *drawn {
	width := "on-wide"
	if small {
		width = "on-narrow"
	}
	return &drawn{SVG: template.HTML(chart.SVG(c, f)), Words: words, Class: class + " " + width}
}
