package prices

import (
	"strings"

	"loudfor/catalog"
)

// Both kinds of file end as rows of cells; from there on they are the same.

// sort is what a cell holds.
type sort int

const (
	untyped sort = iota // CSV: a text that may be anything
	text                // a workbook's text, even if digits stand in it
	number
	formula
	fault // #N/A and the like
	truth
)

// cell is one value with its place.
type cell struct {
	text string
	at   catalog.Position
	sort sort
}

func (c cell) empty() bool { return c.sort != formula && strings.TrimSpace(c.text) == "" }

// table is one list while it is read.
type table struct {
	options Options
	header  header
	line    func(catalog.Position) string // the source line, for messages
	day     func(serial float64) (Date, bool)

	entries []Entry
	found   []catalog.Problem
	failed  int
}

func (t *table) errors() int { return t.failed }

// bad reports a mistake in a cell.
func (t *table) bad(c cell, summary, detail string) *catalog.Problem {
	return t.add(catalog.Error, c, summary, detail)
}

func (t *table) remark(c cell, summary, detail string) {
	t.add(catalog.Info, c, summary, detail)
}

func (t *table) add(s catalog.Severity, c cell, summary, detail string) *catalog.Problem {
	if s == catalog.Error {
		t.failed++
	}
	p := catalog.Problem{Severity: s, Summary: summary, Detail: detail, Where: c.at, Text: c.text}
	if t.line != nil {
		if p.Context = t.line(c.at); p.Context != "" {
			p.Length = max(1, len([]rune(strings.TrimRight(c.text, " "))))
		}
	}
	t.found = append(t.found, p)
	return &t.found[len(t.found)-1]
}

// full tells whether there are more mistakes than anybody will mend one by
// one: the file is something else.
func (t *table) full() bool { return t.failed >= mostMistakes }

const mostMistakes = 10_000

// rows reads a list whose first row is the header.
func (t *table) rows(rows [][]cell) {
	if !t.readHeader(rows[0]) {
		return
	}
	for _, row := range rows[1:] {
		if t.full() {
			return
		}
		t.row(row)
	}
	if len(t.entries) == 0 && t.failed == 0 {
		t.bad(rows[0][0], "the list is empty: there is no row below its header", "add a row for each part")
	}
}

// findHeader gives the rows from the header on; nil if there is none.
func findHeader(rows [][]cell) [][]cell {
	for i := range min(len(rows), titleRows) {
		if isHeader(rows[i]) {
			return rows[i:]
		}
	}
	return nil
}
