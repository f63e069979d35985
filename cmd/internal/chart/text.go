package chart

import (
	"cmp"
	"fmt"
	"io"
	"math"
	"strings"
)

const (
	besideCurve = 12 // what a page is wider than a curve: the scale in front
	besideSteps = 20 // room for the last figure and the unit behind the axis as well
	mostRows    = 18 // with title and axis it fits a screen of 24 lines
	margin      = 8  // cells of the scale in front of the plot
	mostTicks   = 8  // keeps the figures of a flat axis apart
	longestTick = 16 // room for the last figure and the gap before the unit
)

// The characters of lines and of the edges of a band.
const (
	lineSign = '-'
	edgeSign = ':'
)

// rowHeights are what one row may stand for, dB.
var rowHeights = []float64{0.5, 1, 2, 3, 5, 10, 20, 50}

// page is a chart in characters while it is drawn.
type page struct {
	width       int // of the paper it stands on
	cells       [][]rune
	row, top    float64 // what a row stands for, and the number of the first one
	first, last float64
	column      func(x float64) int
}

// Text draws the first line with plain characters on a page so many wide, each point of it as the
// letter of its kind, with the band and the marks around it. On a logarithmic
// axis one column stands for one point where the points fit the page, as the
// 63 points of the usual grid do; more points than columns share columns, and
// the loudest of several kinds is drawn. Marks beyond the ends of the line are
// left out, and how many is said.
func Text(w io.Writer, width int, c *Chart) error {
	if len(c.Lines) == 0 || len(c.Lines[0].Points) == 0 {
		return nil
	}
	line := &c.Lines[0]
	p := &page{width: width, first: line.Points[0].X, last: line.end()}
	var inside []Mark
	for _, m := range c.Marks {
		if m.At.X >= p.first && m.At.X <= p.last {
			inside = append(inside, m)
		}
	}
	p.scale(c, line, inside)
	for i := range c.Band.Low {
		p.put(c.Band.Low[i], edgeSign)
		p.put(c.Band.High[i], edgeSign)
	}
	p.line(line)
	for _, m := range inside {
		p.put(m.At, m.Sign)
	}
	var text strings.Builder
	fmt.Fprintf(&text, "%s\n", c.Title)
	for r, cells := range p.cells {
		label := ""
		if r%2 == 0 {
			label = fmt.Sprintf("%g", (p.top-float64(r))*p.row)
		}
		fmt.Fprintf(&text, "%*s |%s\n", margin-2, label, strings.TrimRight(string(cells), " "))
	}
	if c.X.Log {
		text.WriteString(p.octaves())
	} else {
		text.WriteString(p.flat(c.X.Unit))
	}
	if n := len(c.Marks) - len(inside); n > 0 {
		fmt.Fprintf(&text, "%s%d beyond the ends of the chart\n", strings.Repeat(" ", margin), n)
	}
	_, err := io.WriteString(w, text.String())
	return err
}

// scale chooses rows and columns: the finest rows that fit the page.
func (p *page) scale(c *Chart, line *Line, marks []Mark) {
	low, high := math.Inf(1), math.Inf(-1)
	add := func(points ...XY) {
		for _, q := range points {
			low, high = min(low, q.Y), max(high, q.Y)
		}
	}
	add(line.Points...)
	add(c.Band.Low...)
	add(c.Band.High...)
	for _, m := range marks {
		add(m.At)
	}
	rows := func(height float64) int { return int(math.Round(high/height)-math.Round(low/height)) + 1 }
	for _, p.row = range rowHeights {
		if rows(p.row) <= cmp.Or(c.Rows, mostRows) {
			break
		}
	}
	p.top = math.Round(high / p.row)
	columns, along := p.width-besideSteps, func(x float64) float64 { return (x - p.first) / (p.last - p.first) }
	if c.X.Log {
		columns, along = min(len(line.Points), p.width-besideCurve), func(x float64) float64 { return math.Log(x/p.first) / math.Log(p.last/p.first) }
	}
	p.column = func(x float64) int {
		if p.last <= p.first {
			return 0
		}
		return int(math.Round(along(x) * float64(columns-1)))
	}
	p.cells = make([][]rune, rows(p.row))
	for r := range p.cells {
		p.cells[r] = []rune(strings.Repeat(" ", p.column(p.last)+1))
	}
}

func (p *page) put(at XY, sign rune) {
	p.cells[max(0, min(int(p.top-math.Round(at.Y/p.row)), len(p.cells)-1))][p.column(at.X)] = sign
}

func (p *page) line(l *Line) {
	if l.Step {
		for i, q := range l.Points {
			to := p.column(p.last)
			if i+1 < len(l.Points) {
				to = p.column(l.Points[i+1].X) - 1
			}
			cells := p.cells[max(0, min(int(p.top-math.Round(q.Y/p.row)), len(p.cells)-1))]
			for c := p.column(q.X); c <= to; c++ {
				cells[c] = lineSign
			}
		}
		return
	}
	best := map[int]float64{}
	for i, q := range l.Points {
		if len(l.Of) == 0 {
			p.put(q, lineSign)
			continue
		}
		c := p.column(q.X)
		if level, taken := best[c]; taken && level >= q.Y {
			continue
		}
		for r := range p.cells {
			p.cells[r][c] = ' '
		}
		best[c] = q.Y
		p.put(q, l.Of[i].Letter)
	}
}

// octaves draws the foot: a rule with a + at each tick and its frequency below.
func (p *page) octaves() string {
	foot := p.foot("Hz")
	for _, hz := range Octaves {
		if onAxis(hz, p.first, p.last) {
			foot.tick(p.column(hz), fmt.Sprintf("%g", hz))
		}
	}
	return foot.text()
}

// flat draws the foot of a linear axis, with ticks at round figures.
func (p *page) flat(unit string) string {
	foot := p.foot(unit)
	if p.column(p.last) == 0 {
		foot.tick(0, fmt.Sprintf("%.6g", p.first))
		return foot.text()
	}
	step := roundStep((p.last - p.first) / mostTicks)
	for n := math.Ceil(p.first / step); n*step <= p.last; n++ {
		foot.tick(p.column(n*step), fmt.Sprintf("%.6g", n*step))
	}
	return foot.text()
}

// foot is the rule under the plot and the line of figures below.
type foot struct {
	rule, labels []rune
	free         int // the first cell that no figure has taken
	unit         string
}

func (p *page) foot(unit string) *foot {
	end := p.column(p.last)
	return &foot{rule: []rune(strings.Repeat("-", end+1)), labels: []rune(strings.Repeat(" ", end+longestTick+len(unit))), unit: unit}
}

func (f *foot) tick(c int, words string) {
	f.rule[c] = '+'
	if c >= f.free {
		f.free = c + 1 + copy(f.labels[c:], []rune(words))
	}
}

func (f *foot) text() string {
	copy(f.labels[max(f.free, len(f.rule)+1):], []rune(f.unit))
	indent := strings.Repeat(" ", margin-1)
	return indent + "+" + string(f.rule) + "\n" + indent + " " + strings.TrimRight(string(f.labels), " ") + "\n"
}
