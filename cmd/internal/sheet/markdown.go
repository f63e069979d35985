package sheet

import (
	"fmt"
	"io"
	"strings"

	"loudfor/cmd/internal/style"
	"loudfor/cmd/internal/table"
)

// markdown writes CommonMark with pipe tables.
type markdown struct{ w io.Writer }

func (p *markdown) put(format string, args ...any) error {
	_, err := fmt.Fprintf(p.w, format, args...)
	return err
}

func (p *markdown) head(s *Sheet) error {
	text := "# " + style.EscapeMarkdown(s.Title) + "\n\n"
	for _, f := range s.Facts {
		text += fmt.Sprintf("- **%s:** %s\n", style.EscapeMarkdown(f.Name), style.EscapeMarkdown(f.Text))
	}
	return p.put("%s", text)
}

func (p *markdown) section(title string) error {
	return p.put("\n## %s\n\n", style.EscapeMarkdown(title))
}

func (p *markdown) paragraph(text string) error { return p.put("%s\n\n", style.EscapeMarkdown(text)) }

func (p *markdown) warning(text string) error {
	return p.put("**%s**\n\n", style.EscapeMarkdown(text))
}

func (p *markdown) list(items []string, numbered bool) error {
	var b strings.Builder
	for i, item := range items {
		mark := "-"
		if numbered {
			mark = fmt.Sprintf("%d.", i+1)
		}
		b.WriteString(mark + " " + style.EscapeMarkdown(item) + "\n")
	}
	return p.put("%s\n", b.String())
}

func (p *markdown) table(t Table) error {
	if err := table.WriteMarkdown(p.w, t.Columns, t.Rows); err != nil {
		return err
	}
	return p.put("\n")
}

func (p *markdown) drawing(d Drawing) error {
	if d.Caption != "" {
		if err := p.paragraph(d.Caption + ":"); err != nil {
			return err
		}
	}
	return p.put("```\n%s```\n\n", d.Text)
}

func (p *markdown) foot() error { return nil }
