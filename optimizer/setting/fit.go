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
	for _, turn := range turns {
		for along := range 3 {
			if fits(row(box, turn, along, boxes), space) {
				return true
			}
		}
	}
	return false
}

// turns are the six positions of a box, upright and lying.
var turns = [6][3]int{{0, 1, 2}, {0, 2, 1}, {1, 0, 2}, {1, 2, 0}, {2, 0, 1}, {2, 1, 0}}

// row is what so many equal boxes take, side by side along one of the axes.
func row(box catalog.Size3, turn [3]int, along, boxes int) catalog.Size3 {
	b := [3]float64{box.Width, box.Depth, box.Height}
	size := [3]float64{b[turn[0]], b[turn[1]], b[turn[2]]}
	size[along] *= float64(boxes)
	return catalog.Size3{Width: size[0], Depth: size[1], Height: size[2]}
}

func fits(size, space catalog.Size3) bool {
	return size.Width <= space.Width+build.RoomTolerance && size.Depth <= space.Depth+build.RoomTolerance && size.Height <= space.Height+build.RoomTolerance
}

// Left is what a row of boxes leaves of a space for a pram.
type Left struct {
	Taken catalog.Size3 // by the row
	Free  catalog.Size3 // the largest block that is left beside, before or above it
	Where string        // which of them
}

// LeftOf sets the boxes down where they leave the largest block; ok is false where
// a size is not stated or they do not fit.
func LeftOf(box, space catalog.Size3, boxes int) (best Left, ok bool) {
	if box == (catalog.Size3{}) || space == (catalog.Size3{}) {
		return best, false
	}
	most := math.Inf(-1)
	for _, turn := range turns {
		for along := range 3 {
			taken := row(box, turn, along, boxes)
			if !fits(taken, space) {
				continue
			}
			for _, l := range [...]Left{
				{taken, catalog.Size3{Width: space.Width - taken.Width, Depth: space.Depth, Height: space.Height}, "beside"},
				{taken, catalog.Size3{Width: space.Width, Depth: space.Depth - taken.Depth, Height: space.Height}, "in front of"},
				{taken, catalog.Size3{Width: space.Width, Depth: space.Depth, Height: space.Height - taken.Height}, "above"},
			} {
				// Rounding must not decide between positions that are alike.
				volume := math.Round(l.Free.Width*l.Free.Depth*l.Free.Height*1e9) / 1e9
				if volume > most {
					best, most, ok = l, volume, true
				}
			}
		}
	}
	return best, ok
}
