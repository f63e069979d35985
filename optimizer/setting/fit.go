package setting

import (
	"math"

	"loudfor/catalog"
	"loudfor/optimizer/build"
)

// What fits where. A nominal size names a frame, so a 12-inch driver goes into
// a 12-inch hole and no other; beyond that a stated cutout or depth is checked
// when both sides state it, and what is not stated is taken to fit and said in
// the notes.

// FitsHole says whether a subwoofer goes into an enclosure's hole.
func FitsHole(s *catalog.Subwoofer, e *catalog.Enclosure) bool {
	if math.Abs(s.Card.Size-e.Hole) > build.SizeTolerance {
		return false
	}
	if s.Cutout > 0 && e.Cutout > 0 && s.Cutout > e.Cutout+build.CutTolerance {
		return false
	}
	if s.Depth > 0 && e.Depth > 0 && s.Depth > e.Depth+build.CutTolerance {
		return false
	}
	return s.Displacement*float64(max(e.Box.Drivers, 1)) < e.Box.Volume
}

// Passes says whether a box goes through an opening of a width and a height: with
// one of its faces ahead, and the edges of that along those of the opening.
// Tilted it may go through a little less; nobody should have to find out with
// paint on the bumper.
func Passes(box catalog.Size3, opening [2]float64) bool {
	if box == (catalog.Size3{}) || opening == ([2]float64{}) {
		return true
	}
	for _, face := range [6][2]float64{
		{box.Width, box.Height}, {box.Height, box.Width}, {box.Depth, box.Height},
		{box.Height, box.Depth}, {box.Width, box.Depth}, {box.Depth, box.Width},
	} {
		if face[0] <= opening[0]+build.RoomTolerance && face[1] <= opening[1]+build.RoomTolerance {
			return true
		}
	}
	return false
}

// FitsSpace says whether so many equal boxes fit a space, set down in a row:
// each in the same one of the six upright or lying positions, side by side
// along the width, the depth or the height. That is simple enough to check by
// hand and to build; a cleverer packing may exist.
func FitsSpace(box, space catalog.Size3, boxes int) bool {
	if box == (catalog.Size3{}) || space == (catalog.Size3{}) {
		return true
	}
	b := [3]float64{box.Width, box.Depth, box.Height}
	s := [3]float64{space.Width, space.Depth, space.Height}
	for _, turn := range [6][3]int{{0, 1, 2}, {0, 2, 1}, {1, 0, 2}, {1, 2, 0}, {2, 0, 1}, {2, 1, 0}} {
		for row := range 3 {
			fits := true
			for axis := range 3 {
				need := b[turn[axis]]
				if axis == row {
					need *= float64(boxes)
				}
				fits = fits && need <= s[axis]+build.RoomTolerance
			}
			if fits {
				return true
			}
		}
	}
	return false
}
