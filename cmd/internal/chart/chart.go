// Package chart draws a level over frequency with plain characters.
//
// Each point of the curve is drawn as the letter that the caller gives it, so
// the chart says at once how loud and why not louder, and loses nothing on
// paper or for people who do not see colours:
//
//	chart.Write(os.Stdout, "level, dB", []chart.Point{
//		{Hz: 40, Level: 128.2, Mark: 'T'},
//		{Hz: 50, Level: 131.4, Mark: 'V'},
//	})
//
// The frequency axis is logarithmic. One column stands for one point where the
// points fit the page, as the 63 points of the usual grid do; more points than
// columns share columns, and the loudest is drawn. Limit: levels are rounded
// to the row, half a row is at most half a step of the scale that is printed
// beside it.
package chart

import (
	"fmt"
	"io"
	"math"
	"strings"
)

// Point is one point of the curve.
type Point struct {
	Hz, Level float64
	Mark      rune
}

const (
	mostColumns = 88 // with the scale in front the line stays within 100
	mostRows    = 18 // with title and axis it fits a screen of 24 lines
	margin      = 8  // cells of the scale in front of the plot
)

// steps are the heights that one row may stand for, dB.
var steps = []float64{0.5, 1, 2, 3, 5, 10, 20, 50}

// ticks are the nominal third-octave centres of IEC 61260 around the bass
// range: the frequencies that people in audio know by heart.
var ticks = []float64{5, 6.3, 8, 10, 12.5, 16, 20, 25, 31.5, 40, 50, 63, 80, 100, 125, 160, 200, 250, 315, 400, 500}

// Write draws the points, which must be in rising order of frequency.
func Write(w io.Writer, title string, points []Point) error {
	if len(points) == 0 {
		return nil
	}
	low, high := points[0].Level, points[0].Level
	for _, p := range points {
		low, high = min(low, p.Level), max(high, p.Level)
	}
	step := steps[len(steps)-1]
	for i := len(steps) - 1; i >= 0; i-- {
		if rowsNeeded(low, high, steps[i]) > mostRows {
			break
		}
		step = steps[i]
	}
	top := math.Round(high / step)
	rows := rowsNeeded(low, high, step)
	at := columnOf(points)
	plot := make([][]rune, rows)
	for r := range plot {
		plot[r] = []rune(strings.Repeat(" ", at(points[len(points)-1].Hz)+1))
	}
	// Quietest first, so that where points share a column the loudest stays.
	best := map[int]float64{}
	for _, p := range points {
		c := at(p.Hz)
		if level, taken := best[c]; taken && level >= p.Level {
			continue
		}
		for r := range plot {
			plot[r][c] = ' '
		}
		best[c] = p.Level
		plot[min(int(top-math.Round(p.Level/step)), rows-1)][c] = p.Mark
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
	text.WriteString(axis(points, at))
	_, err := io.WriteString(w, text.String())
	return err
}

func rowsNeeded(low, high, step float64) int {
	return int(math.Round(high/step)-math.Round(low/step)) + 1
}

// columnOf maps frequency to column, logarithmically, over the whole curve.
func columnOf(points []Point) func(hz float64) int {
	first, last := points[0].Hz, points[len(points)-1].Hz
	columns := min(len(points), mostColumns)
	if columns < 2 || last <= first {
		return func(float64) int { return 0 }
	}
	scale := float64(columns-1) / math.Log(last/first)
	return func(hz float64) int { return int(math.Round(math.Log(hz/first) * scale)) }
}

// axis draws the foot: a rule with a + at each tick and its frequency below.
func axis(points []Point, at func(float64) int) string {
	first, last := points[0].Hz, points[len(points)-1].Hz
	rule := []rune(strings.Repeat("-", at(last)+1))
	labels := []rune(strings.Repeat(" ", at(last)+10))
	free := 0
	for _, hz := range ticks {
		if hz < first*0.999 || hz > last*1.001 {
			continue
		}
		c := at(hz)
		rule[c] = '+'
		if c < free {
			continue
		}
		free = c + 1 + copy(labels[c:], []rune(fmt.Sprintf("%g", hz)))
	}
	copy(labels[max(free, at(last)+2):], []rune("Hz"))
	indent := strings.Repeat(" ", margin-1)
	return indent + "+" + string(rule) + "\n" + indent + " " + strings.TrimRight(string(labels), " ") + "\n"
}
