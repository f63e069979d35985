package chart

import (
	"fmt"
	"io"
	"math"
	"strings"
)

// Step is where a staircase rises: At is its place on the flat axis, Level the
// height from there to the next step.
type Step struct {
	At, Level float64
	Mark      rune
}

// Steps draws a staircase over a linear axis, from the first step to end: each
// step's mark where it begins, dashes as far as it holds. Steps are in rising
// order. The axis is named by its unit. Where steps share a cell, the last
// mark is drawn.
func Steps(w io.Writer, title, unit string, steps []Step, end float64) error {
	if len(steps) == 0 {
		return nil
	}
	low, high := steps[0].Level, steps[0].Level
	for _, s := range steps {
		low, high = min(low, s.Level), max(high, s.Level)
	}
	row := rowHeight(low, high)
	first := steps[0].At
	end = max(end, steps[len(steps)-1].At)
	scale := 0.0
	if end > first {
		scale = float64(stepColumns-1) / (end - first)
	}
	at := func(x float64) int { return int(math.Round((x - first) * scale)) }
	top := math.Round(high / row)
	plot := make([][]rune, rowsNeeded(low, high, row))
	for r := range plot {
		plot[r] = []rune(strings.Repeat(" ", at(end)+1))
	}
	line := func(level float64) []rune { return plot[min(int(top-math.Round(level/row)), len(plot)-1)] }
	for i, s := range steps {
		to := at(end)
		if i+1 < len(steps) {
			to = at(steps[i+1].At) - 1
		}
		for c := at(s.At); c <= to; c++ {
			line(s.Level)[c] = '-'
		}
	}
	for _, s := range steps {
		line(s.Level)[at(s.At)] = s.Mark
	}
	var text strings.Builder
	fmt.Fprintf(&text, "%s\n", title)
	for r, cells := range plot {
		label := ""
		if r%2 == 0 {
			label = fmt.Sprintf("%g", (top-float64(r))*row)
		}
		fmt.Fprintf(&text, "%*s |%s\n", margin-2, label, strings.TrimRight(string(cells), " "))
	}
	text.WriteString(flatAxis(first, end, unit, at))
	_, err := io.WriteString(w, text.String())
	return err
}

// rowHeight is the finest scale whose rows fit the page.
func rowHeight(low, high float64) float64 {
	for _, step := range steps {
		if rowsNeeded(low, high, step) <= mostRows {
			return step
		}
	}
	return steps[len(steps)-1]
}

// stepColumns leaves room for the last figure and the unit behind the axis.
const stepColumns = 80

// mostTicks keeps the figures of a flat axis apart.
const mostTicks = 8

// longestTick is the room for the last figure and the gap before the unit.
const longestTick = 16

// flatAxis draws the foot of a linear axis, with ticks at round figures.
func flatAxis(first, end float64, unit string, at func(float64) int) string {
	rule := []rune(strings.Repeat("-", at(end)+1))
	labels := []rune(strings.Repeat(" ", at(end)+longestTick+len(unit)))
	free := 0
	step := roundStep((end - first) / mostTicks)
	if at(end) == 0 {
		step = math.Abs(first) + 1 // one figure, at the only place
	}
	for n := math.Ceil(first / step); ; n++ {
		tick := n * step
		if at(end) == 0 {
			tick = first
		}
		if tick > end {
			break
		}
		c := at(tick)
		rule[c] = '+'
		if c >= free {
			free = c + 1 + copy(labels[c:], []rune(fmt.Sprintf("%.6g", tick)))
		}
		if at(end) == 0 {
			break
		}
	}
	copy(labels[max(free, at(end)+2):], []rune(unit))
	indent := strings.Repeat(" ", margin-1)
	return indent + "+" + string(rule) + "\n" + indent + " " + strings.TrimRight(string(labels), " ") + "\n"
}

// roundStep is the next of 1, 2, 5, 10 ... times a power of ten.
func roundStep(least float64) float64 {
	if !(least > 0) {
		return 1
	}
	power := math.Pow(10, math.Floor(math.Log10(least)))
	for _, f := range []float64{1, 2, 5} {
		if f*power >= least {
			return f * power
		}
	}
	return 10 * power
}
