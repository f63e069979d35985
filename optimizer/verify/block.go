package verify

import (
	"math"
	"slices"

	"loudfor/catalog"
	"loudfor/optimizer/build"
)

// The recheck of a block: drivers and boxes agree, fit each other, the space and
// the opening of the boot.

func (c *checker) block() {
	b := &c.b.Bass
	outside := catalog.Size3{}
	if b.Enclosure == nil {
		outside = b.Part.Loaded.Outside
		if c.count[b.Part.SKU] != b.Boxes || b.Drivers != b.Boxes*max(1, b.Part.Loaded.Box.Drivers) {
			c.fault("counts of loaded enclosures do not agree")
		}
	} else {
		s, e := b.Part.Subwoofer, b.Enclosure.Enclosure
		outside = e.Outside
		if c.count[b.Part.SKU] != b.Drivers || c.count[b.Enclosure.SKU] != b.Boxes || b.Drivers != b.Boxes*max(1, e.Box.Drivers) {
			c.fault("counts of drivers and boxes do not agree")
		}
		if math.Abs(s.Card.Size-e.Hole) > build.SizeTolerance {
			c.fault("the driver is not of the hole's size")
		}
		if !GoesInto(s.Cutout, e.Cutout) || !GoesInto(s.Depth, e.Depth) {
			c.fault("the driver does not go into the hole")
		}
	}
	if n := c.p.Brief.Drivers; n > 0 && b.Drivers > n || n <= 0 && b.Drivers > catalog.DefaultBrief().Drivers {
		c.fault("%d drivers are too many", b.Drivers)
	}
	if n := c.p.Brief.Boxes; n > 0 && b.Boxes > n || n <= 0 && b.Boxes > catalog.DefaultBrief().Boxes {
		c.fault("%d boxes are too many", b.Boxes)
	}
	space := c.p.Brief.Space
	if space == (catalog.Size3{}) {
		space = c.p.Vehicle.Space
	}
	if space != (catalog.Size3{}) && outside != (catalog.Size3{}) && !FitsInARow(outside, space, b.Boxes) {
		c.fault("the boxes do not fit the space")
	}
	if boot := c.p.Vehicle.Boot; boot != ([2]float64{}) && outside != (catalog.Size3{}) && !SlidesIn(outside, boot) {
		c.fault("a box does not go through the opening of the boot")
	}
}

// GoesInto says whether what needs a width or a depth goes into a hole or a box that
// has it, 0 where nobody says. At the tolerance to the digit (279 mm in 277) the sum
// and the difference round apart: what the search lets pass is no fault.
func GoesInto(need, has float64) bool {
	const rounding = 1e-9 // m
	return has == 0 || need-has <= build.CutTolerance+rounding
}

// SlidesIn compares the two shorter edges with the opening's, the shorter with
// the shorter.
func SlidesIn(box catalog.Size3, opening [2]float64) bool {
	b := []float64{box.Width, box.Depth, box.Height}
	slices.Sort(b)
	return b[0] <= min(opening[0], opening[1])+build.RoomTolerance && b[1] <= max(opening[0], opening[1])+build.RoomTolerance
}

// FitsInARow stretches the box along each of its own edges and compares sorted
// edges, which is the same as trying all positions.
func FitsInARow(box, space catalog.Size3, n int) bool {
	s := []float64{space.Width, space.Depth, space.Height}
	slices.Sort(s)
	for edge := range 3 {
		b := []float64{box.Width, box.Depth, box.Height}
		b[edge] *= float64(n)
		slices.Sort(b)
		if b[0] <= s[0]+build.RoomTolerance && b[1] <= s[1]+build.RoomTolerance && b[2] <= s[2]+build.RoomTolerance {
			return true
		}
	}
	return false
}
