package prices

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"strings"
	"unicode/utf8"

	"loudfor/catalog"
	"loudfor/catalog/document"
)

// CSV files do not say what parts their columns. The header decides: of tab,
// semicolon and comma, the one with which a header is found is right, since no
// two names of columns stand in one row otherwise.

var separators = [...]rune{'\t', ';', ','}

// readCSV reads the text of a file into the table.
func (t *table) readCSV(f *document.File) {
	t.line = func(at catalog.Position) string { return f.Line(at.Line) }
	if len(bytes.TrimSpace(f.Text)) == 0 {
		t.bad(cell{at: catalog.Position{File: f.Name}}, "the file is empty", "name a price list, with columns such as "+known())
		return
	}
	text := f.LineFeeds()
	for _, separator := range separators {
		head := &table{}
		if rows := findHeader(head.split(f, text, separator, titleRows)); rows != nil {
			all := t.split(f, text, separator, MostRows)
			if rows = findHeader(all); rows != nil {
				t.rows(rows)
				return
			}
		}
	}
	first := &table{}
	c := cell{at: catalog.Position{File: f.Name, Line: 1, Column: 1}}
	if rows := first.split(f, text, separators[len(separators)-1], 1); len(rows) > 0 {
		c.at = rows[0][0].at
	}
	t.bad(c, "the list has no header", "name the columns in the first row, such as SKU, price, stock, date, parted by commas, semicolons or tabs")
}

// split gives the rows with content, up to most. text is that of the file, with
// line feeds where its lines end.
func (t *table) split(f *document.File, text []byte, separator rune, most int) [][]cell {
	r := csv.NewReader(bytes.NewReader(text))
	r.Comma, r.FieldsPerRecord, r.ReuseRecord = separator, -1, true
	var out [][]cell
	for !t.full() {
		fields, err := r.Read()
		if err == io.EOF {
			break
		}
		if err != nil {
			t.broken(f, err)
			continue
		}
		if len(out) == most {
			if most == MostRows {
				t.bad(at(f, r, 0), fmt.Sprintf("more than %d rows", MostRows), "split the list into several files")
			}
			break
		}
		row := make([]cell, len(fields))
		blank := true
		for i, text := range fields {
			row[i] = at(f, r, i)
			row[i].text = strings.Clone(text)
			blank = blank && row[i].empty()
		}
		if !blank {
			out = append(out, row)
		}
	}
	return out
}

// at is the place of a field of the row that was read last.
func at(f *document.File, r *csv.Reader, field int) cell {
	line, column := r.FieldPos(field)
	return cell{at: catalog.Position{File: f.Name, Line: line, Column: characters(f.Line(line), column)}}
}

// characters turns a column in bytes, from 1, into one in characters.
func characters(line string, column int) int {
	if column-1 > len(line) { // a line that is too long to keep
		return column
	}
	return 1 + utf8.RuneCountInString(line[:column-1])
}

// broken reports quotes that do not match.
func (t *table) broken(f *document.File, err error) {
	var e *csv.ParseError
	if !errors.As(err, &e) {
		t.bad(cell{at: catalog.Position{File: f.Name}}, "the file cannot be read: "+err.Error(), "check that it is a price list")
		return
	}
	c := cell{at: catalog.Position{File: f.Name, Line: e.Line, Column: characters(f.Line(e.Line), e.Column)}}
	if errors.Is(e.Err, csv.ErrQuote) && e.StartLine != e.Line {
		c.at.Line, c.at.Column = e.StartLine, 1
		t.bad(c, fmt.Sprintf("a quote that opens in this row is not closed before line %d", e.Line), "close it, or double each quote inside a quoted value")
		return
	}
	t.bad(c, "a quote inside a value", "put the value in double quotes, and double each quote inside it")
}
