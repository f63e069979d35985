package cabin

import (
	"testing"

	"loudfor/model/air"
)

// A patch may reach from wall to wall, wherever its middle is, and not beyond.
func TestPatchReachesTheWalls(t *testing.T) {
	c := Cavity{Length: 2.4, Width: 1.36, Height: 1.12, Air: air.At(20)}
	for name, p := range map[string]Patch{
		"all of it":   {Point{1.2, 0.68, 0.56}, Point{2.4, 1.36, 1.12}},
		"from a wall": {Point{0.2, 0.68, 1.07}, Point{0.4, 0.3, 0.1}},
		"a point":     {Point{0, 0, 1.12}, Point{}},
	} {
		if err := c.checkPatch(p); err != nil {
			t.Errorf("%s: %v", name, err)
		}
	}
	for name, p := range map[string]Patch{
		"too long":     {Point{1.2, 0.68, 0.56}, Point{2.41, 0.1, 0.1}},
		"below":        {Point{1, 0.5, 0.1}, Point{0.1, 0.1, 0.21}},
		"behind":       {Point{2.3, 0.5, 0.5}, Point{0.21, 0, 0}},
		"beside, left": {Point{1, 0.1, 0.5}, Point{0, 0.21, 0}},
		"turned over":  {Point{1, 0.5, 0.5}, Point{0, -0.1, 0}},
	} {
		if err := c.checkPatch(p); err == nil {
			t.Errorf("%s: %v is in the cabin", name, p)
		}
	}
}
