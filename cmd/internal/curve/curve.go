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
	"io"
	"math"

	"loudfor/cmd/internal/chart"
	"loudfor/cmd/internal/figure"
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

// Chart draws the curve with plain characters.
func Chart(w io.Writer, title string, points []bass.Operation) error {
	marks := make([]chart.Point, len(points))
	for i, p := range points {
		marks[i] = chart.Point{Hz: p.Hz, Level: p.Level, Mark: Mark(p.Limit)}
	}
	return chart.Write(w, title, marks)
}

// SVG draws the curve as a picture.
func SVG(title string, points []bass.Operation) ([]byte, error) {
	marks := make([]figure.Point, len(points))
	for i, p := range points {
		marks[i] = figure.Point{Hz: p.Hz, Level: p.Level}
		if p.Limit != bass.LimitNone {
			marks[i].Limit = p.Limit.String()
		}
	}
	return figure.SVG(title, marks)
}
