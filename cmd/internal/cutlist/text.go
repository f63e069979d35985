package cutlist

import (
	"fmt"
	"math"
	"strings"

	"loudfor/optimizer/workshop"
)

// The plan in characters, for a terminal: to scale, a character being about
// twice as high as wide.

const (
	cellShape = 0.5 // of a character: width to height
)

// Text draws the sheets below one another, at most so many cells wide, lines ended.
func Text(b *workshop.Box, width int) string {
	n := &b.Nesting
	_, marks := rowsOf(b.Joinery.Panels)
	most := float64(width - 1)
	cell := max(n.Stock.Length/most, n.Stock.Width*cellShape/most) // m across
	column := func(x float64) int { return int(math.Round(x / cell)) }
	line := func(y float64) int { return int(math.Round(y / cell * cellShape)) }
	var out strings.Builder
	for sheet := range n.Sheets {
		wide, high := column(n.Stock.Length), line(n.Stock.Width)
		page := make([][]rune, high+1)
		for i := range page {
			page[i] = []rune(strings.Repeat(" ", wide+1))
		}
		frame(page, 0, 0, wide, high)
		for _, p := range n.Placed {
			if p.Sheet != sheet {
				continue
			}
			x0, y0, x1, y1 := column(p.X), line(p.Y), column(p.X+p.Length), line(p.Y+p.Width)
			frame(page, x0, y0, x1, y1)
			write(page, marks[p.Panel], mm(p.Length)+" x "+mm(p.Width), x0, y0, x1, y1)
		}
		if n.Sheets > 1 {
			fmt.Fprintf(&out, "sheet %d\n", sheet+1)
		}
		for _, row := range page {
			out.WriteString(strings.TrimRight(string(row), " "))
			out.WriteByte('\n')
		}
	}
	return out.String()
}

// frame draws a rectangle; where two meet their edges are shared.
func frame(page [][]rune, x0, y0, x1, y1 int) {
	put := func(x, y int, r rune) {
		if y < 0 || y >= len(page) || x < 0 || x >= len(page[y]) {
			return
		}
		if was := page[y][x]; was == '+' || was != ' ' && was != r {
			r = '+'
		}
		page[y][x] = r
	}
	for x := x0; x <= x1; x++ {
		put(x, y0, '-')
		put(x, y1, '-')
	}
	for y := y0; y <= y1; y++ {
		put(x0, y, '|')
		put(x1, y, '|')
	}
}

// write puts mark and size into a rectangle, the size below where it is narrow,
// and the mark alone where there is no room for more.
func write(page [][]rune, mark, size string, x0, y0, x1, y1 int) {
	inside, rows := x1-x0-1, y1-y0-1
	y := (y0 + y1) / 2
	lines := []string{mark + " " + size}
	if len(lines[0]) > inside {
		lines = []string{mark, size}
	}
	if len(lines) > max(rows, 1) || len(lines[len(lines)-1]) > inside {
		lines = []string{mark}
	}
	for k, text := range lines {
		x := (x0 + x1 + 1 - len(text)) / 2
		for i, r := range text {
			if at := y - (len(lines)-1)/2 + k; at < len(page) && x+i < len(page[at]) && x+i >= 0 {
				page[at][x+i] = r
			}
		}
	}
}
