// Package report holds what is wrong in a user's files: each problem with its
// place, the offending text and the way to mend it, sorted by file, line and
// column.
//
//	r := &report.Report{}
//	r.Add(report.Problem{
//		Summary: `"58 kg" is a mass, not a volume`,
//		Detail:  "write a volume, such as 58 L",
//		Where:   report.Position{File: "parts.yaml", Line: 12, Column: 10},
//		Text:    "58 kg",
//	})
//	r.Write(os.Stderr, false)
//
// A reader goes on after a problem, so that one run shows them all. A report
// without errors may still hold warnings and remarks. The package knows
// nothing of parts or of YAML.
package report

import (
	"cmp"
	"encoding/json"
	"slices"
	"strings"
)

// Severity is how bad a problem is; the worst comes first.
type Severity int

const (
	Error   Severity = iota // nothing is loaded
	Warning                 // something cannot be right, but the work can go on
	Info                    // worth knowing: for example a value that will be assumed
)

func (s Severity) String() string {
	return [...]string{"error", "warning", "info"}[s]
}

// MarshalText gives the word of the severity.
func (s Severity) MarshalText() ([]byte, error) { return []byte(s.String()), nil }

// Position is a place in a user's file; lines and columns count from 1, and
// columns count characters, not bytes. The zero value means that something
// came from no file. Line 0 with a File means the file as a whole.
type Position struct {
	File         string
	Line, Column int
	// Sheet is the name of a sheet of a workbook: Line and Column are then
	// the row and the column of a cell, and line 0 is the sheet as a whole.
	Sheet string
}

func (p Position) String() string {
	switch {
	case p == Position{}:
		return "-"
	case p.Sheet != "" && p.Line == 0:
		return p.File + ":" + p.Sheet
	case p.Sheet != "":
		return p.File + ":" + p.Sheet + "!" + p.Cell()
	case p.Line == 0:
		return p.File
	}
	return p.File + ":" + itoa(p.Line) + ":" + itoa(p.Column)
}

// Cell is the name of a cell of a sheet, such as B7: the letters of the column,
// in which A to Z are the digits 1 to 26, and the row.
func (p Position) Cell() string {
	letters := ""
	for n := p.Column; n > 0; n = (n - 1) / 26 {
		letters = string(rune('A'+(n-1)%26)) + letters
	}
	return letters + itoa(p.Line)
}

// Compare orders positions by file, sheet, line and column.
func (p Position) Compare(q Position) int {
	return cmp.Or(cmp.Compare(p.File, q.File), cmp.Compare(p.Sheet, q.Sheet), cmp.Compare(p.Line, q.Line), cmp.Compare(p.Column, q.Column))
}

// Problem is one thing that is wrong, or that the reader of the result has to
// know.
type Problem struct {
	Severity Severity
	Summary  string   // what is wrong, short, without a full stop
	Detail   string   // what was expected and how to mend it
	Where    Position // first character of the trouble
	Text     string   // the offending text; empty when something is missing
	Context  string   // the source line of Where
	Length   int      // characters to mark in Context, at least 1 when there is a Context
	// Related is a second place that the problem is about, such as the first
	// use of a SKU; RelatedNote says what is there.
	Related     *Position
	RelatedNote string
	Heading     string // of the column of a list that the place is in
	Hazard      bool   // it can hurt: never left out of an answer
}

// Citing is the problem with a second place that it is about, and what is there.
func (p Problem) Citing(at Position, note string) Problem {
	p.Related, p.RelatedNote = &at, note
	return p
}

func (p Problem) compare(q Problem) int {
	return cmp.Or(p.Where.Compare(q.Where), cmp.Compare(p.Severity, q.Severity),
		strings.Compare(p.Summary, q.Summary), strings.Compare(p.Text, q.Text), strings.Compare(p.Detail, q.Detail))
}

// MarshalJSON writes the problem with the stable key names of the program's
// JSON output.
func (p Problem) MarshalJSON() ([]byte, error) {
	type place struct {
		File   string `json:"file"`
		Line   int    `json:"line,omitempty"`
		Column int    `json:"column,omitempty"`
		Sheet  string `json:"sheet,omitempty"`
		Note   string `json:"note,omitempty"`
	}
	out := struct {
		Severity Severity `json:"severity"`
		File     string   `json:"file"`
		Line     int      `json:"line,omitempty"`
		Column   int      `json:"column,omitempty"`
		Sheet    string   `json:"sheet,omitempty"`
		Text     string   `json:"text,omitempty"`
		Summary  string   `json:"summary"`
		Remedy   string   `json:"remedy,omitempty"`
		Related  *place   `json:"related,omitempty"`
	}{Severity: p.Severity, File: p.Where.File, Line: p.Where.Line, Column: p.Where.Column,
		Sheet: p.Where.Sheet, Text: p.Text, Summary: PlainQuotes(p.Summary), Remedy: PlainQuotes(p.Detail)}
	if p.Related != nil {
		out.Related = &place{p.Related.File, p.Related.Line, p.Related.Column, p.Related.Sheet, p.RelatedNote}
	}
	return json.Marshal(out)
}

// Report is all that is wrong in one reading of files. A nil Report is an
// empty one.
type Report struct {
	Problems []Problem `json:"problems"`
	// More counts the problems that were found beyond the most that a report
	// keeps.
	More int `json:"more,omitempty"`
}

// leftOut is how the detail of a problem ends that has cost something its place.
const leftOut = " is left out"

// LeavesOut says that something is left out for the problem.
func (p *Problem) LeavesOut() bool { return strings.HasSuffix(p.Detail, leftOut) }

// Excuse makes a warning of an error, for which something is left out; name may be
// empty.
func (p *Problem) Excuse(name string) bool {
	if p.Severity != Error {
		return false
	}
	if p.Severity = Warning; p.Detail != "" {
		p.Detail += "\n"
	}
	p.Detail += cmp.Or(name, "it") + leftOut
	return true
}

// Add appends problems; call Sort when all are in.
func (r *Report) Add(p ...Problem) { r.Problems = append(r.Problems, p...) }

// Merge adds all that another report holds.
func (r *Report) Merge(other *Report) {
	if other == nil {
		return
	}
	r.Problems = append(r.Problems, other.Problems...)
	r.More += other.More
}

// Sort orders the problems by file, line, column, severity and words, drops
// exact repetitions, and keeps at most limit of them (0: all). Errors are kept
// before warnings, so that a flood of remarks cannot hide one.
func (r *Report) Sort(limit int) {
	slices.SortStableFunc(r.Problems, Problem.compare)
	r.Problems = slices.CompactFunc(r.Problems, func(a, b Problem) bool { return a.compare(b) == 0 })
	if limit <= 0 || len(r.Problems) <= limit {
		return
	}
	kept := slices.Clone(r.Problems)
	slices.SortStableFunc(kept, func(a, b Problem) int { return cmp.Compare(a.Severity, b.Severity) })
	r.More += len(kept) - limit
	kept = kept[:limit]
	slices.SortStableFunc(kept, Problem.compare)
	r.Problems = kept
}

// Count gives how many problems of a severity the report keeps.
func (r *Report) Count(s Severity) int {
	n := 0
	if r != nil {
		for i := range r.Problems {
			if r.Problems[i].Severity == s {
				n++
			}
		}
	}
	return n
}

// Err is nil if the report holds no error; otherwise an error that wraps the
// report and whose text names the first one.
func (r *Report) Err() error {
	if r.Count(Error) == 0 {
		return nil
	}
	return &Failure{r}
}

// Failure is a report with at least one error, as an error.
type Failure struct{ Report *Report }

func (f *Failure) Error() string {
	n := f.Report.Count(Error)
	for i := range f.Report.Problems {
		if p := &f.Report.Problems[i]; p.Severity == Error {
			text := p.Where.String() + ": " + PlainQuotes(p.Summary)
			if n > 1 {
				text += " (and " + itoa(n-1) + " more)"
			}
			return text
		}
	}
	return "no error" // not reached: Err makes no Failure without an error
}
