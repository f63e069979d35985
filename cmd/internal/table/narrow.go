package table

import (
	"io"
	"strings"
)

// Tables on pages too narrow for them.

// leastFill is how narrow a column of text may become before it reads better
// under its row.
const leastFill = 12

// roomy tells whether a table fits: what its filling columns hold, and all the
// others. Without filled only the others count.
func roomy(columns []Column, rows [][]string, limits []int, width int, filled bool) bool {
	used := -len(gap)
	for i, column := range columns {
		if !column.Fill {
			used += limits[i] + len(gap)
			continue
		}
		if !filled {
			continue
		}
		used += limits[i] + len(gap)
		word, text := longestWord(column.Title), Cells(column.Title)
		for _, row := range rows {
			word, text = max(word, longestWord(row[i])), max(text, widestLine(row[i]))
		}
		if limits[i] < word || limits[i] < min(text, leastFill) {
			return false
		}
	}
	return used <= width
}

func longestWord(text string) (longest int) {
	for word := range strings.FieldsSeq(text) {
		longest = max(longest, Cells(word))
	}
	return longest
}

// height is how many lines a row of wrapped cells takes.
func height(cells []string) int {
	lines := 1
	for _, cell := range cells {
		lines = max(lines, strings.Count(cell, "\n")+1)
	}
	return lines
}

// writeStacked prints the table without its filling columns, whose texts stand
// under each row; above it where the first column is one, as the name of a row.
func writeStacked(w io.Writer, width int, margin string, columns []Column, rows [][]string) error {
	var kept []Column
	short := make([][]string, len(rows))
	for i, column := range columns {
		if column.Fill {
			continue
		}
		kept = append(kept, column)
		for r := range rows {
			short[r] = append(short[r], rows[r][i])
		}
	}
	var page, out strings.Builder
	if len(kept) == 0 {
		return writeRecords(w, width, margin, columns, rows)
	}
	heights, err := writeLaid(&page, margin, kept, short, widths(kept, short, width-Cells(margin)))
	if err != nil {
		return err
	}
	lines := strings.SplitAfter(strings.TrimSuffix(page.String(), "\n"), "\n")
	body := 0
	for _, h := range heights {
		body += h
	}
	head := max(len(lines)-body, 0)
	out.WriteString(strings.Join(lines[:head], ""))
	lines = lines[head:]
	several := len(columns)-len(kept) > 1
	for r, row := range rows {
		under := func(first bool) {
			for i, column := range columns {
				if !column.Fill || (i == 0) != first || row[i] == "" {
					continue
				}
				text := strings.ReplaceAll(row[i], "\n", " ")
				if several && column.Title != "" {
					text = column.Title + ": " + text
				}
				indent := margin + "    "
				if first {
					indent = margin
				}
				out.WriteString(Indent(width, indent, text))
			}
		}
		under(true)
		for _, line := range lines[:heights[r]] {
			out.WriteString(strings.TrimSuffix(line, "\n") + "\n")
		}
		lines = lines[heights[r]:]
		under(false)
	}
	_, err = io.WriteString(w, out.String())
	return err
}

// writeRecords prints each row as a paragraph, its cells with their titles.
func writeRecords(w io.Writer, width int, margin string, columns []Column, rows [][]string) error {
	var out strings.Builder
	for _, row := range rows {
		var cells []string
		for i, column := range columns {
			cell := strings.TrimSpace(strings.ReplaceAll(row[i], "\n", " "))
			switch {
			case cell == "":
			case column.Title == "":
				cells = append(cells, cell)
			default:
				cells = append(cells, column.Title+" "+cell)
			}
		}
		out.WriteString(Indent(width, margin+"- ", strings.Join(cells, "; ")))
	}
	_, err := io.WriteString(w, out.String())
	return err
}
