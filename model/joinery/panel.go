package joinery

import (
	"fmt"
	"math"
	"slices"
)

// Panels: what is cut, and where in the box it goes. The places make the list
// checkable: put together again, the panels have to enclose the volume that is
// said.

// Panel is one board of the box.
type Panel struct {
	Name          string
	Length, Width float64 // as cut, the longer first
	At, Extent    Size    // place of its lower left front corner, and edges along x, y, z
	Openings      []Opening
}

// Opening is a hole in a panel.
type Opening struct {
	Name     string
	Diameter float64    // 0: a rectangle
	Sides    [2]float64 // of a rectangle: along the panel's first and second axis
	// Centre along the two axes in which the panel lies (x and z of a front,
	// y and z of a ring), from the panel's own corner.
	Centre [2]float64
}

// Area of the opening, m2.
func (o Opening) Area() float64 {
	if o.Diameter > 0 {
		return math.Pi / 4 * o.Diameter * o.Diameter
	}
	return o.Sides[0] * o.Sides[1]
}

func (o Opening) String() string {
	if o.Diameter > 0 {
		return fmt.Sprintf("%s: %.4g mm across, centre %.4g mm from the left, %.4g mm up", o.Name, 1000*o.Diameter, 1000*o.Centre[0], 1000*o.Centre[1])
	}
	return fmt.Sprintf("%s: %.4g x %.4g mm, centre %.4g mm from the left, %.4g mm up", o.Name, 1000*o.Sides[0], 1000*o.Sides[1], 1000*o.Centre[0], 1000*o.Centre[1])
}

// Area of the board as cut, openings included, m2.
func (p Panel) Area() float64 { return p.Length * p.Width }

// Wood is the volume of the panel without its openings, m3.
func (p Panel) Wood() float64 {
	area := p.Area()
	for _, o := range p.Openings {
		area -= o.Area()
	}
	return area * p.Extent.Volume() / p.Area()
}

// board makes a panel of its place; one edge is the sheet's thickness, which need not
// be the shortest: a slot's fold may be narrower.
func (d Design) board(name string, at, extent Size, openings ...Opening) Panel {
	edges := slices.Sorted(slices.Values(extent[:]))
	sheet := slices.Index(edges, d.Thickness)
	edges = slices.Delete(edges, sheet, sheet+1)
	return Panel{Name: name, Length: edges[1], Width: edges[0], At: at, Extent: extent, Openings: openings}
}

// shell is the six outside panels, openings of the front left to the caller.
func (d Design) shell() []Panel {
	t, in, out := d.Thickness, d.Inside(), d.Outside
	return []Panel{
		d.board("front", Size{-t, -t, -t}, Size{out[0], t, out[2]}),
		d.board("back", Size{-t, in[1], -t}, Size{out[0], t, out[2]}),
		d.board("top", Size{-t, 0, in[2]}, Size{out[0], in[1], t}),
		d.board("bottom", Size{-t, 0, -t}, Size{out[0], in[1], t}),
		d.board("left side", Size{-t, 0, 0}, Size{t, in[1], in[2]}),
		d.board("right side", Size{in[0], 0, 0}, Size{t, in[1], in[2]}),
	}
}
