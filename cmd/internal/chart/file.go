package chart

import "slices"

// fileStyle is the look of a drawing that stands alone, on paper: dark on
// light, in the colours of the page.
const fileStyle = `text { fill: #1d1a16; font: 15px "DejaVu Sans", Verdana, Arial, sans-serif; }
text.title { font-weight: 700; font-size: 17px; }
.grid text, text.axis { fill: #5d564b; font-size: 14px; }
.grid path { stroke: #d8d0c1; fill: none; }
.curve, .stairs { fill: none; stroke: #1d1a16; stroke-width: 2.5; }
.band { fill: #e4ddd0; }
.shade { stroke: #fff; }
text.letter { font-weight: 700; }
.limit-v { fill: #e6c9ae; } .limit-a { fill: #cdd9b4; } .limit-s { fill: #bcd6dc; } .limit-t { fill: #d9cbe6; }
.limit-h { fill: #efc3bd; } .limit-p { fill: #c6cfe6; } .limit-o { fill: #f1ece1; }
.step circle { fill: #1d1a16; } .step path { fill: #6f4300; stroke: #fff; }
.measured circle { fill: #fff; stroke: #7a3208; stroke-width: 2; } .whisker { fill: none; stroke: #7a3208; stroke-width: 1.5; }
path.rule { stroke: #7a3208; stroke-width: 1.5; } text.rule { fill: #7a3208; }
`

// The usual width of a page's text, and a legend in two columns below.
const (
	fileWidth  = 860
	fieldTop   = 84
	fieldEnd   = 420
	legendTop  = 500
	legendLine = 24
)

// File draws the chart as a picture of its own, with its title, the names of
// the axes and a legend.
func File(c *Chart) []byte {
	d := newDrawing(c, Frame{Width: fileWidth, Left: 60, Right: 836, Top: fieldTop, Bottom: fieldEnd})
	d.field()
	d.put(`<text class="title" x="430" y="28" text-anchor="middle">%s</text>`+"\n", c.Title)
	d.put(`<text class="axis" x="14" y="62">%s</text>`+"\n", c.Y.Label)
	d.put(`<text class="axis" x="448" y="%d" text-anchor="middle">%s</text>`+"\n", fieldEnd+46, c.X.Label)
	entries := d.legend()
	height := legendTop + (entries+1)/2*legendLine - 10
	out := &drawing{}
	out.put(`<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 %d %d" width="180mm" height="%gmm" role="img">`+"\n<title>%s</title>\n<style>\n",
		fileWidth, height, tenth(180*float64(height)/fileWidth), c.Title)
	out.WriteString(fileStyle + "</style>\n" + d.String() + "</svg>\n")
	return []byte(out.String())
}

// legend says what is what, and gives the number of entries.
func (d *drawing) legend() (n int) {
	var known []string
	entry := func(words string, draw func(x, y float64)) {
		if words == "" || slices.Contains(known, words) {
			return
		}
		x, y := 60+390*float64(n%2), float64(legendTop+n/2*legendLine)
		draw(x+15, y-5)
		d.put(`<text x="%g" y="%g">%s</text>`+"\n", x+38, y, words)
		known = append(known, words)
		n++
	}
	for i := range d.c.Lines {
		l := &d.c.Lines[i]
		entry(l.Name, func(x, y float64) { d.put(`<path class="%s" d="M%g %gh30"/>`, l.Class, x-15, y) })
		for _, k := range l.Of {
			entry(d.c.Kinds+k.Name, func(x, y float64) {
				d.put(`<rect class="%s" x="%g" y="%g" width="30" height="18"/><text class="letter" x="%g" y="%g" text-anchor="middle">%s</text>`, k.Class, x-15, y-9, x, y+5, string(k.Letter))
			})
		}
	}
	if len(d.c.Band.Low) > 0 {
		entry(d.c.Band.Name, func(x, y float64) { d.put(`<rect class="band" x="%g" y="%g" width="30" height="18"/>`, x-15, y-9) })
	}
	for i := range d.c.Marks {
		m := &d.c.Marks[i]
		entry(m.Name, func(x, y float64) {
			d.put(`<g class="%s">`, m.Class)
			d.sign(m, x, y)
			d.WriteString("</g>")
		})
	}
	return n
}
