package curve

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"slices"
	"strings"

	"loudfor/catalog"
	"loudfor/catalog/units"
	"loudfor/cmd/internal/chart"
	"loudfor/cmd/internal/record"
	"loudfor/optimizer"
)

// LadderColumns are the columns of a ladder's CSV, with the names of the JSON.
var LadderColumns = []string{"price", "currency", "db", "band_db", "rise_db", "rise_band_db", "extra", "next_2_db", "changes", "parts"}

// LadderCSV writes the steps of a ladder as comma-separated values (RFC 4180)
// with a header. next_2_db is empty where the cap ends before.
func LadderCSV(steps []optimizer.Step, changes []string) ([]byte, error) {
	var out bytes.Buffer
	w := csv.NewWriter(&out)
	if err := w.Write(LadderColumns); err != nil {
		return nil, err
	}
	for i := range steps {
		s := &steps[i]
		next := ""
		if !s.Open {
			next = s.Next.Decimal()
		}
		parts := ""
		for k, line := range s.Build.Lines {
			if k > 0 {
				parts += "; "
			}
			parts += line.Part.SKU
			if line.Count > 1 {
				parts += fmt.Sprintf(" x %d", line.Count)
			}
		}
		err := w.Write([]string{s.Build.Cost.Decimal(), s.Build.Cost.Currency, string(record.Level(s.Build.Objective)),
			string(record.Level(s.Build.Band())), string(record.Level(s.Rise)), string(record.Level(s.Band)), s.Extra.Decimal(), next, changes[i], parts})
		if err != nil {
			return nil, err
		}
	}
	w.Flush()
	return out.Bytes(), w.Error()
}

// Ladder is level against price up to a cap (zero: the last step).
func Ladder(title string, steps []optimizer.Step, worth *catalog.Money, limit catalog.Money) *chart.Chart {
	c := &chart.Chart{Title: title}
	value, knee := optimizer.Value(steps, optimizer.Noticed), optimizer.Knee(steps)
	line := chart.Line{Step: true, Class: "stairs", End: major(limit)}
	for i := range steps {
		s := &steps[i]
		at := chart.XY{X: major(s.Build.Cost), Y: s.Build.Objective}
		line.Points = append(line.Points, at)
		m := chart.Mark{At: at, Sign: 'o', Size: 3.5, Class: "step"}
		if worth != nil && s.Steep(*worth) {
			m.Sign, m.Name = '!', fmt.Sprintf("2 dB more cost more than %s", worth)
		}
		switch i {
		case value:
			m.Sign, m.Name = 'V', named(m.Name, "best value: the cheapest at most 1 dB below the last")
		case knee:
			m.Sign, m.Name = 'K', named(m.Name, "knee: up to here money buys more than on the whole")
		}
		c.Marks = append(c.Marks, m)
	}
	low, high := Levels(line.Points...)
	first, last := line.Points[0].X, line.Points[len(steps)-1].X
	c.X = chart.Sums(first, max(last, line.End, first*1.001), mostSums, 0, units.Plain)
	c.X.Unit = steps[0].Build.Cost.Currency
	c.X.Label = "price, all in, " + c.X.Unit
	c.Y = chart.Levels(low, high, units.Plain)
	c.Lines = []chart.Line{line}
	return c
}

// named adds a name to that of a mark.
func named(names ...string) string {
	return strings.Join(slices.DeleteFunc(names, func(name string) bool { return name == "" }), "; ")
}

// mostSums are about as many as stand beside each other below a chart.
const mostSums = 8

func major(m catalog.Money) float64 { return record.Figure(m.Decimal()).Float() }
