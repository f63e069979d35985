package wiring

import (
	"fmt"
	"slices"
	"strings"

	"github.com/mattn/go-runewidth"
)

// The drawing in letters: rows that carry nothing are left out, so that a
// screen holds more of it. Corners are . and ', contacts *, crossings without
// contact |.

// trackCells is how many cells a track takes.
const trackCells = 3

// Text is the drawing for a terminal or plain text, each line ended.
func (d *Drawing) Text() string {
	if len(d.Terminals) == 0 {
		return ""
	}
	left, right := map[int]string{}, map[int]string{}
	left[d.titleRow] = d.amplifier.Title
	for driver, row := range d.titles {
		right[row] = d.driverTitle(driver)
	}
	for _, t := range d.Terminals {
		if t.Side == Left {
			left[t.Row] = d.poleName(t) + " o"
		} else {
			right[t.Row] = strings.TrimRight("o "+sign(t.Positive)+"  "+d.coilName(t), " ")
		}
	}
	width := 0
	for _, text := range left {
		width = max(width, runewidth.StringWidth(text))
	}
	g := d.grid()
	var b strings.Builder
	for _, row := range d.used() {
		text := left[row]
		line := strings.Repeat(" ", width-runewidth.StringWidth(text)) + text + string(g[row]) + right[row]
		b.WriteString(strings.TrimRight(line, " ") + "\n")
	}
	return b.String()
}

// used lists the rows that hold something, in order.
func (d *Drawing) used() []int {
	rows := append(slices.Clone(d.titles), d.titleRow)
	for _, t := range d.Terminals {
		rows = append(rows, t.Row)
	}
	slices.Sort(rows)
	return slices.Compact(rows)
}

// grid is the channel in letters, by row; a row above the first is kept too.
func (d *Drawing) grid() map[int][]rune {
	width := (d.Tracks + 1) * trackCells
	g := map[int][]rune{}
	for row := min(0, d.titleRow); row < d.rows; row++ {
		g[row] = []rune(strings.Repeat(" ", width))
	}
	column := func(c int) int { return min(c*trackCells, width) }
	segments := d.Segments()
	for _, s := range segments {
		if s.FromRow == s.ToRow {
			from, to := min(s.FromColumn, s.ToColumn), max(s.FromColumn, s.ToColumn)
			for x := column(from); x < column(to); x++ {
				g[s.FromRow][x] = '-'
			}
		}
	}
	for _, s := range segments {
		if s.FromRow == s.ToRow {
			continue
		}
		x := column(s.FromColumn)
		for row := s.FromRow; row <= s.ToRow; row++ {
			g[row][x] = '|'
		}
		g[s.FromRow][x], g[s.ToRow][x] = '.', '\''
	}
	for _, c := range d.Contacts() {
		g[c.Row][column(c.Column)] = '*'
	}
	return g
}

// The labels, the same in both forms.

func (d *Drawing) driverTitle(driver int) string {
	title := fmt.Sprintf("driver %d", driver+1)
	p := d.plan
	if p.Split == 1 && p.Coils > 1 {
		title += fmt.Sprintf(": coils %s, %s", joined(p.InnerSeries, p.InnerParallel), ohms(p.CoilLoad*float64(p.InnerSeries)/float64(p.InnerParallel)))
	}
	return title
}

// coilName stands at the coil's plus.
func (d *Drawing) coilName(t Terminal) string {
	if !t.Positive {
		return ""
	}
	name := "coil"
	if d.plan.Coils > 1 {
		name = fmt.Sprintf("coil %d", t.Coil+1)
	}
	return name + ", " + ohms(d.plan.CoilLoad)
}

// poleName stands at a terminal of the amplifier: the output at its plus, the
// load that it sees at its minus.
func (d *Drawing) poleName(t Terminal) string {
	if !t.Positive {
		return "sees " + ohms(d.plan.Load) + "  " + sign(false)
	}
	name := "output"
	if t.Output < len(d.amplifier.Outputs) {
		name = d.amplifier.Outputs[t.Output]
	}
	return name + "  " + sign(true)
}

func sign(positive bool) string {
	if positive {
		return "+"
	}
	return "-"
}

func ohms(load float64) string { return fmt.Sprintf("%.3g ohm", load) }
