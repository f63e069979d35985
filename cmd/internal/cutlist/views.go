package cutlist

import (
	"fmt"
	"html"
	"math"
	"strings"

	"loudfor/model/joinery"
	"loudfor/optimizer/workshop"
)

// The box as it will be: its front with all cutouts, measured from the left lower
// corner, and all panels in their places, seen from the right above. The second is an
// oblique projection: fronts are to scale, depths are drawn at oblique of theirs, and what
// is inside is dashed.

const (
	oblique  = 0.4  // of a depth, along both axes of the paper
	viewGap  = 260  // between the views, and to the left of the first, mm
	viewText = 38.0 // height of letters, mm
)

// views draws both with their upper edges at top, and tells how wide and how far down
// they are.
func views(out *strings.Builder, b *workshop.Box, top float64) (wide, high float64) {
	d := b.Joinery.Design
	w, deep, h := 1000*d.Outside[0], 1000*d.Outside[1], 1000*d.Outside[2]
	lift := oblique * deep
	v := view{out, viewGap, top + 2*viewText + lift + h}
	v.caption("front", v.x+w/2, top+lift+viewText)
	v.front(b.Joinery)
	v.x += w + viewGap
	v.caption("put together", v.x+w/2, top+viewText*0.8)
	v.assembled(b)
	return v.x + w + lift + svgMargin, v.floor - top + 3*viewText
}

// view is a drawing whose left lower front corner lies at x and floor.
type view struct {
	out      *strings.Builder
	x, floor float64
}

func (v view) caption(text string, x, y float64) {
	fmt.Fprintf(v.out, `<text class="view" x="%s" y="%s" font-size="%s" text-anchor="middle">%s</text>`+"\n", short(x), short(y), short(viewText), html.EscapeString(text))
}

func (v view) words(text string, x, y, size float64, turn bool) {
	rotate := ""
	if turn {
		rotate = fmt.Sprintf(` transform="rotate(-90 %s %s)"`, short(x), short(y))
	}
	fmt.Fprintf(v.out, `<text class="view" x="%s" y="%s" font-size="%s" text-anchor="middle" dominant-baseline="central"%s>%s</text>`+"\n", short(x), short(y), short(size), rotate, html.EscapeString(text))
}

func (v view) line(points [][2]float64, style string) {
	var at []string
	for _, p := range points {
		at = append(at, short(p[0])+","+short(p[1]))
	}
	fmt.Fprintf(v.out, `<polygon points="%s" fill="none" stroke="#000" %s/>`+"\n", strings.Join(at, " "), style)
}

const solid, dashed = `stroke-width="4"`, `stroke-width="2" stroke-dasharray="10 8"`

// front is the front panel with its cutouts.
func (v view) front(j *joinery.Box) {
	w, h := 1000*j.Design.Outside[0], 1000*j.Design.Outside[2]
	v.line([][2]float64{{v.x, v.floor}, {v.x + w, v.floor}, {v.x + w, v.floor - h}, {v.x, v.floor - h}}, solid)
	v.words(mm(j.Design.Outside[0]), v.x+w/2, v.floor+viewText, viewText, false)
	v.words(mm(j.Design.Outside[2]), v.x-viewText, v.floor-h/2, viewText, true)
	for _, o := range j.Panels[0].Openings {
		x, y := v.x+1000*o.Centre[0], v.floor-1000*o.Centre[1]
		if o.Diameter > 0 {
			fmt.Fprintf(v.out, `<circle class="cut" cx="%s" cy="%s" r="%s" fill="#eee" stroke="#000" stroke-width="3"/>`+"\n", short(x), short(y), short(500*o.Diameter))
			v.words(mm(o.Diameter), x, y, min(viewText, 1000*o.Diameter/4), false)
			continue
		}
		cw, ch := 1000*o.Sides[0], 1000*o.Sides[1]
		fmt.Fprintf(v.out, `<rect class="cut" x="%s" y="%s" width="%s" height="%s" fill="#eee" stroke="#000" stroke-width="3"/>`+"\n", short(x-cw/2), short(y-ch/2), short(cw), short(ch))
		v.words(mm(o.Sides[0])+" x "+mm(o.Sides[1]), x, y, min(viewText, 0.8*math.Min(cw, ch)), ch > cw)
	}
}

// assembled is every panel where it goes, with its mark.
func (v view) assembled(b *workshop.Box) {
	j := b.Joinery
	t := j.Design.Thickness
	_, marks := rowsOf(j.Panels)
	at := func(x, y, z float64) [2]float64 {
		back := oblique * (y + t)
		return [2]float64{v.x + 1000*(x+t+back), v.floor - 1000*(z+t+back)}
	}
	for i, p := range j.Panels {
		a, e := p.At, p.Extent
		x0, y0, z0, x1, y1, z1 := a[0], a[1], a[2], a[0]+e[0], a[1]+e[1], a[2]+e[2]
		style := dashed
		if p.Name == "front" || p.Name == "top" || p.Name == "right side" {
			style = solid
		}
		for _, face := range [][4][3]float64{
			{{x0, y0, z0}, {x1, y0, z0}, {x1, y0, z1}, {x0, y0, z1}}, // ahead
			{{x0, y0, z1}, {x1, y0, z1}, {x1, y1, z1}, {x0, y1, z1}}, // above
			{{x1, y0, z0}, {x1, y1, z0}, {x1, y1, z1}, {x1, y0, z1}}, // at the right
		} {
			var points [][2]float64
			for _, c := range face {
				points = append(points, at(c[0], c[1], c[2]))
			}
			v.line(points, style)
		}
		// Where the panel shows most of itself.
		m := at((x0+x1)/2, (y0+y1)/2, (z0+z1)/2)
		v.words(marks[i], m[0], m[1], viewText, false)
	}
}
