package curve

import (
	"bytes"
	"encoding/csv"
	"fmt"

	"loudfor/catalog"
	"loudfor/cmd/internal/figure"
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

// LadderSVG draws level against price up to a cap (zero: the last step).
func LadderSVG(title string, steps []optimizer.Step, worth *catalog.Money, limit catalog.Money) ([]byte, error) {
	var marks []figure.Step
	currency := limit.Currency
	for i := range steps {
		s := &steps[i]
		currency = s.Build.Cost.Currency
		m := figure.Step{Price: record.Figure(s.Build.Cost.Decimal()).Float(), Level: s.Build.Objective}
		if worth != nil && s.Steep(*worth) {
			m.Note = fmt.Sprintf("2 dB more cost more than %s", worth)
		}
		marks = append(marks, m)
	}
	return figure.Staircase(title, currency, marks, record.Figure(limit.Decimal()).Float())
}
