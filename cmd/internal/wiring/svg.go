package wiring

import (
	"fmt"
	"html"
	"strings"
)

// The drawing as SVG. Sizes are in pixels of a picture that scales. Text is
// measured beforehand by a width for each letter that no common sans-serif
// font exceeds on average, so labels have room whatever font the reader has; a
// test looks at it in a real browser.

const (
	rowHeight  = 15.0
	trackWidth = 22.0
	fontSize   = 13.0
	// DejaVu Sans, one of the widest fonts, has 0.58 and 0.65 on average over
	// such labels.
	letterWidth = 0.62 * fontSize
	boldWidth   = 0.70 * fontSize
	margin      = 12.0
	padding     = 10.0
	coilWidth   = 20.0 // from a coil's terminals to its winding
	dotSize     = 3.5
)

// picture is an SVG while it is drawn.
type picture struct {
	body          strings.Builder
	width, height float64
}

func (p *picture) put(format string, args ...any) { fmt.Fprintf(&p.body, format+"\n", args...) }

// text writes a label; anchor is start, middle or end.
func (p *picture) text(x, y float64, anchor, class, label string) {
	if class != "" {
		class = fmt.Sprintf(` class="%s"`, class)
	}
	p.put(`<text x="%.1f" y="%.1f" text-anchor="%s"%s>%s</text>`, x, y, anchor, class, html.EscapeString(label))
}

func (p *picture) frame(x, y, width, height float64) {
	p.put(`<rect class="frame" x="%.1f" y="%.1f" width="%.1f" height="%.1f" rx="4"/>`, x, y, width, height)
}

// svg closes the picture. Its lines take the colour of the page that it stands
// in, so that it is as legible on a dark screen as in print; by itself it is
// drawn on white.
func (p *picture) svg(title string) string {
	return fmt.Sprintf(`<svg xmlns="http://www.w3.org/2000/svg" class="wiring" role="img" width="%.0f" height="%.0f" viewBox="0 0 %.0f %.0f">
<title>%s</title>
<style>%s</style>
%s</svg>
`, p.width, p.height, p.width, p.height, html.EscapeString(title), look, p.body.String())
}

// look is the style of all drawings. The two colours keep a contrast of 3 to 1
// or more on white as on black.
const look = `
svg.wiring { font: 13px "DejaVu Sans", Verdana, Arial, sans-serif; }
svg.wiring:root { color: #111; background: #fff; }
.wiring text { fill: currentColor; }
.wiring .strong { font-weight: bold; }
.wiring .frame { fill: none; stroke: currentColor; stroke-width: 1; }
.wiring .wire { fill: none; stroke: currentColor; stroke-width: 1.6; }
.wiring .plus { stroke: #c4321f; stroke-width: 2.8; }
.wiring .minus { stroke-dasharray: 7 3; }
.wiring .between { stroke: #2874b5; stroke-width: 2; stroke-dasharray: 2 3; }
.wiring .winding { fill: none; stroke: currentColor; stroke-width: 1.4; }
.wiring .dot { fill: currentColor; }
.wiring .post { fill: none; stroke: currentColor; stroke-width: 1.4; }
`

var classes = [...]string{between: "between", plus: "plus", minus: "minus"}

// legend says what the lines mean.
var legend = []struct {
	class, words string
}{
	{"plus", "to the plus side of an output"},
	{"minus", "to the minus side of an output"},
	{"between", "link from coil to coil"},
}

func wide(label string) float64   { return letterWidth * float64(len([]rune(label))) }
func strong(label string) float64 { return boldWidth * float64(len([]rune(label))) }

// SVG is the drawing as a picture; empty for an empty drawing.
func (d *Drawing) SVG() string {
	if len(d.Terminals) == 0 {
		return ""
	}
	p := &picture{}
	leftWidth, rightWidth := d.labelWidths()
	top := margin + rowHeight - float64(min(0, d.titleRow))*rowHeight
	y := func(row int) float64 { return top + float64(row)*rowHeight }
	leftEdge := margin + leftWidth
	x := func(column int) float64 { return leftEdge + padding + float64(column)*trackWidth }
	rightEdge := x(d.Tracks + 1)
	p.width = rightEdge + rightWidth + margin
	bottom := y(d.rows)
	p.height = bottom + float64(d.legendRows())*1.4*rowHeight + margin

	d.drawAmplifier(p, leftEdge, x(0), y)
	for driver := range d.titles {
		d.drawDriver(p, driver, rightEdge, rightWidth, y)
	}
	for _, s := range d.Segments() {
		p.put(`<path class="wire %s" data-net="%d" d="M%.1f %.1fL%.1f %.1f"/>`, classes[d.role[s.Net]], s.Net, x(s.FromColumn), y(s.FromRow), x(s.ToColumn), y(s.ToRow))
	}
	for _, c := range d.Contacts() {
		p.put(`<circle class="dot" cx="%.1f" cy="%.1f" r="%.1f"/>`, x(c.Column), y(c.Row), dotSize)
	}
	d.drawLegend(p, bottom)
	return p.svg("Wiring of the voice coils on " + d.amplifier.Title)
}

func (d *Drawing) labelWidths() (left, right float64) {
	left = strong(d.amplifier.Title)
	for _, t := range d.Terminals {
		if t.Side == Left {
			left = max(left, wide(d.poleName(t)))
		} else {
			right = max(right, coilWidth*2+wide(d.coilName(t)))
		}
	}
	for driver := range d.titles {
		right = max(right, strong(d.driverTitle(driver)))
	}
	return left + padding, right + 2*padding
}

func (d *Drawing) drawAmplifier(p *picture, edge, terminals float64, y func(int) float64) {
	first, last := d.titleRow, 0
	for _, t := range d.Terminals {
		if t.Side != Left {
			continue
		}
		last = max(last, t.Row)
		p.text(edge-padding/2, y(t.Row)+fontSize/3, "end", "", d.poleName(t))
		p.put(`<path class="wire %s" d="M%.1f %.1fL%.1f %.1f"/>`, classes[d.role[t.Net]], edge, y(t.Row), terminals, y(t.Row))
		p.put(`<circle class="post" cx="%.1f" cy="%.1f" r="%.1f"/>`, edge, y(t.Row), dotSize)
	}
	p.text(edge-padding/2, y(first)+fontSize/3, "end", "strong", d.amplifier.Title)
	p.frame(margin/2, y(first)-rowHeight, edge-margin/2, float64(last-first+2)*rowHeight)
}

func (d *Drawing) drawDriver(p *picture, driver int, edge, width float64, y func(int) float64) {
	first := d.titles[driver]
	last := first + d.plan.Coils*coilPitch
	p.frame(edge, y(first)-rowHeight*0.9, width, float64(last-first)*rowHeight+rowHeight*1.7)
	p.text(edge+padding, y(first)+fontSize/3, "start", "strong", d.driverTitle(driver))
	for _, t := range d.Terminals {
		if t.Side != Right || t.Driver != driver {
			continue
		}
		p.put(`<circle class="post" cx="%.1f" cy="%.1f" r="%.1f"/>`, edge, y(t.Row), dotSize)
		if t.Positive {
			d.drawWinding(p, edge, y(t.Row), y(t.Row+polePitch))
			p.text(edge+2*coilWidth, (y(t.Row)+y(t.Row+polePitch))/2+fontSize/3, "start", "", d.coilName(t))
		}
		p.text(edge+coilWidth*0.65, y(t.Row)-3, "middle", "", sign(t.Positive))
	}
}

// drawWinding draws a coil between its terminals: three turns.
func (d *Drawing) drawWinding(p *picture, edge, top, bottom float64) {
	x := edge + coilWidth
	turn := (bottom - top) / 3
	p.put(`<path class="winding" d="M%.1f %.1fH%.1f a%.1f %.1f 0 0 1 0 %.1f a%.1f %.1f 0 0 1 0 %.1f a%.1f %.1f 0 0 1 0 %.1f H%.1f"/>`,
		edge+dotSize, top, x, turn/2, turn/2, turn, turn/2, turn/2, turn, turn/2, turn/2, turn, edge+dotSize)
}

// uses says which lines are in the drawing.
func (d *Drawing) uses(class string) bool {
	for _, r := range d.role {
		if classes[r] == class {
			return true
		}
	}
	return false
}

func (d *Drawing) legendRows() (rows int) {
	for _, l := range legend {
		if d.uses(l.class) {
			rows++
		}
	}
	return rows
}

func (d *Drawing) drawLegend(p *picture, y float64) {
	for _, l := range legend {
		if !d.uses(l.class) {
			continue
		}
		y += 1.4 * rowHeight
		p.put(`<path class="wire %s" d="M%.1f %.1fH%.1f"/>`, l.class, margin, y-fontSize/3, margin+40)
		p.text(margin+50, y, "start", "", l.words)
		p.width = max(p.width, margin*2+50+wide(l.words))
	}
}
