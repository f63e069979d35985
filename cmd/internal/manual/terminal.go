package manual

import (
	"regexp"
	"strings"

	"loudfor/cmd/internal/table"
)

// A terminal shows Markdown without its marks: paragraphs wrapped, tables set in
// columns, examples as they are.

// Terminal is a page for a terminal of so many cells a line.
func Terminal(width int, text string) string {
	var b strings.Builder
	lines := strings.Split(strings.TrimRight(text, "\n"), "\n")
	for i := 0; i < len(lines); i++ {
		line := lines[i]
		switch {
		case strings.HasPrefix(line, "```"):
			for i++; i < len(lines) && !strings.HasPrefix(lines[i], "```"); i++ {
				b.WriteString(lines[i] + "\n")
			}
		case strings.HasPrefix(line, "|"):
			from := i
			for i+1 < len(lines) && strings.HasPrefix(lines[i+1], "|") {
				i++
			}
			columns(&b, width, lines[from:i+1])
		case strings.HasPrefix(line, "#"):
			b.WriteString(strings.ToUpper(bare(strings.TrimLeft(line, "# "))) + "\n")
		case strings.HasPrefix(line, "- "):
			b.WriteString(table.Indent(width, "  - ", bare(line[2:])))
		case line == "":
			b.WriteString("\n")
		default:
			b.WriteString(table.Indent(width, "", bare(line)))
		}
	}
	return b.String()
}

var link = regexp.MustCompile(`\[([^\]]*)\]\([^)]*\)`)

// bare is a text without marks.
func bare(text string) string {
	text = link.ReplaceAllString(text, "$1")
	return strings.NewReplacer("**", "", "`", "", `\|`, "|").Replace(text)
}

// columns sets a table: a head, a rule, rows.
func columns(b *strings.Builder, width int, lines []string) {
	var head []table.Column
	var rows [][]string
	for i, line := range lines {
		cells := strings.Split(strings.ReplaceAll(strings.Trim(line, "| "), `\|`, "\x00"), "|")
		for k := range cells {
			cells[k] = bare(strings.ReplaceAll(strings.TrimSpace(cells[k]), "\x00", "|"))
		}
		switch i {
		case 0:
			for k, c := range cells {
				head = append(head, table.Column{Title: c, Fill: k > 0})
			}
		case 1: // the rule
		default:
			for len(cells) < len(head) {
				cells = append(cells, "")
			}
			rows = append(rows, cells[:len(head)])
		}
	}
	if err := table.WriteIndented(b, width, "", head, rows); err != nil {
		panic(err) // a string takes whatever is written to it
	}
}
