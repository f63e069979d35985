package grid

import (
	"encoding/xml"
	"errors"
	"io"
	"regexp"
	"strconv"
	"strings"

	"loudfor/catalog"
	"loudfor/catalog/expression"
)

// The cells of a sheet (ECMA-376 Part 1, 18.3.1): a row holds cells, a cell its
// place, its type, perhaps a formula, and its value. A text stands in the cell, or
// the cell has its number among the texts that all share. Rows and cells without a
// place follow the one before.

// The bounds of a sheet; what is beyond them is no workbook.
const (
	lastRow    = 1 << 20
	lastColumn = 1 << 14
)

// tooManyRows is the error of a list with more rows than are read.
type tooManyRows struct{ first Cell }

func (tooManyRows) Error() string { return "more rows than are read" }

// texts reads the texts that cells share.
func (b *book) texts(part string) error {
	var text rich
	return b.tokens(part, func(t xml.Token) error {
		text.next(t)
		switch t := t.(type) {
		case xml.StartElement:
			if t.Name.Local == "si" {
				text.reset()
			}
		case xml.EndElement:
			if t.Name.Local == "si" {
				b.shared = append(b.shared, unescaped(text.String()))
			}
		}
		return nil
	})
}

// rich collects a text that may be parted by its looks; how it is spoken, which
// some languages write above it, is no part of it.
type rich struct {
	strings.Builder
	inside bool
	spoken int
}

func (r *rich) reset() {
	r.Reset()
	r.inside, r.spoken = false, 0
}

func (r *rich) next(t xml.Token) {
	switch t := t.(type) {
	case xml.StartElement:
		switch t.Name.Local {
		case "t":
			r.inside = r.spoken == 0
		case "rPh":
			r.spoken++
		}
	case xml.EndElement:
		switch t.Name.Local {
		case "t":
			r.inside = false
		case "rPh":
			r.spoken--
		}
	case xml.CharData:
		if r.inside {
			r.Write(t)
		}
	}
}

// escape is how workbooks write characters that XML has not (ECMA-376 Part 1,
// 22.9.2.19 ST_Xstring).
var escape = expression.Late(`_x([0-9A-Fa-f]{4})_`)

func unescaped(text string) string {
	if !strings.Contains(text, "_x") {
		return text
	}
	return replaced(escape(), text, func(hex string) string {
		n, _ := strconv.ParseUint(hex, 16, 16)
		return string(rune(n))
	})
}

// replaced puts what with makes of the first group in place of each match.
func replaced(e *regexp.Regexp, text string, with func(string) string) string {
	return e.ReplaceAllStringFunc(text, func(m string) string { return with(e.FindStringSubmatch(m)[1]) })
}

// cellReader reads one sheet.
type cellReader struct {
	book  *book
	at    catalog.Position // of the cell
	kind  string           // its type
	what  string           // the element whose text is collected: v, f
	value []byte
	is    rich
	says  bool // the cell has a formula
	words []byte
	cells []Cell
	out   []row
}

// rows gives the rows of a sheet that have content.
func (b *book) rows(s sheet) ([]row, error) {
	r := &cellReader{book: b, at: catalog.Position{File: b.reader.name, Sheet: s.name}}
	err := b.tokens(s.part, r.next)
	return r.out, err
}

var errPlace = errors.New("a cell lies outside of any sheet")

// next takes the next piece of the sheet.
func (r *cellReader) next(t xml.Token) error {
	r.is.next(t)
	switch t := t.(type) {
	case xml.StartElement:
		switch t.Name.Local {
		case "row":
			r.cells = r.cells[:0]
			r.at.Line, r.at.Column = r.at.Line+1, 0
			if n := attribute(t, "r"); n != "" {
				r.at.Line, _ = strconv.Atoi(n)
			}
			if r.at.Line < 1 || r.at.Line > lastRow {
				return errPlace
			}
		case "c":
			return r.begin(t)
		case "v", "f":
			r.what = t.Name.Local
			r.says = r.says || r.what == "f"
		}
	case xml.CharData:
		switch r.what {
		case "v":
			r.value = append(r.value, t...)
		case "f":
			r.words = append(r.words, t...)
		}
	case xml.EndElement:
		switch t.Name.Local {
		case "v", "f":
			r.what = ""
		case "c":
			if r.at.Column < 1 { // a row has begun within the cell
				return errPlace
			}
			r.end()
		case "row":
			return r.keep()
		case "sheetData": // what follows is how it looks
			return io.EOF
		}
	}
	return nil
}

// begin begins a cell.
func (r *cellReader) begin(e xml.StartElement) error {
	r.kind, r.what, r.says = attribute(e, "t"), "", false
	r.value, r.words = r.value[:0], r.words[:0]
	r.is.reset()
	r.at.Column++
	if place := attribute(e, "r"); place != "" {
		column := 0
		for _, letter := range strings.TrimRight(place, "0123456789$") {
			letter &^= 'a' - 'A'
			if letter < 'A' || letter > 'Z' || column > lastColumn {
				return errPlace
			}
			column = 26*column + int(letter-'A') + 1
		}
		r.at.Column = column
	}
	if r.at.Column < 1 || r.at.Column > lastColumn {
		return errPlace
	}
	return nil
}

// end takes the cell that ends.
func (r *cellReader) end() {
	c := Cell{At: r.at}
	value := r.value
	switch r.kind {
	case "s":
		c.Sort, value = Text, nil
		if n, err := strconv.Atoi(strings.TrimSpace(string(r.value))); err == nil && n >= 0 && n < len(r.book.shared) {
			c.Text = r.book.shared[n]
		}
	case "inlineStr":
		c.Sort, value = Text, []byte(unescaped(r.is.String()))
	case "str":
		c.Sort, value = Text, []byte(unescaped(string(r.value)))
	case "d":
		c.Sort = Text
	case "b":
		c.Sort = Truth
	case "e":
		c.Sort = Fault
	default:
		c.Sort = Number
	}
	if value != nil {
		c.Text = r.book.reader.texts.of(value)
	}
	if r.says {
		if c.Sort = Formula; len(r.words) > 0 || c.Text == "" {
			c.Text = string(r.words)
		}
		c.Text = "=" + c.Text
	}
	c.Text = strings.ReplaceAll(c.Text, "\r\n", "\n") // ends of lines within a cell, as in CSV
	if c.Empty() {
		return
	}
	for len(r.cells) < r.at.Column {
		at := r.at
		at.Column = len(r.cells) + 1
		r.cells = append(r.cells, Cell{At: at})
	}
	r.cells[r.at.Column-1] = c
}

// keep takes the row that ends.
func (r *cellReader) keep() error {
	kept, ok := keep(r.cells)
	if !ok {
		return nil
	}
	if len(r.out) == r.book.reader.options.MostRows {
		return tooManyRows{r.cells[0]}
	}
	r.out = append(r.out, kept)
	return nil
}
