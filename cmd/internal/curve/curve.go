// Package curve turns a prediction over frequency into the forms in which
// people look at one: a CSV file, a chart in the terminal, a picture, and the
// list of what binds where.
//
//	text, err := curve.CSV(build.Curve)
//	for _, r := range curve.Ranges(build.Curve) {
//		fmt.Printf("%.0f to %.0f Hz: %s\n", r.From, r.To, r.Limit)
//	}
//
// Limit: the points are those of the prediction; nothing is drawn or listed
// between them.
package curve

import (
	"bytes"
	"encoding/csv"
	"math"
	"unicode"

	"loudfor/catalog/units"
	"loudfor/cmd/internal/chart"
	"loudfor/cmd/internal/record"
	"loudfor/model/bass"
)

// Columns are the columns of the CSV, the same names as in the JSON.
var Columns = []string{"frequency_hz", "impedance_ohm", "impedance_phase_deg", "excursion_mm", "port_speed_m_s", "level_db", "limit"}

// CSV writes the curve as comma-separated values (RFC 4180) with a header.
func CSV(points []bass.Operation) ([]byte, error) {
	var out bytes.Buffer
	w := csv.NewWriter(&out)
	if err := w.Write(Columns); err != nil {
		return nil, err
	}
	for _, p := range record.OfCurve(points) {
		err := w.Write([]string{
			text(p.FrequencyHz), text(p.ImpedanceOhm), text(p.ImpedancePhaseDeg),
			text(p.ExcursionMM), text(p.PortSpeed), text(p.LevelDB), p.Limit,
		})
		if err != nil {
			return nil, err
		}
	}
	w.Flush()
	return out.Bytes(), w.Error()
}

func text(f record.Figure) string {
	if f == "" {
		return "0"
	}
	return string(f)
}

// Range is a stretch of frequencies in which the same limit binds.
type Range struct {
	From, To    float64 // Hz, both ends included
	Limit       bass.Limit
	Least, Most float64 // level in it, dB
}

// Ranges lists what binds where, lowest frequency first.
func Ranges(points []bass.Operation) []Range {
	var out []Range
	for _, p := range points {
		if n := len(out) - 1; n >= 0 && out[n].Limit == p.Limit {
			r := &out[n]
			r.To, r.Least, r.Most = p.Hz, math.Min(r.Least, p.Level), math.Max(r.Most, p.Level)
			continue
		}
		out = append(out, Range{From: p.Hz, To: p.Hz, Limit: p.Limit, Least: p.Level, Most: p.Level})
	}
	return out
}

// Mark is the letter that stands for a limit in the chart.
func Mark(l bass.Limit) rune {
	switch l {
	case bass.LimitVoltage:
		return 'V'
	case bass.LimitCurrent:
		return 'A'
	case bass.LimitSupply:
		return 'S'
	case bass.LimitTravel:
		return 'T'
	case bass.LimitHeat:
		return 'H'
	case bass.LimitPort:
		return 'P'
	}
	return 'o'
}

// Line is the curve as a chart shows it.
func Line(points []bass.Operation) chart.Line {
	l := chart.Line{Class: "curve"}
	for _, p := range points {
		l.Points = append(l.Points, chart.XY{X: p.Hz, Y: p.Level})
		letter := Mark(p.Limit)
		l.Of = append(l.Of, chart.Kind{Letter: letter, Name: p.Limit.String(), Class: LimitClass(p.Limit)})
	}
	return l
}

// LimitClass names the shade of a limit in style sheets.
func LimitClass(l bass.Limit) string { return "limit-" + string(unicode.ToLower(Mark(l))) }

// Levels are the least and the most of what points show.
func Levels(points ...chart.XY) (low, high float64) {
	low, high = math.Inf(1), math.Inf(-1)
	for _, p := range points {
		low, high = min(low, p.Y), max(high, p.Y)
	}
	return low, high
}

// Chart is the curve as a chart.
func Chart(title string, points []bass.Operation) *chart.Chart {
	if len(points) == 0 {
		return &chart.Chart{Title: title}
	}
	l := Line(points)
	low, high := Levels(l.Points...)
	return &chart.Chart{Title: title, Kinds: "limit: ", X: chart.Frequencies(points[0].Hz, points[len(points)-1].Hz, chart.Octaves),
		Y: chart.Levels(low, high, units.Plain), Lines: []chart.Line{l}}
}
