package sheet

import (
	"errors"
	"fmt"
	"io"
	"strings"

	"loudfor/cmd/internal/style"
	"loudfor/cmd/internal/table"
)

// terminal writes for a terminal, as wide as that is.
type terminal struct {
	w     io.Writer
	style style.Style
	last  shape // of the block before
}

// shape is how a block looks: what has columns stands off from what has not.
type shape int

const (
	heading shape = iota
	prose
	items
	columns
)

// after leaves a blank line where two shapes would run into each other.
func (p *terminal) after(now shape) error {
	last := p.last
	p.last = now
	if last == heading || last == now && now != columns || last == prose && now == items {
		return nil
	}
	return p.put("\n")
}

const (
	indent    = "  "
	factWidth = 15 // as in the answers of the other commands
)

func (p *terminal) put(format string, args ...any) error {
	_, err := fmt.Fprintf(p.w, format, args...)
	return err
}

func (p *terminal) head(s *Sheet) error {
	text := p.style.Bold(s.Title) + "\n"
	for _, f := range s.Facts {
		text += table.Indent(p.style.Width(), fmt.Sprintf(indent+"%-*s", factWidth, f.Name), f.Text)
	}
	return p.put("%s", text)
}

func (p *terminal) section(title string) error {
	p.last = heading
	return p.put("\n%s\n", p.style.Bold(title))
}

func (p *terminal) paragraph(text string) error {
	return errors.Join(p.after(prose), p.put("%s", table.Indent(p.style.Width(), indent, text)))
}

// The mark is put on whole lines: marks have no width, which a wrap would have
// to know.
func (p *terminal) warning(text string) error {
	lines := strings.Split(strings.TrimSuffix(table.Indent(p.style.Width(), indent+"! ", text), "\n"), "\n")
	for i, line := range lines {
		lines[i] = p.style.Warn(line)
	}
	return errors.Join(p.after(prose), p.put("%s\n", strings.Join(lines, "\n")))
}

func (p *terminal) list(all []string, numbered bool) error {
	var b strings.Builder
	for i, item := range all {
		mark := indent + "- "
		if numbered {
			mark = fmt.Sprintf(indent+"%*d. ", len(fmt.Sprint(len(all))), i+1)
		}
		b.WriteString(table.Indent(p.style.Width(), mark, item))
	}
	return errors.Join(p.after(items), p.put("%s", b.String()))
}

func (p *terminal) table(t Table) error {
	return errors.Join(p.after(columns), table.WriteIndented(p.w, p.style.Width(), indent, t.Columns, t.Rows))
}

func (p *terminal) drawing(d Drawing) error {
	var b strings.Builder
	if d.Caption != "" {
		b.WriteString(table.Indent(p.style.Width(), indent, d.Caption+":"))
	}
	lines, before := strings.Split(strings.TrimSuffix(d.Text, "\n"), "\n"), indent
	for _, line := range lines {
		if wide := table.Cells(line); wide+len(indent) > p.style.Width() && wide <= p.style.Width() {
			before = "" // it just fits without
		}
	}
	for _, line := range lines {
		b.WriteString(table.Fit(p.style.Width(), strings.TrimRight(before+line, " ")) + "\n")
	}
	return errors.Join(p.after(columns), p.put("%s", b.String()))
}

func (p *terminal) foot() error { return nil }
