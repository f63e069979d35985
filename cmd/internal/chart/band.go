package chart

import (
	"fmt"
	"io"
	"math"
	"slices"
	"strings"
)

// Band is a prediction with the limits that it may lie between.
type Band struct{ Hz, Low, Mid, High float64 }

// The marks of WriteBand.
const (
	midMark   = '-'
	edgeMark  = ':'
	pointMark = 'x'
)

// WriteBand draws a predicted band ("-" in the middle, ":" at its edges) and
// measured points ("x") over it. Both are in rising order of frequency; points
// beyond the band's ends are left out, and how many is said.
func WriteBand(w io.Writer, title string, band []Band, points []Point) error {
	if len(band) < 2 {
		return nil
	}
	low, high := math.Inf(1), math.Inf(-1)
	for _, b := range band {
		low, high = min(low, b.Low), max(high, b.High)
	}
	first, last := band[0].Hz, band[len(band)-1].Hz
	inside := slices.DeleteFunc(slices.Clone(points), func(p Point) bool { return p.Hz < first || p.Hz > last })
	for _, p := range inside {
		low, high = min(low, p.Level), max(high, p.Level)
	}
	step := steps[len(steps)-1]
	for i := len(steps) - 1; i >= 0; i-- {
		if rowsNeeded(low, high, steps[i]) > mostRows {
			break
		}
		step = steps[i]
	}
	ends := []Point{{Hz: first}, {Hz: last}}
	at := wide(ends, min(len(band), mostColumns))
	top, rows := math.Round(high/step), rowsNeeded(low, high, step)
	plot := make([][]rune, rows)
	for r := range plot {
		plot[r] = []rune(strings.Repeat(" ", at(last)+1))
	}
	put := func(hz, level float64, mark rune) {
		plot[max(0, min(int(top-math.Round(level/step)), rows-1))][at(hz)] = mark
	}
	for _, b := range band {
		put(b.Hz, b.Low, edgeMark)
		put(b.Hz, b.High, edgeMark)
		put(b.Hz, b.Mid, midMark)
	}
	for _, p := range inside {
		put(p.Hz, p.Level, pointMark)
	}
	var text strings.Builder
	fmt.Fprintf(&text, "%s\n", title)
	for r, line := range plot {
		label := ""
		if r%2 == 0 {
			label = fmt.Sprintf("%g", (top-float64(r))*step)
		}
		fmt.Fprintf(&text, "%*s |%s\n", margin-2, label, strings.TrimRight(string(line), " "))
	}
	text.WriteString(axis(ends, at))
	if n := len(points) - len(inside); n > 0 {
		fmt.Fprintf(&text, "%s%d beyond the ends of the chart\n", strings.Repeat(" ", margin), n)
	}
	_, err := io.WriteString(w, text.String())
	return err
}

// wide maps frequency to so many columns, logarithmically.
func wide(ends []Point, columns int) func(hz float64) int {
	first, last := ends[0].Hz, ends[1].Hz
	scale := float64(columns-1) / math.Log(last/first)
	return func(hz float64) int { return int(math.Round(math.Log(hz/first) * scale)) }
}
