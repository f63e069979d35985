package prices

import (
	"time"

	"loudfor/catalog"
	"loudfor/catalog/grid"
)

// table is one list while it is read.
type table struct {
	options Options
	header  header
	line    func(catalog.Position) string // the source line, for messages
	day     func(serial float64) (time.Time, bool)

	entries []Entry
	found   []catalog.Problem
	failed  int
	undated int // rows that took the day of the options
}

func (t *table) errors() int { return t.failed }

// bad reports a mistake in a cell.
func (t *table) bad(c grid.Cell, summary, detail string) *catalog.Problem {
	t.failed++
	return t.add(catalog.Error, c, summary, detail)
}

func (t *table) remark(c grid.Cell, summary, detail string) {
	t.add(catalog.Info, c, summary, detail)
}

func (t *table) add(s catalog.Severity, c grid.Cell, summary, detail string) *catalog.Problem {
	t.found = append(t.found, grid.Problem(s, c, t.line, summary, detail))
	return &t.found[len(t.found)-1]
}

// full tells whether there are more mistakes than anybody will mend one by
// one: the file is something else.
func (t *table) full() bool { return t.failed >= mostMistakes }

const mostMistakes = 10_000

// rows reads a list whose first row is the header.
func (t *table) rows(list *grid.Sheet) {
	header := list.Row(0)
	if !t.readHeader(header) {
		return
	}
	for i := 1; i < list.Len() && !t.full(); i++ {
		t.row(list.Row(i))
	}
	if len(t.entries) == 0 && t.failed == 0 {
		t.bad(header[0], "the list is empty: there is no row below its header", "add a row for each part")
	}
}
