package table

import (
	"fmt"
	"io"
	"strings"

	"github.com/olekukonko/tablewriter/renderer"

	"loudfor/cmd/internal/style"
)

// WriteMarkdown writes the table as Markdown does (the pipe tables that most
// dialects share), for messages and documents. Cells are not wrapped: who shows
// the text knows how wide it may be. A line break inside a cell becomes a
// space.
func WriteMarkdown(w io.Writer, columns []Column, rows [][]string) error {
	header := make([]string, len(columns))
	for i, column := range columns {
		header[i] = markdownCell(column.Title)
	}
	t := newTable(w, columns, renderer.NewMarkdown())
	t.Header(header)
	for _, row := range rows {
		cells := make([]string, len(columns))
		for i := range columns {
			cells[i] = markdownCell(row[i])
		}
		if err := t.Append(cells); err != nil {
			return fmt.Errorf("a row of %d cells: %w", len(row), err)
		}
	}
	return t.Render()
}

func markdownCell(text string) string {
	return style.EscapeMarkdown(strings.Join(strings.Fields(text), " "))
}
