// Package sheet is a document of sections, and its looks: text for a terminal,
// Markdown, and a page that prints.
//
//	s := sheet.Sheet{Title: "Sheet for the bay", Sections: []sheet.Section{{
//		Title: "Power",
//		Blocks: []sheet.Block{
//			sheet.Paragraph("The cable is cut to 4.5 m."),
//			sheet.Steps{"Disconnect the negative terminal.", "Lay the cable."},
//		},
//	}}}
//	err := s.Write(os.Stdout, sheet.Terminal, style)
//
// Whoever has something to say on a sheet makes a Section; how it looks is
// decided here, once for each format. No format says less than another: a
// drawing is lines of characters where there are no pictures.
//
// Limits: blocks do not nest, and text carries no marks of its own.
package sheet

import (
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"

	"loudfor/cmd/internal/style"
	"loudfor/cmd/internal/table"
)

// Sheet is the whole document.
type Sheet struct {
	Title    string
	Facts    []Fact // at its head: which car, which build
	Sections []Section
	Paged    bool // on a terminal: a form feed before each section but the first
}

// Fact is a name with what belongs to it.
type Fact struct{ Name, Text string }

// Section is a part with a heading.
type Section struct {
	Title  string
	Blocks []Block
}

// Block is a Paragraph, List, Steps, Table or Drawing.
type Block interface{ write(p printer) error }

// Paragraph is running text.
type Paragraph string

// Warning is a paragraph that must not be missed; it says so itself.
type Warning string

// List is items in no order; Steps are done one after the other.
type (
	List  []string
	Steps []string
)

// Pen is a cell that is to be filled in by hand.
const Pen = "________"

// Table has a row for each thing.
type Table struct {
	Columns []table.Column
	Rows    [][]string
}

// Drawing is a picture: Text in characters, lines ended, and SVG.
type Drawing struct{ Caption, Text, SVG string }

// Format is a look.
type Format int

// The looks.
const (
	Terminal Format = iota
	Markdown
	HTML
)

var formatWords = [...]string{"terminal", "markdown", "html"}

// Formats are the words for the looks.
func Formats() []string { return slices.Clone(formatWords[:]) }

// ParseFormat finds a look by its word.
func ParseFormat(word string) (Format, bool) {
	at := slices.Index(formatWords[:], strings.ToLower(word))
	return Format(at), at >= 0
}

// printer writes blocks in one look.
type printer interface {
	head(s *Sheet) error
	section(title string) error
	paragraph(text string) error
	warning(text string) error
	list(items []string, numbered bool) error
	table(t Table) error
	drawing(d Drawing) error
	foot() error
}

func (b Paragraph) write(p printer) error { return p.paragraph(string(b)) }
func (b Warning) write(p printer) error   { return p.warning(string(b)) }
func (b List) write(p printer) error      { return p.list(b, false) }
func (b Steps) write(p printer) error     { return p.list(b, true) }
func (b Table) write(p printer) error     { return p.table(b) }
func (b Drawing) write(p printer) error   { return p.drawing(b) }

// Write writes the sheet in a look; only a terminal uses the style.
func (s *Sheet) Write(w io.Writer, f Format, st style.Style) error {
	var p printer
	switch f {
	case Terminal:
		p = &terminal{w: w, style: st}
	case Markdown:
		p = &markdown{w: w}
	case HTML:
		p = &page{w: w}
	default:
		return fmt.Errorf("%d is no format of a sheet", int(f))
	}
	all := []error{p.head(s)}
	for i, section := range s.Sections {
		if s.Paged && f == Terminal && i > 0 {
			_, err := io.WriteString(w, "\f")
			all = append(all, err)
		}
		all = append(all, p.section(section.Title))
		for _, b := range section.Blocks {
			all = append(all, b.write(p))
		}
	}
	return errors.Join(append(all, p.foot())...)
}
