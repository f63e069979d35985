package grid

import (
	"iter"
	"strings"

	"loudfor/catalog"
)

// A distributor's list has millions of cells, most of them empty, and the place
// of nearly each follows from the one before. So a row keeps what has content,
// and is laid out cell by cell only while it is read.

// row is a row as it is kept.
type row struct {
	line  int
	width int // cells, those at the end without content too
	cells []kept
}

// kept is a cell with content, or one whose place does not follow from that of the
// cell before it.
type kept struct {
	text                string
	index, line, column int32 // index: in the row, from 0
	sort                Sort
}

// Len is how many rows the list has, the header included.
func (s *Sheet) Len() int { return len(s.rows) }

// Row lays a row out, the header being row 0.
func (s *Sheet) Row(i int) []Cell { return s.rows[i].lay(s.file, s.Name) }

// Filled gives the cells of a row that have content, by their numbers in the row.
func (s *Sheet) Filled(i int) iter.Seq2[int, Cell] {
	return func(yield func(int, Cell) bool) {
		for _, k := range s.rows[i].cells {
			at := catalog.Position{File: s.file, Sheet: s.Name, Line: int(k.line), Column: int(k.column)}
			if c := (Cell{Text: k.text, At: at, Sort: k.sort}); !c.Empty() && !yield(int(k.index), c) {
				return
			}
		}
	}
}

// keep is a row as it is kept; ok is false where nothing stands in it. The cells
// may be written over afterwards.
func keep(cells []Cell) (out row, ok bool) {
	content := 0
	if len(cells) == 0 {
		return out, false
	}
	last := catalog.Position{Line: cells[0].At.Line}
	for _, c := range cells {
		if !c.Empty() {
			ok = true
		}
		if !c.Empty() || !follows(c.At, last) {
			content++
		}
		last = c.At
	}
	if !ok {
		return out, false
	}
	out = row{line: cells[0].At.Line, width: len(cells), cells: make([]kept, 0, content)}
	last = catalog.Position{Line: out.line}
	for i, c := range cells {
		if !c.Empty() || !follows(c.At, last) {
			out.cells = append(out.cells, kept{c.Text, int32(i), int32(c.At.Line), int32(c.At.Column), c.Sort})
		}
		last = c.At
	}
	return out, true
}

// follows tells whether a place is where the cell after an empty one is.
func follows(at, last catalog.Position) bool {
	return at.Line == last.Line && at.Column == last.Column+1
}

// lay makes the cells of a row.
func (r *row) lay(file, sheet string) []Cell {
	out := make([]Cell, r.width)
	at := catalog.Position{File: file, Sheet: sheet, Line: r.line}
	next := r.cells
	for i := range out {
		at.Column++
		if len(next) > 0 && int(next[0].index) == i {
			k := next[0]
			at.Line, at.Column = int(k.line), int(k.column)
			out[i].Text, out[i].Sort = k.text, k.sort
			next = next[1:]
		}
		out[i].At = at
	}
	return out
}

// wordy tells whether a row has several cells with content and none of them is a
// number, as nearly every part's row has one: a quick look before a long one.
func (r *row) wordy() bool {
	n := 0
	for _, k := range r.cells {
		if k.empty() {
			continue
		}
		if n++; k.sort == Number || k.sort == Formula || k.sort == Untyped && strings.Trim(k.text, "0123456789.,- ") == "" {
			return false
		}
	}
	return n > 1
}

// alone tells whether one cell of a row has content, as that of a title.
func (r *row) alone() bool {
	n := 0
	for _, k := range r.cells {
		if !k.empty() {
			n++
		}
	}
	return n == 1
}

func (k kept) empty() bool { return Cell{Text: k.text, Sort: k.sort}.Empty() }

// texts keeps each text once: a column says the same few over and over.
type texts map[string]string

// mostTexts bounds them: a column of SKUs has no two alike.
const mostTexts = 1 << 15

// of is a text that shares no memory with the one that is given.
func (t *texts) of(text []byte) string {
	if known, ok := (*t)[string(text)]; ok {
		return known
	}
	if *t == nil || len(*t) >= mostTexts {
		*t = make(texts)
	}
	own := string(text)
	(*t)[own] = own
	return own
}
