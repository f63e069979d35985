// Package answer writes the program's answers for people: tables, short
// sentences, honest numbers, at most a hundred columns.
//
//	page := answer.New(os.Stdout, style)
//	page.Pick(question, result)
//
// Every figure carries its unit and, where it is a prediction, its band. What
// was assumed, what is dangerous and how the ranking was proved belong to the
// answer and are never left out. Limit: nothing is computed here; the answer
// says what the search found, in words.
package answer

import (
	"bufio"
	"bytes"
	"fmt"
	"io"
	"strings"

	"loudfor/cmd/internal/style"
	"loudfor/cmd/internal/table"
)

// Page is one answer while it is written. The first error of the output stays
// and is returned at the end.
type Page struct {
	w     *tally
	style style.Style
	width int // cells of a line
	paged bool
	err   error
}

// New starts an answer.
func New(w io.Writer, s style.Style) *Page {
	return &Page{w: &tally{Writer: bufio.NewWriter(w)}, style: s, width: s.Width()}
}

// tally counts the lines that were written.
type tally struct {
	*bufio.Writer
	lines int
}

func (t *tally) Write(text []byte) (int, error) {
	t.lines += bytes.Count(text, []byte("\n"))
	return t.Writer.Write(text)
}

func (t *tally) WriteString(text string) (int, error) { return t.Write([]byte(text)) }

// fits says whether an item leaves a page within so many lines.
func (p *Page) fits(text string, most int) bool {
	return p.w.lines+strings.Count(table.Indent(p.width, "  - ", text), "\n") <= most
}

// From says where the files of the answer come from; nothing to say is nothing.
func (p *Page) From(words string) {
	if words != "" {
		p.line("", "", "%s", words)
		if !p.style.IsMarkdown() {
			p.printf("\n")
		}
	}
}

// Close flushes the page and tells whether all of it could be written.
func (p *Page) Close() error {
	if err := p.w.Flush(); p.err == nil {
		p.err = err
	}
	return p.err
}

func (p *Page) printf(format string, args ...any) { fmt.Fprintf(p.w, format, args...) }

// Paged puts a form feed before each section.
func (p *Page) Paged() { p.paged = true }

// head starts a section.
func (p *Page) head(title string) {
	if p.paged {
		p.printf("\f")
	}
	if p.style.IsMarkdown() {
		p.printf("\n## %s\n\n", style.EscapeMarkdown(title))
		return
	}
	p.printf("\n")
	p.heading(title)
}

// heading writes a bold line, or several.
func (p *Page) heading(title string) {
	if p.style.IsMarkdown() {
		p.printf("%s\n\n", p.style.Bold(title))
		return
	}
	for _, line := range table.Wrap(title, p.width) {
		p.printf("%s\n", p.style.Bold(line))
	}
}

// say writes a paragraph, wrapped, under the heading of its section.
func (p *Page) say(format string, args ...any) { p.line("", margin, format, args...) }

// item writes one item of a list.
func (p *Page) item(format string, args ...any) { p.line("- ", "  - ", format, args...) }

// pair writes a name with what belongs to it, names in a column of their own.
func (p *Page) pair(name, format string, args ...any) {
	p.line("- **"+name+"** ", fmt.Sprintf("  %-*s", nameWidth, name), format, args...)
}

// line writes a text after a mark. In Markdown it is not wrapped, and a
// paragraph ends with a blank line.
func (p *Page) line(markdown, plain, format string, args ...any) {
	text := fmt.Sprintf(format, args...)
	if !p.style.IsMarkdown() {
		p.printf("%s", table.Indent(p.width, plain, text))
		return
	}
	p.printf("%s%s\n", markdown, style.EscapeMarkdown(text))
	if markdown == "" {
		p.printf("\n")
	}
}

// nameWidth is the width of the column of names, with its gap.
const nameWidth = 15

func (p *Page) table(margin string, columns []table.Column, rows [][]string) {
	var err error
	if p.style.IsMarkdown() {
		p.printf("\n")
		err = table.WriteMarkdown(p.w, columns, rows)
		p.printf("\n")
	} else {
		err = table.WriteIndented(p.w, p.width, margin, columns, rows)
	}
	if err != nil && p.err == nil {
		p.err = err
	}
}

// drawn writes a picture of characters, which Markdown must leave alone.
func (p *Page) drawn(draw func(io.Writer) error) {
	fence := ""
	if p.style.IsMarkdown() {
		fence = "```\n"
	}
	p.printf("%s", fence)
	if err := draw(p.w); err != nil && p.err == nil {
		p.err = err
	}
	p.printf("%s", fence)
}

// margin is what stands before everything under a heading.
const margin = "  "
