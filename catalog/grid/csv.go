package grid

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
// semicolon, bar and comma, the one with which a header is found is right, since no
// two names of columns stand in one row otherwise.

var separators = [...]rune{'\t', ';', '|', ','}

// text reads a CSV file as one list.
func (r *reader) text(f *document.File) {
	r.line = func(at catalog.Position) string { return f.Line(at.Line) }
	if len(bytes.TrimSpace(f.Text)) == 0 {
		r.bad(Cell{At: r.whole()}, "the file is empty", "name "+r.options.What+", with columns such as "+r.options.Columns)
		return
	}
	text := f.LineFeeds()
	for _, separator := range separators {
		head := &reader{options: r.options, name: r.name}
		if r.header(head.split(f, text, separator, TitleRows)) < 0 {
			continue
		}
		lists := r.lists(r.split(f, text, separator, r.options.MostRows), "")
		if r.sheets = append(r.sheets, lists...); len(lists) > 0 {
			return
		}
	}
	first := &reader{options: r.options, name: r.name}
	c := Cell{At: catalog.Position{File: f.Name, Line: 1, Column: 1}}
	if rows := first.split(f, text, separators[len(separators)-1], 1); len(rows) > 0 {
		c.At = rows[0].lay(f.Name, "")[0].At
	}
	r.bad(c, "the list has no header", "name the columns in the first row, such as "+r.options.Sample+", parted by commas, semicolons, tabs or bars")
}

// split gives the rows with content, up to most. text is that of the file, with
// line feeds where its lines end.
func (r *reader) split(f *document.File, text []byte, separator rune, most int) []row {
	c := csv.NewReader(bytes.NewReader(text))
	c.Comma, c.FieldsPerRecord, c.ReuseRecord = separator, -1, true
	var out []row
	var cells []Cell
	for !r.full() {
		fields, err := c.Read()
		if err == io.EOF {
			break
		}
		var field func(int) (line, column int)
		if field = c.FieldPos; err != nil {
			if fields, field = inches(f, err, separator); fields == nil {
				r.broken(f, err)
				continue
			}
		}
		if len(out) == most {
			if most == r.options.MostRows {
				line, column := field(0)
				at := catalog.Position{File: f.Name, Line: line, Column: characters(f.Line(line), column)}
				r.bad(Cell{At: at}, fmt.Sprintf("more than %d rows", most), "split the list into several files")
			}
			break
		}
		cells = r.placed(f, cells[:0], fields, field)
		if kept, ok := keep(cells); ok {
			out = append(out, kept)
		}
	}
	return out
}

// placed are the cells of a row, whose fields lie where place says, in bytes.
func (r *reader) placed(f *document.File, cells []Cell, fields []string, place func(field int) (line, column int)) []Cell {
	line, text, bytes, count := 0, "", 0, 0 // up to where characters are counted
	for i, field := range fields {
		at, column := place(i)
		if at != line {
			line, text, bytes, count = at, f.Line(at), 0, 0
		}
		if column-1 > len(text) { // a line that is too long to keep
			count += column - 1 - bytes
		} else {
			count += utf8.RuneCountInString(text[bytes : column-1])
		}
		bytes = column - 1
		c := Cell{At: catalog.Position{File: f.Name, Line: line, Column: 1 + count}}
		if field != "" {
			c.Text = r.texts.of([]byte(field))
		}
		cells = append(cells, c)
	}
	return cells
}

// inches reads a row again in which a quote stands inside a value, as in 12",
// which is no mistake of its author; nil where the quotes are a mistake.
func inches(f *document.File, err error, separator rune) (fields []string, place func(int) (line, column int)) {
	var e *csv.ParseError
	if !errors.As(err, &e) || !errors.Is(e.Err, csv.ErrBareQuote) || e.StartLine != e.Line {
		return nil, nil
	}
	c := csv.NewReader(strings.NewReader(f.Line(e.Line)))
	c.Comma, c.FieldsPerRecord, c.LazyQuotes = separator, -1, true
	if fields, err = c.Read(); err != nil {
		return nil, nil
	}
	return fields, func(i int) (int, int) {
		_, column := c.FieldPos(i)
		return e.Line, column
	}
}

// characters turns a column in bytes, from 1, into one in characters.
func characters(line string, column int) int {
	if column-1 > len(line) { // a line that is too long to keep
		return column
	}
	return 1 + utf8.RuneCountInString(line[:column-1])
}

// broken reports quotes that do not match.
func (r *reader) broken(f *document.File, err error) {
	var e *csv.ParseError
	if !errors.As(err, &e) {
		r.bad(Cell{At: catalog.Position{File: f.Name}}, "the file cannot be read: "+err.Error(), "check that it is "+r.options.What)
		return
	}
	c := Cell{At: catalog.Position{File: f.Name, Line: e.Line, Column: characters(f.Line(e.Line), e.Column)}}
	if errors.Is(e.Err, csv.ErrQuote) && e.StartLine != e.Line {
		c.At.Line, c.At.Column = e.StartLine, 1
		r.bad(c, fmt.Sprintf("a quote that opens in this row is not closed before line %d", e.Line), "close it, or double each quote inside a quoted value")
		return
	}
	r.bad(c, "a quote inside a value", "put the value in double quotes, and double each quote inside it")
}
