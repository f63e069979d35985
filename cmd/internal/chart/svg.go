package chart

import (
	"cmp"
	"encoding/xml"
	"fmt"
	"math"
	"slices"
	"strings"
)

// Frame is where a drawing has its field, in its own units.
type Frame struct {
	Width, Height            int
	Left, Right, Top, Bottom float64
}

// drawing is a chart in SVG while it is drawn.
type drawing struct {
	strings.Builder
	c    *Chart
	f    Frame
	x, y func(float64) float64
}

// SVG draws the chart for a page whose style sheet has its classes. All words
// are escaped. The same chart gives the same bytes.
func SVG(c *Chart, f Frame) string {
	d := newDrawing(c, f)
	d.put(`<svg viewBox="0 0 %d %d" `, f.Width, f.Height)
	if c.Words == "" {
		d.put(`aria-hidden="true" focusable="false">` + "\n")
	} else {
		d.put(`role="img" aria-label="%s">`+"\n", c.Words)
	}
	d.field()
	if c.Y.Unit != "" {
		d.put(`<text class="unit" x="6" y="14">%s</text>`+"\n", c.Y.Unit)
	}
	if c.X.Unit != "" {
		d.put(`<text class="unit" x="%g" y="%d" dy="-6" text-anchor="end">%s</text>`+"\n", f.Right, f.Height, c.X.Unit)
	}
	d.names()
	d.WriteString("</svg>\n")
	return d.String()
}

func newDrawing(c *Chart, f Frame) *drawing {
	d := &drawing{c: c, f: f}
	along := func(x float64) float64 { return (x - c.X.From) / (c.X.To - c.X.From) }
	if c.X.Log {
		along = func(x float64) float64 { return math.Log(x/c.X.From) / math.Log(c.X.To/c.X.From) }
	}
	d.x = func(x float64) float64 { return tenth(f.Left + along(x)*(f.Right-f.Left)) }
	d.y = func(y float64) float64 { return tenth(f.Bottom - (y-c.Y.From)/(c.Y.To-c.Y.From)*(f.Bottom-f.Top)) }
	return d
}

// tenth keeps a drawing short; a tenth of its unit is less than anybody sees.
func tenth(value float64) float64 { return math.Round(value*10) / 10 }

// put writes a piece with the texts escaped that stand in it: no word of a chart
// ends an attribute or begins an element, and a character that XML has no place
// for is shown as one that is missing.
func (d *drawing) put(format string, args ...any) {
	for i, arg := range args {
		if text, ok := arg.(string); ok {
			var safe strings.Builder
			xml.EscapeText(&safe, []byte(text)) // a Builder takes everything
			args[i] = safe.String()
		}
	}
	fmt.Fprintf(d, format, args...)
}

// field draws what lies inside the axes, the farthest first.
func (d *drawing) field() {
	d.WriteString(`<g class="grid">`)
	for _, t := range d.c.Y.Ticks {
		d.put(`<path d="M%g %gH%g"/><text x="%g" y="%g" dy="4.5" text-anchor="end">%s</text>`, d.f.Left, d.y(t.At), d.f.Right, d.f.Left-8, d.y(t.At), t.Words)
	}
	d.WriteString("</g>\n")
	if len(d.c.Band.Low) > 0 {
		back := slices.Clone(d.c.Band.Low)
		slices.Reverse(back)
		d.put(`<path class="band" d="%sZ"/>`+"\n", d.along(append(slices.Clone(d.c.Band.High), back...)))
	}
	for i := range d.c.Lines {
		d.shades(&d.c.Lines[i])
	}
	d.WriteString(`<g class="grid">`)
	for _, t := range d.c.X.Ticks {
		d.put(`<path d="M%g %gv5"/><text x="%g" y="%g" dy="23" text-anchor="middle">%s</text>`, d.x(t.At), d.f.Bottom, d.x(t.At), d.f.Bottom, t.Words)
	}
	d.WriteString("</g>\n")
	for i := range slices.Backward(d.c.Lines) { // the one that matters on top
		l := &d.c.Lines[i]
		if path := d.path(l); path != "" {
			d.put(`<path class="%s" d="%s"/>`+"\n", l.Class, path)
		}
	}
	for _, r := range d.c.Rules {
		x := d.x(r.At)
		d.put(`<path class="rule" d="M%g %gV%g"/><text class="rule" x="%g" y="%g" dy="-8" text-anchor="%s">%s</text>`+"\n", x, d.f.Top, d.f.Bottom, x, d.f.Top, d.anchor(x), r.Words)
	}
	for i := range d.c.Marks {
		d.mark(&d.c.Marks[i])
	}
}

func (d *drawing) along(points []XY) string {
	var path strings.Builder
	for i, p := range points {
		sign := "L"
		if i == 0 {
			sign = "M"
		}
		fmt.Fprintf(&path, "%s%g %g", sign, d.x(p.X), d.y(p.Y))
	}
	return path.String()
}

func (d *drawing) path(l *Line) string {
	if !l.Step {
		return d.along(l.Points)
	}
	var path strings.Builder
	for i, p := range l.Points {
		if i == 0 {
			fmt.Fprintf(&path, "M%g %g", d.x(p.X), d.y(p.Y))
		} else {
			fmt.Fprintf(&path, "V%g", d.y(p.Y))
		}
		to := l.end()
		if i+1 < len(l.Points) {
			to = l.Points[i+1].X
		}
		fmt.Fprintf(&path, "H%g", d.x(to))
	}
	return path.String()
}

// shades cuts the area under a line where another kind takes over, half way
// between the two points.
func (d *drawing) shades(l *Line) {
	half := func(a, b float64) float64 { return tenth((a + b) / 2) }
	p, from := l.Points, 0
	for i := range l.Of {
		if i+1 < len(l.Of) && l.Of[i+1] == l.Of[from] {
			continue
		}
		left, right := d.x(p[from].X), d.x(p[i].X)
		var path strings.Builder
		if from > 0 {
			left = half(d.x(p[from-1].X), left)
		}
		fmt.Fprintf(&path, "M%g %g", left, d.f.Bottom)
		if from > 0 {
			fmt.Fprintf(&path, "V%g", half(d.y(p[from-1].Y), d.y(p[from].Y)))
		}
		for k := from; k <= i; k++ {
			fmt.Fprintf(&path, "L%g %g", d.x(p[k].X), d.y(p[k].Y))
		}
		if i+1 < len(p) {
			right = half(right, d.x(p[i+1].X))
			fmt.Fprintf(&path, "L%g %g", right, half(d.y(p[i].Y), d.y(p[i+1].Y)))
		}
		kind := l.Of[from]
		d.put(`<path class="shade %s" d="%sV%gZ"><title>%s</title></path>`, kind.Class, path.String(), d.f.Bottom, kind.Name)
		if right-left > 16 { // there is room for its letter
			d.put(`<text class="letter" x="%g" y="%g" text-anchor="middle">%s</text>`, tenth((left+right)/2), d.f.Bottom-10, string(kind.Letter))
		}
		d.WriteString("\n")
		from = i + 1
	}
}

func (d *drawing) mark(m *Mark) {
	x, y := d.x(m.At.X), d.y(m.At.Y)
	element := "g"
	if m.Href != "" {
		element = "a"
		d.put(`<a href="%s" tabindex="-1" class="%s">`, m.Href, m.Class)
	} else {
		d.put(`<g class="%s">`, m.Class)
	}
	if m.Title != "" {
		d.put(`<title>%s</title>`, m.Title)
	}
	if m.Href != "" {
		d.put(`<rect x="%g" y="%g" width="%g" height="%g"/>`, x, d.f.Top, max(6, tenth(d.x(m.To)-x)), d.f.Bottom-d.f.Top)
	}
	if m.Tolerance > 0 {
		d.put(`<path class="whisker" d="M%g %gV%gm-4 0h8M%g %gh8"/>`, x, d.y(m.At.Y-m.Tolerance), d.y(m.At.Y+m.Tolerance), x-4, d.y(m.At.Y-m.Tolerance))
	}
	d.sign(m, x, y)
	if m.Label != "" {
		d.put(`<text x="%g" y="%g" dy="-14" text-anchor="%s">%s</text>`, x, y, d.anchor(x), m.Label)
	}
	d.put("</%s>\n", element)
}

// anchor keeps words beside an upright line on the paper.
func (d *drawing) anchor(x float64) string {
	if x > (d.f.Left+d.f.Right)/2 {
		return "end"
	}
	return "start"
}

func (d *drawing) sign(m *Mark, x, y float64) {
	if m.Sign == '!' {
		d.put(`<path d="M%g %gm-6 5l6 -11l6 11z"/>`, x, y)
	} else {
		d.put(`<circle cx="%g" cy="%g" r="%g"/>`, x, y, m.Size)
	}
}

// names writes the names of lines behind their ends, apart from each other.
func (d *drawing) names() {
	const gap = 17
	type name struct {
		words, class string
		y            float64
	}
	var all []name
	for i := range d.c.Lines {
		if l := &d.c.Lines[i]; l.Name != "" {
			n := name{l.Name, "name", d.y(l.Points[len(l.Points)-1].Y)}
			if i == 0 {
				n.class += " main"
			}
			all = append(all, n)
		}
	}
	slices.SortStableFunc(all, func(a, b name) int { return cmp.Compare(a.y, b.y) })
	for i := 1; i < len(all); i++ {
		all[i].y = max(all[i].y, all[i-1].y+gap)
	}
	if n := len(all) - 1; n >= 0 && all[n].y > d.f.Bottom {
		all[n].y = d.f.Bottom
		for i := n - 1; i >= 0; i-- {
			all[i].y = min(all[i].y, all[i+1].y-gap)
		}
	}
	for _, n := range all {
		d.put(`<text class="%s" x="%g" dx="8" y="%g" dy="5">%s</text>`+"\n", n.class, d.f.Right, n.y, n.words)
	}
}
