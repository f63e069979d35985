// Package chart draws a level over frequency, or over money, for people: with
// plain characters on a terminal, and as SVG in a page or in a file.
//
//	c := chart.Chart{Title: "level, dB", X: chart.Axis{Log: true, Unit: "Hz"}, Lines: []chart.Line{{
//		Points: []chart.XY{{40, 128.2}, {50, 131.4}},
//		Of:     []chart.Kind{{Letter: 'T', Name: "cone travel"}, {Letter: 'V', Name: "amplifier voltage"}},
//	}}}
//	chart.Text(os.Stdout, 80, &c)
//
// A Chart says what is to be seen; Text and SVG are its two printers. Whatever
// a colour says, a letter, a shape or a word says too, so that a drawing
// loses nothing on paper or for people who do not see colours.
//
// Limits: levels in characters are rounded to the row, and the axes of a
// page of characters are chosen by the printer, not by the caller.
package chart

// Chart is what is to be seen.
type Chart struct {
	Title string
	// Words say it to those who do not see the drawing; empty where a text or a
	// table beside it does.
	Words string
	X, Y  Axis
	Band  Band
	Lines []Line // the first is the one that matters most
	Rules []Rule
	Marks []Mark
	// Kinds goes before the names of kinds in the legend: "limit: ".
	Kinds string
	// Rows is the most rows in characters; 0: as many as make a screen.
	Rows int
}

// XY is a point in the quantities of the axes.
type XY struct{ X, Y float64 }

// Axis is a scale.
type Axis struct {
	Label    string // "frequency, Hz", of a drawing that stands alone
	Unit     string // "Hz"
	Log      bool   // only for X
	From, To float64
	Ticks    []Tick
}

// Tick is a figure beside an axis.
type Tick struct {
	At    float64
	Words string
}

// Band is what a value may lie between.
type Band struct {
	Name      string
	Low, High []XY
}

// Line is a curve, or a staircase that holds each level up to the next step.
type Line struct {
	Points []XY // in rising order of X
	Step   bool
	End    float64 // of the last step; not beyond it: there
	// Of says of each point what kind it is; the area under a stretch of one
	// kind is shaded. Empty: of no kinds.
	Of    []Kind
	Name  string
	Class string // the look of it: "main", "beyond"
}

// Kind is what a point may be of, such as the limit that binds there.
type Kind struct {
	Letter rune
	Name   string
	Class  string
}

// Rule is an upright line, such as a cap.
type Rule struct {
	At    float64
	Words string
}

// Mark is one point that is shown by itself.
type Mark struct {
	At        XY
	Sign      rune    // '!' is drawn as a triangle, others as a circle
	Tolerance float64 // how far the value may be off either way
	Size      float64 // of the drawing
	Class     string
	Name      string // in the legend
	Label     string // beside it
	// Href makes it a link, which is as wide as up to To; Title is its words.
	Href, Title string
	To          float64
}

// end is where the line ends.
func (l *Line) end() float64 {
	last := l.Points[len(l.Points)-1].X
	if l.Step {
		return max(last, l.End)
	}
	return last
}
