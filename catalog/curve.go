package catalog

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"
	"unicode/utf8"

	"loudfor/catalog/document"
	"loudfor/catalog/report"
	"loudfor/catalog/units"
)

// A measured curve comes from a spreadsheet or a meter as CSV:
//
//	frequency_hz,gain_db
//	20,14.5
//	25,13.8
//
// frequency_hz rises from line to line. gain_db is the level in the car less
// the level that the same box with the same drive gives in the open, on the
// ground at 1 m. The columns may stand in any order, separated by commas,
// semicolons (then a decimal comma is read) or tabs; lines that start with #
// are remarks.

const (
	mostCurveBytes = 4 << 20
	mostCurveRows  = 20_000
	leastHz        = 1.0
	mostHz         = 20_000.0
	mostGain       = 80.0 // dB: more is a level, not a gain
)

var curveColumns = []string{"frequency_hz", "gain_db"}

// readCurve reads the text of a curve; with a problem there is no curve.
func readCurve(file *document.File) (hz, gain []float64, problems []Problem) {
	bad := func(line, column int, text, summary, detail string) {
		p := Problem{Summary: summary, Detail: detail, Text: text, Where: Position{File: file.Name, Line: line, Column: column}}
		if line > 0 {
			p.Context, p.Length = file.Line(line), max(1, utf8.RuneCountInString(text))
		}
		if len(problems) < document.MostProblems {
			problems = append(problems, p)
		}
	}
	rows := csv.NewReader(bytes.NewReader(file.LineFeeds()))
	rows.Comma, rows.Comment, rows.FieldsPerRecord, rows.ReuseRecord = separator(file), '#', -1, true
	column := [2]int{-1, -1}
	for header := true; ; header = false {
		record, err := rows.Read()
		if errors.Is(err, io.EOF) {
			if header {
				bad(0, 0, "", "the file is empty", "write the columns frequency_hz,gain_db")
			}
			break
		}
		var fault *csv.ParseError
		if errors.As(err, &fault) {
			line := min(fault.Line, file.Lines())
			bad(line, file.Character(line, fault.Column), "", "the line is not CSV: "+fault.Err.Error(), "write two numbers with a comma between them")
			break
		}
		at := func(i int) (line, col int) {
			line, bytes := rows.FieldPos(i)
			return line, file.Character(line, bytes)
		}
		if header {
			if !readHeader(record, &column, at, bad) {
				break
			}
			continue
		}
		if len(hz) >= mostCurveRows {
			line, _ := at(0)
			bad(line, 1, "", fmt.Sprintf("more than %d rows", mostCurveRows), "keep fewer frequencies")
			break
		}
		var v [2]float64
		good := true
		for k, dim := range [...]units.Dimension{units.Frequency, units.Level} {
			if column[k] >= len(record) {
				line, _ := at(0)
				bad(line, 1, "", "the row has no "+curveColumns[k], "write every row with all its columns")
				good = false
				continue
			}
			line, col := at(column[k])
			text := record[column[k]]
			q, e := units.ParseNamed(text, dim)
			if e != nil {
				bad(line, col, text, e.Summary, e.Remedy)
				good = false
				continue
			}
			v[k] = q.SI
			switch {
			case k == 0 && (q.SI < leastHz || q.SI > mostHz):
				bad(line, col, text, fmt.Sprintf("frequency_hz cannot be %q", text), fmt.Sprintf("it lies between %g and %g Hz", leastHz, mostHz))
				good = false
			case k == 0 && len(hz) > 0 && q.SI <= hz[len(hz)-1]:
				bad(line, col, text, "the frequency does not rise", fmt.Sprintf("sort the rows; the one before has %g Hz", hz[len(hz)-1]))
				good = false
			case k == 1 && (q.SI > mostGain || q.SI < -mostGain):
				bad(line, col, text, fmt.Sprintf("gain_db cannot be %q", text), "a gain is the level in the car less the level in the open at 1 m, with the same drive")
				good = false
			}
		}
		if good {
			hz, gain = append(hz, v[0]), append(gain, v[1])
		}
	}
	if len(problems) == 0 && len(hz) < 2 {
		bad(0, 0, "", fmt.Sprintf("the curve has %d rows", len(hz)), "measure at two frequencies or more")
	}
	slices.SortStableFunc(problems, func(a, b report.Problem) int { return a.Where.Compare(b.Where) })
	return hz, gain, problems
}

func readHeader(record []string, column *[2]int, at func(int) (int, int), bad func(int, int, string, string, string)) bool {
	good := true
	for i, name := range record {
		word := strings.ToLower(strings.TrimSpace(name))
		k := slices.Index(curveColumns, word)
		line, col := at(i)
		switch {
		case k < 0:
			bad(line, col, name, fmt.Sprintf("%q is not a column of a curve", name),
				hint(units.Nearest(word, curveColumns), "the columns are frequency_hz and gain_db"))
			good = false
		case column[k] >= 0:
			bad(line, col, name, fmt.Sprintf("the column %q stands twice", name), "keep one of the two")
			good = false
		default:
			column[k] = i
		}
	}
	for k, name := range curveColumns {
		if column[k] < 0 && good {
			line, col := at(0)
			bad(line, col, "", fmt.Sprintf("the column %q is missing", name), "write the header frequency_hz,gain_db")
			return false
		}
	}
	return good
}

// separator is what the first line that is no remark separates its names with.
func separator(f *document.File) rune {
	for n := 1; n <= f.Lines(); n++ {
		line := f.Line(n)
		if strings.HasPrefix(line, "#") || strings.TrimSpace(line) == "" {
			continue
		}
		switch {
		case strings.Contains(line, ","):
		case strings.Contains(line, ";"):
			return ';'
		case strings.Contains(line, "\t"):
			return '\t'
		}
		break
	}
	return ','
}
