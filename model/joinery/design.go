package joinery

import (
	"fmt"
	"math"
)

// What is to be built, and the rules of the trade for it. All of these are
// common practice, no source: they keep a box stiff, a port open and a driver
// in its hole, and are no part of the prediction.

const (
	// thinnest is the least thickness in nominal diameters of the driver: 15
	// mm for 12 inches, 19 mm for 15.
	thinnest = 1 / 20.5

	// widestSpan is the most that a face is free between what holds it, the shorter
	// way, in thicknesses: 36 cm of 18 mm.
	widestSpan = 20

	// ringWidth is that of the wood of a ring brace, m.
	ringWidth = 0.05

	// edge is the wood left between a cutout and the nearest wall or brace, m.
	edge = 0.01

	// behind is the air left behind a driver's magnet, m.
	behind = 0.025

	// tubeWall is the thickness of a port tube, m.
	tubeWall = 0.004

	// narrowestSlot and widestSlot, m: less clogs with its own boundary
	// layers, more is no slot.
	narrowestSlot = 0.02
	widestSlot    = 0.15

	// terminalHole is the hole for a cup of terminals, m; the cup at hand decides.
	terminalHole = 0.05

	// shortestPanel is the least that can be held and screwed, m.
	shortestPanel = 0.02

	// fit lets pass what rounding makes too large, m.
	fit = 1e-9
)

// Frame, cutout and depth of a driver of which only the size is stated, in
// nominal diameters.
const (
	usualFrame  = 1.04
	usualCutout = 0.925
	usualDepth  = 0.55
)

// rim is how much wider than its cutout a driver's frame is, m.
const rim = 0.025

// Size is a width, depth and height in m.
type Size [3]float64

// Volume of the cuboid, m3.
func (s Size) Volume() float64 { return s[0] * s[1] * s[2] }

func (s Size) String() string {
	return fmt.Sprintf("%.4g x %.4g x %.4g cm", 100*s[0], 100*s[1], 100*s[2])
}

// Mount is what a driver needs of a box; 0: not stated, so usual for its size.
type Mount struct {
	Size         float64 // nominal diameter, m
	Cutout       float64 // diameter of the hole, m
	Depth        float64 // behind the outside of the front, m
	Displacement float64 // m3; 0: counted by package enclosure
}

// Hole is the diameter to cut, and whether it is assumed.
func (m Mount) Hole() (diameter float64, assumed bool) {
	if m.Cutout > 0 {
		return m.Cutout, false
	}
	return usualCutout * m.Size, true
}

// Frame is the outside diameter of the driver, m: nobody states it.
func (m Mount) Frame() float64 {
	hole, _ := m.Hole()
	return max(usualFrame*m.Size, hole+rim)
}

// Reach is how far the driver goes in, m, and whether it is assumed.
func (m Mount) Reach() (depth float64, assumed bool) {
	if m.Depth > 0 {
		return m.Depth, false
	}
	return usualDepth * m.Size, true
}

// clear is what the cutout takes between two walls, m.
func (m Mount) clear() float64 {
	hole, _ := m.Hole()
	return hole + 2*edge
}

// pitch is the room that each driver needs along the front, m.
func (d Design) pitch() float64 {
	if d.Drivers > 1 {
		return max(d.Mount.clear(), d.Mount.Frame())
	}
	return d.Mount.clear()
}

// Design is a box to be built: with Slot and Tube zero a sealed one.
type Design struct {
	Outside    Size
	Thickness  float64 // of the sheet
	Drivers    int
	Mount      Mount
	Slot       float64 // width of the slot port
	Tube       float64 // inside diameter of the round port
	PortLength float64 // along the middle, through the front
}

// Vented tells whether the box has a port.
func (d Design) Vented() bool { return d.Slot > 0 || d.Tube > 0 }

// marks is how finely a carpenter marks out, in steps a metre.
const marks = 1000

// Rounded is the design in whole millimetres outside and in the port, never
// larger outside: it still fits where the design did. Whole numbers are divided,
// so that the millimetres read from a file give the very same figures.
func (d Design) Rounded() Design {
	const hair = 1e-6 // of a mark, lost in arithmetic
	for i := range d.Outside {
		d.Outside[i] = math.Floor(d.Outside[i]*marks+hair) / marks
	}
	for _, v := range []*float64{&d.Slot, &d.Tube, &d.PortLength} {
		*v = math.Round(*v*marks) / marks
	}
	return d
}

// Inside is the outside less the walls.
func (d Design) Inside() Size {
	var s Size
	for i := range s {
		s[i] = d.Outside[i] - 2*d.Thickness
	}
	return s
}

// Error says which number of a design does not fit.
type Error struct {
	Quantity string  // for example "outside height"
	Value    float64 // m, or m3 of a volume
	Reason   string  // with the limit
	Lacks    float64 // how much of it is missing, where that is said; m
}

func (e *Error) Error() string {
	if e.Quantity == "volume" {
		return fmt.Sprintf("volume %.4g L: %s", 1000*e.Value, e.Reason)
	}
	return fmt.Sprintf("%s %s: %s", e.Quantity, cm(e.Value), e.Reason)
}

func cm(m float64) string { return fmt.Sprintf("%.4g cm", 100*m) }

// check finds what cannot be built by its numbers alone.
func (d Design) check() error {
	for i, name := range [...]string{"outside width", "outside depth", "outside height"} {
		if v := d.Outside[i]; !(v > 2*d.Thickness) || v > 10 {
			return &Error{Quantity: name, Value: v, Reason: fmt.Sprintf("must be more than two walls of %s and at most 10 m", cm(d.Thickness))}
		}
	}
	m := d.Mount
	if d.Drivers < 1 || !(m.Size > 0) || !(d.Thickness > 0) || m.Cutout < 0 || m.Depth < 0 || d.Slot < 0 || d.Tube < 0 || d.Slot > 0 && d.Tube > 0 {
		return fmt.Errorf("joinery: a design with %d drivers of %g m, %g m thick, cutout %g m, depth %g m, slot %g m, tube %g m cannot be",
			d.Drivers, m.Size, d.Thickness, m.Cutout, m.Depth, d.Slot, d.Tube)
	}
	if least := thinnest * m.Size; d.Thickness < least-fit {
		return &Error{Quantity: "thickness", Value: d.Thickness, Reason: fmt.Sprintf("too thin for a driver of %s, which takes %s", cm(m.Size), cm(least))}
	}
	in := d.Inside()
	if least := m.clear(); in[2] < least-fit {
		return &Error{Quantity: "inside height", Value: in[2], Reason: fmt.Sprintf("the driver's cutout takes %s", cm(least))}
	}
	if frame := m.Frame(); d.Outside[2] < frame-fit {
		return &Error{Quantity: "outside height", Value: d.Outside[2], Reason: fmt.Sprintf("the driver's frame takes %s", cm(frame))}
	}
	if short, most := min(in[1], in[2]), widestSpan*d.Thickness; short > most+fit {
		return &Error{Quantity: "inside depth and height", Value: short, Reason: fmt.Sprintf("sides that are %s thick stay stiff up to %s the shorter way: take a thicker sheet or a flatter box", cm(d.Thickness), cm(most))}
	}
	if d.Vented() && !(d.PortLength > 0) {
		return &Error{Quantity: "port length", Value: d.PortLength, Reason: "must be above zero"}
	}
	return nil
}
