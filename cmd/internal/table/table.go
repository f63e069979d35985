// Package table lays out the plain tables of the terminal: a header, a rule of
// dashes, rows whose cells wrap at words, never wider than they may be.
//
//	table.WriteIndented(os.Stdout, table.Most, "", []table.Column{
//		{Title: "SKU"},
//		{Title: "price", Right: true},
//		{Title: "what it is", Fill: true},
//	}, [][]string{{"TM-12V", "39.00 USD", "Tamsel 12-inch value"}})
//
// There are no frames: a frame costs eight columns of a hundred and says
// nothing. Text is measured in terminal cells, so that names in any script
// keep the columns straight. Where a page is too narrow for a table, the filling
// column stands under its row, and on a still narrower one each row is a
// paragraph: no word is broken for the sake of a column. Limits: a single word
// longer than a line is broken, because the width is a promise and the word is
// not.
package table

import (
	"io"
	"strings"

	"github.com/olekukonko/tablewriter"
	"github.com/olekukonko/tablewriter/renderer"
	"github.com/olekukonko/tablewriter/tw"
)

// Most is the widest line of what is not written for one terminal, in its cells.
const Most = 100

// gap is what stands between two columns.
const gap = "  "

// Column is one column: how it is headed and how wide it may become.
type Column struct {
	Title string
	Right bool // numbers stand right-aligned, so that digits line up
	Width int  // most cells; 0: as wide as its widest cell
	Fill  bool // takes what the other columns leave of the width
}

// WriteIndented prints the table with a margin at its left, at most so many
// cells wide. Cells may hold line breaks of their own.
func WriteIndented(w io.Writer, width int, margin string, columns []Column, rows [][]string) error {
	limits := widths(columns, rows, width-Cells(margin))
	switch {
	case !roomy(columns, rows, limits, width-Cells(margin), false):
		return writeRecords(w, width, margin, columns, rows)
	case !roomy(columns, rows, limits, width-Cells(margin), true):
		return writeStacked(w, width, margin, columns, rows)
	}
	_, err := writeLaid(w, margin, columns, rows, limits)
	return err
}

// writeLaid prints a table whose columns are so wide, and tells how many lines
// each row took.
func writeLaid(w io.Writer, margin string, columns []Column, rows [][]string, limits []int) (heights []int, err error) {
	header := make([]string, len(columns))
	for i, column := range columns {
		header[i] = strings.Join(Wrap(column.Title, limits[i]), "\n")
	}
	var text strings.Builder
	t := newTable(&text, columns, renderer.NewBlueprint(plain()),
		tablewriter.WithTrimSpace(tw.Off),
		tablewriter.WithPadding(tw.Padding{Left: "", Right: "", Overwrite: true}))
	t.Header(header)
	for _, row := range rows {
		cells := make([]string, len(columns))
		for i := range columns {
			cells[i] = wrapCell(row[i], limits[i])
		}
		heights = append(heights, height(cells))
		if err := t.Append(cells); err != nil {
			return nil, err
		}
	}
	if err := t.Render(); err != nil {
		return nil, err
	}
	_, err = io.WriteString(w, finished(text.String(), margin))
	return heights, err
}

// newTable starts a table that leaves texts as they are and sets numbers right.
func newTable(w io.Writer, columns []Column, look tw.Renderer, more ...tablewriter.Option) *tablewriter.Table {
	alignment := make(tw.Alignment, len(columns))
	for i, column := range columns {
		alignment[i] = tw.AlignLeft
		if column.Right {
			alignment[i] = tw.AlignRight
		}
	}
	return tablewriter.NewTable(w, append([]tablewriter.Option{
		tablewriter.WithRenderer(look),
		tablewriter.WithHeaderAutoFormat(tw.Off),
		tablewriter.WithHeaderAutoWrap(tw.WrapNone),
		tablewriter.WithRowAutoWrap(tw.WrapNone),
		tablewriter.WithEastAsian(tw.Off),
		tablewriter.WithHeaderAlignmentConfig(tw.CellAlignment{Global: tw.AlignLeft, PerColumn: alignment}),
		tablewriter.WithRowAlignmentConfig(tw.CellAlignment{Global: tw.AlignLeft, PerColumn: alignment}),
	}, more...)...)
}

// plain is the look: no frame, a rule under the header, two spaces between
// columns.
func plain() tw.Rendition {
	return tw.Rendition{
		Borders: tw.BorderNone,
		Symbols: tw.NewSymbolCustom("plain").WithRow("-").WithColumn(gap).WithCenter(gap).
			WithHeaderMid(gap).WithMidLeft("").WithMidRight(""),
		Settings: tw.Settings{
			Separators: tw.Separators{ShowHeader: tw.On, BetweenColumns: tw.On, BetweenRows: tw.Off},
			Lines:      tw.Lines{ShowHeaderLine: tw.On},
		},
	}
}

// widths finds how many cells each column may take. Only the filling columns
// give way: they share what the others leave.
func widths(columns []Column, rows [][]string, most int) []int {
	limits := make([]int, len(columns))
	left, filling := most-len(gap)*(len(columns)-1), 0
	for i, column := range columns {
		if column.Fill {
			filling++
			continue
		}
		widest := widestLine(column.Title)
		for _, row := range rows {
			widest = max(widest, widestLine(row[i]))
		}
		if column.Width > 0 {
			widest = min(widest, column.Width)
		}
		limits[i] = widest
		left -= widest
	}
	for i, column := range columns {
		if column.Fill {
			limits[i] = max(left/filling, 1)
			left -= limits[i]
			filling--
		}
	}
	return limits
}

func widestLine(text string) int {
	widest := 0
	for line := range strings.SplitSeq(text, "\n") {
		widest = max(widest, Cells(line))
	}
	return widest
}

// finished adds the margin and drops the padding at the ends of lines, which
// would only show up as noise in a comparison or a mail.
func finished(text, margin string) string {
	lines := strings.Split(text, "\n")
	for i, line := range lines {
		lines[i] = strings.TrimRight(margin+line, " ")
	}
	return strings.Join(lines, "\n")
}
