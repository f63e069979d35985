package optimizer

import (
	"fmt"

	"loudfor/catalog"
	"loudfor/optimizer/setting"
)

// By how many millimetres boxes miss the space, and the opening of the boot.

var sideNames = [3]string{"width", "depth", "height"}

// moreRoom makes one side of the space larger; where that is not enough, all
// that need be.
func (c *conflictSearch) moreRoom(dropped []int) (fixes []Fix) {
	space := c.p.Brief.Space
	if space == (catalog.Size3{}) {
		space = c.p.Vehicle.Space
	}
	larger := func(by [3]int) catalog.Size3 {
		return catalog.Size3{Width: space.Width + float64(by[0])/millimetres, Depth: space.Depth + float64(by[1])/millimetres, Height: space.Height + float64(by[2])/millimetres}
	}
	for _, by := range stretches([]int{0, 1, 2}, func(by [3]int) bool {
		return c.can(dropped, func(p *Problem, _ *setting.Relaxation) { p.Brief.Space = larger(by) })
	}) {
		fixes = append(fixes, Fix{Words: stretchWords(by, ""), Space: larger(by)})
	}
	return fixes
}

// largerBoot says what the opening of the boot lacks. Nobody saws a car open;
// but whoever knows that 8 mm are missing takes the trim off.
func (c *conflictSearch) largerBoot(dropped []int) (fixes []Fix) {
	boot := c.p.Vehicle.Boot
	larger := func(by [3]int) [2]float64 {
		return [2]float64{boot[0] + float64(by[0])/millimetres, boot[1] + float64(by[2])/millimetres}
	}
	for _, by := range stretches([]int{0, 2}, func(by [3]int) bool {
		return c.can(dropped, func(p *Problem, _ *setting.Relaxation) { p.Vehicle.Boot = larger(by) })
	}) {
		fixes = append(fixes, Fix{Words: stretchWords(by, " of the boot's opening"), Boot: larger(by)})
	}
	return fixes
}

// stretches are the least amounts, mm, of each side alone that will do; where
// none will by itself, one amount of all sides, each as little as the others
// then allow.
func stretches(sides []int, will func(by [3]int) bool) (all [][3]int) {
	for _, side := range sides {
		n, ok := least(1, mostRoom, func(n int) bool {
			var by [3]int
			by[side] = n
			return will(by)
		})
		if ok {
			var by [3]int
			by[side] = n
			all = append(all, by)
		}
	}
	if len(all) > 0 {
		return all
	}
	var by [3]int
	for _, side := range sides {
		by[side] = mostRoom
	}
	if !will(by) {
		return nil
	}
	for _, side := range sides {
		by[side], _ = least(0, mostRoom, func(n int) bool {
			try := by
			try[side] = n
			return will(try)
		})
	}
	return [][3]int{by}
}

func stretchWords(by [3]int, of string) string {
	var words []string
	for side, n := range by {
		if n > 0 {
			words = append(words, fmt.Sprintf("%d mm more %s", n, sideNames[side]))
		}
	}
	return list(words) + of
}
