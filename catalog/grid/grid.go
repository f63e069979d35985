// Package grid reads what lies in rows and columns: CSV files (comma, semicolon,
// tab or bar, in any encoding of Europe) and XLSX workbooks, with the place of
// every cell.
//
//	sheets, found := grid.Read("may.xlsx", content, grid.Options{
//		What: "a price list", Columns: "SKU, price", IsHeader: isHeader, MostRows: 200_000,
//	})
//	for _, s := range sheets {
//		header := s.Row(0)
//		for i := 1; i < s.Len(); i++ {
//			row := s.Row(i)
//		}
//	}
//
// What the columns mean is the caller's affair; the caller's IsHeader says
// where a list begins, since shops put titles above their lists, and by which
// character a CSV file is parted, since the file itself does not say. Where a
// second header follows below, a second list begins there. Both kinds of file
// end as rows of cells; from there on they are the same.
//
// Limits: the older .xls workbooks are not read, nor those that are locked; nor
// .ods, for which no kept library was to be had.
package grid

import (
	"bytes"
	"math"
	"strconv"
	"strings"
	"time"
	"unicode/utf8"

	"loudfor/catalog"
	"loudfor/catalog/document"
	"loudfor/catalog/report"
)

// Sort is what a cell holds.
type Sort int

const (
	Untyped Sort = iota // CSV: a text that may be anything
	Text                // a workbook's text, even if digits stand in it
	Number
	Formula
	Fault // #N/A and the like
	Truth
)

// Cell is one value with its place.
type Cell struct {
	Text string
	At   catalog.Position
	Sort Sort
}

// Empty tells whether nothing was written; a formula is something.
func (c Cell) Empty() bool { return c.Sort != Formula && strings.TrimSpace(c.Text) == "" }

// Shown is the text of a cell as its user sees it, without space around it.
func (c Cell) Shown() string {
	if c.Sort == Number {
		return decimal(c.Text)
	}
	return strings.TrimSpace(c.Text)
}

// shownDigits are those that a spreadsheet shows: it keeps 39.95 as
// 39.950000000000003, which nobody wrote.
const shownDigits = 15

func decimal(raw string) string {
	v, err := strconv.ParseFloat(strings.TrimSpace(raw), 64)
	if err != nil || math.IsInf(v, 0) || math.IsNaN(v) {
		return raw
	}
	v, _ = strconv.ParseFloat(strconv.FormatFloat(v, 'g', shownDigits, 64), 64)
	return strconv.FormatFloat(v, 'f', -1, 64)
}

// Sheet is one list: a CSV file, or a sheet of a workbook.
type Sheet struct {
	Name string // of the sheet; empty for CSV
	// Encoding is how the characters of a CSV file are written, such as
	// "windows-1252"; empty for workbooks.
	Encoding string
	// Above is what stands above the header: a title, or a row of headings
	// that several columns share.
	Above [][]Cell
	// Line gives the source line of a place, for messages; nil for workbooks.
	Line func(catalog.Position) string
	// Day turns the number that a workbook keeps for a date into the date;
	// nil for CSV.
	Day func(serial float64) (time.Time, bool)

	file string
	rows []row // those with content, the header first
}

// Options say what is looked for.
type Options struct {
	What     string // "a price list", for messages
	Columns  string // the names of columns to offer in messages
	Sample   string // a short header, for messages
	Sheet    string // the only sheet to read; empty: all that are visible
	IsHeader func(row []Cell) bool
	// MayBeHeader is a quick look at each row below a header, before IsHeader is
	// asked whether another list begins there; nil: none does.
	MayBeHeader func(row []Cell) bool
	MostRows    int // with content, of one list
	// MostUnpacked bounds a workbook when its compression is undone, bytes.
	MostUnpacked int64
}

// TitleRows is how many rows with content may stand above the header.
const TitleRows = 20

// mostMistakes is how many are reported: a file with more is something else.
const mostMistakes = 10_000

// Read reads the lists of a file. What kind of file it is, its first bytes
// tell; the name is only for messages. With an error among the problems the
// lists may be incomplete.
func Read(name string, content []byte, o Options) ([]Sheet, []catalog.Problem) {
	r := &reader{options: o, name: name}
	switch {
	case bytes.HasPrefix(content, zipped) && bytes.Contains(content[:min(len(content), 200)], openDocument):
		r.bad(Cell{At: r.whole()}, "an OpenDocument spreadsheet (.ods), which is not read", "save it as .xlsx or .csv")
	case bytes.HasPrefix(content, zipped):
		r.workbook(content)
	case bytes.HasPrefix(content, compound):
		r.bad(Cell{At: r.whole()}, "an .xls workbook, or one that is locked with a password", "save it as .xlsx without a password, or as .csv")
	default:
		content, encoding, _ := decoded(content)
		file, problem := document.NewFile(name, content)
		if problem != nil {
			problem.Detail = strings.Replace(problem.Detail, "a YAML file saved as UTF-8", "a CSV file, or an .xlsx workbook", 1)
			r.found = append(r.found, *problem)
			break
		}
		r.text(file)
		for i := range r.sheets {
			r.sheets[i].Encoding = encoding
		}
	}
	return r.sheets, r.found
}

// The first bytes of files that are not text. The older container also holds
// workbooks that are locked with a password.
var (
	zipped   = []byte("PK\x03\x04")
	compound = []byte{0xd0, 0xcf, 0x11, 0xe0}
	// openDocument is what the first file inside says of its format (ODF 1.2,
	// part 3, 3.3).
	openDocument = []byte("mimetypeapplication/vnd.oasis.opendocument")
)

// reader collects lists and problems.
type reader struct {
	options Options
	name    string
	line    func(catalog.Position) string
	sheets  []Sheet
	found   []catalog.Problem
	failed  int
	texts   texts
}

func (r *reader) whole() catalog.Position { return catalog.Position{File: r.name} }

func (r *reader) bad(c Cell, summary, detail string) {
	r.failed++
	r.found = append(r.found, Problem(catalog.Error, c, r.line, summary, detail))
}

func (r *reader) remark(c Cell, summary, detail string) {
	r.found = append(r.found, Problem(catalog.Info, c, r.line, summary, detail))
}

// full tells whether there are more mistakes than anybody will mend one by one.
func (r *reader) full() bool { return r.failed >= mostMistakes }

// Problem is a problem with a cell, with its source line where line (of the
// cell's Sheet) gives one.
func Problem(s catalog.Severity, c Cell, line func(catalog.Position) string, summary, detail string) catalog.Problem {
	p := catalog.Problem{Severity: s, Summary: summary, Detail: detail, Where: c.At, Text: c.Text}
	if line != nil {
		if p.Context = line(c.At); p.Context != "" {
			p.Length = max(1, utf8.RuneCountInString(written(c, p.Context)))
		}
	}
	return p
}

// written is the text of a cell as it stands in its line, with its quotes; of one
// with several lines, the first.
func written(c Cell, line string) string {
	text, _, _ := strings.Cut(strings.TrimRight(c.Text, " "), "\n")
	if from := []rune(line); c.At.Column-1 < len(from) && from[c.At.Column-1] == '"' {
		rest := string(from[c.At.Column-1:])
		for _, quoted := range []string{strings.ReplaceAll(c.Text, `"`, `""`) + `"`, strings.ReplaceAll(text, `"`, `""`)} {
			if strings.HasPrefix(rest[1:], quoted) {
				return rest[:1+len(quoted)]
			}
		}
	}
	return text
}

// header gives the number of the header among the rows; -1 if there is none.
func (r *reader) header(rows []row) int {
	for i := range min(len(rows), TitleRows) {
		if r.options.IsHeader(rows[i].lay(r.name, "")) {
			return i
		}
	}
	return -1
}

// lists parts the rows of a sheet into lists, each with its header; none where
// there is no header. Of the rows above the header of a second list, those with
// one cell that stand right above it are its title.
func (r *reader) lists(rows []row, sheet string) (out []Sheet) {
	first := r.header(rows)
	if first < 0 {
		return nil
	}
	for i := range rows[first:] {
		for _, k := range rows[first+i].cells {
			if _, _, summary, detail := report.Hidden(k.text); summary != "" && !r.full() {
				at := catalog.Position{File: r.name, Sheet: sheet, Line: int(k.line), Column: int(k.column)}
				r.bad(Cell{Text: k.text, At: at, Sort: k.sort}, summary, detail)
			}
		}
	}
	above, from := 0, first
	for i := first + 1; i <= len(rows); i++ {
		if i < len(rows) && !r.another(&rows[i]) {
			continue
		}
		end := i
		if i < len(rows) {
			for end > from+1 && rows[end-1].alone() {
				end--
			}
		}
		s := Sheet{Name: sheet, Line: r.line, file: r.name, rows: rows[from:end:end]}
		for n := above; n < from; n++ {
			s.Above = append(s.Above, rows[n].lay(r.name, sheet))
		}
		out = append(out, s)
		above, from = end, i
	}
	return out
}

// another tells whether a row is the header of a further list.
func (r *reader) another(row *row) bool {
	if r.options.MayBeHeader == nil || !row.wordy() {
		return false
	}
	cells := row.lay(r.name, "")
	return r.options.MayBeHeader(cells) && r.options.IsHeader(cells)
}
