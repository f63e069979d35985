package cabin

import (
	"fmt"
	"math"
)

// Point is a place in the cavity, m: X from the front (the firewall behind the
// dash) to the rear, Y from the left side to the right, Z from the floor up.
type Point struct{ X, Y, Z float64 }

// Patch is a rectangle (or a box, a line, a point) that moves or listens as
// one: a cone, the mouth of a box, one tile of a window. Size is its extent
// along the three axes, m; a flat piston has one extent of zero.
type Patch struct{ Center, Size Point }

// Source is what moves the air: a Point or a Patch.
type Source interface {
	// block gives the rectangle of air that moves.
	block() Patch
}

func (p Patch) block() Patch { return p }

// block makes a point the square piston that stands for it, facing along the
// car: a point has no self-impedance, a cone has.
func (p Point) block() Patch { return Piston(p, defaultSourceArea) }

// defaultSourceArea is the effective area of a 12-inch cone, m2 (common
// practice, no source: 0.048 to 0.053).
const defaultSourceArea = 0.05

// Piston is the square of the given area, m2, facing along the car with its
// middle at p: the stand-in for a cone or for the mouth of a box.
func Piston(p Point, area float64) Patch {
	side := math.Sqrt(math.Max(area, 0))
	return Patch{Center: p, Size: Point{Y: side, Z: side}}
}

// Wall is one of the six sides of the cavity.
type Wall int

// The six walls.
const (
	Front Wall = iota
	Rear
	Left
	Right
	Floor
	Roof
)

var wallNames = [...]string{"front", "rear", "left", "right", "floor", "roof"}

// String names the wall in lower case.
func (w Wall) String() string {
	if w < 0 || int(w) >= len(wallNames) {
		return fmt.Sprintf("wall %d", int(w))
	}
	return wallNames[w]
}

func (w Wall) known() bool { return w >= Front && w <= Roof }

// normal is the axis that the wall stands across: 0, 1, 2 for X, Y, Z.
func (w Wall) normal() int { return int(w) / 2 }

// far says that the wall stands at the full length of its axis, not at zero.
func (w Wall) far() bool { return w%2 == 1 }

// plane gives the two axes that lie in the wall, in the order of U and V.
func (w Wall) plane() (u, v int) {
	switch w.normal() {
	case 0:
		return 1, 2
	case 1:
		return 0, 2
	default:
		return 0, 1
	}
}

// Opening is a rectangular hole in a wall: an open window, door or hatch.
// U and V are the corner nearest the axes' zero, Width runs along U and Height
// along V, all in m. U and V are X and Z on the left and right walls, Y and Z
// on the front and rear walls, X and Y on the floor and the roof.
type Opening struct {
	Wall                Wall
	U, V, Width, Height float64
	Leaf                Leaf // that hangs on it; none: a window
}

// Area is the free area of the opening, m2.
func (o Opening) Area() float64 { return o.Width * o.Height }

func (o Opening) overlaps(p Opening) bool {
	return o.Wall == p.Wall &&
		o.U < p.U+p.Width-touch && p.U < o.U+o.Width-touch &&
		o.V < p.V+p.Height-touch && p.V < o.V+o.Height-touch
}

// String describes the opening for messages.
func (o Opening) String() string {
	return fmt.Sprintf("opening of %g x %g m at (%g, %g) in the %s wall",
		o.Width, o.Height, o.U, o.V, o.Wall)
}

// touch is the slack, m, within which edges count as touching rather than
// overlapping or sticking out: dimensions arrive rounded and scaled.
const touch = 1e-9

// axes gives the coordinates in the order of the axis numbers.
func (p Point) axes() [3]float64 { return [3]float64{p.X, p.Y, p.Z} }

func finite(x float64) bool { return !math.IsNaN(x) && !math.IsInf(x, 0) }

// String writes the point as the files do, "1.2 x 0.4 x 0.9 m".
func (p Point) String() string { return fmt.Sprintf("%g x %g x %g m", p.X, p.Y, p.Z) }
