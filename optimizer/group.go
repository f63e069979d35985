package optimizer

import (
	"cmp"
	"slices"

	"loudfor/catalog"
	"loudfor/model/bass"
	"loudfor/model/enclosure"
	"loudfor/optimizer/build"
	"loudfor/optimizer/setting"
)

// A bass block is so many drivers in so many equal boxes. Blocks that differ
// only in the box form a group, the unit in which the search hands out work:
// one subwoofer, a number of boxes, and a number of holes in each; the boxes
// that have a hole of its size stand in the group by price. A loaded enclosure
// is a group of its own.

// group is one driver in a number of boxes to choose from.
type group struct {
	driver       *item // subwoofer or loaded enclosure
	boxes        int
	holes        int      // drivers in each box
	housing      []*item  // cheapest first for this many boxes; for a loaded enclosure itself alone
	costs        []int64  // of the housings, each for all boxes
	list         *holed   // where they are from
	targets      *targets // of the housings; nil: not kept
	displacement float64  // of one driver in its box, m3

	class   *class
	mouth   bass.Mouth    // the widest of the housings
	ceiling build.Level   // proven: no block of the group is louder
	floor   int64         // nor any build with one cheaper
	entry   int64         // for music: about where, at the cheapest, it could reach its ceiling
	lids    []build.Level // on a ladder: the ceilings by the treads of the class
}

func (g *group) drivers() int { return g.boxes * g.holes }

func (g *group) loaded() bool { return g.driver.part.Kind == catalog.KindLoaded }

// uses is what the block with one of the housings is made of.
func (g *group) uses(box *item) (driver, housing use) {
	if g.loaded() {
		return use{g.driver, g.boxes}, use{}
	}
	return use{g.driver, g.drivers()}, use{box, g.boxes}
}

// price of the block with one of the housings.
func (g *group) price(box *item) int64 {
	if g.loaded() {
		return g.base()
	}
	return g.base() + box.Lower(g.boxes)
}

// base is the price of the block without its housings.
func (g *group) base() int64 {
	if g.loaded() {
		return g.driver.Lower(g.boxes)
	}
	return g.driver.Lower(g.drivers())
}

// blockMusts says whether a block holds all that must be in it.
func (t *task) blockMusts(g *group, box *item) bool {
	d, h := g.uses(box)
	for _, it := range t.musts {
		switch it.part.Kind {
		case catalog.KindSubwoofer, catalog.KindEnclosure, catalog.KindLoaded:
			if (it != d.item || d.count < it.must) && (it != h.item || h.count < it.must) {
				return false
			}
		}
	}
	return true
}

// blockFits checks the hole; what the car has no room for is in no group.
func (t *task) blockFits(g *group, box *item) bool {
	return g.loaded() || setting.FitsHole(g.driver.part.Subwoofer, box.part.Enclosure)
}

func (t *task) fitsRoom(outside catalog.Size3, boxes int) bool {
	return (t.Relaxed.Space || setting.FitsSpace(outside, t.Space, boxes)) && (t.Relaxed.Boot || setting.Passes(outside, t.Vehicle.Boot))
}

// groups lists all groups worth opening, and books every other block.
func (t *task) groups(books *tally) []*group {
	subs, boxes, loaded := t.shelf.kinds[catalog.KindSubwoofer], t.shelf.kinds[catalog.KindEnclosure], t.shelf.kinds[catalog.KindLoaded]
	pairs := t.pairSlots()
	drop := func(r Reason, blocks int) { books.pairs[r] += uint64(blocks) * pairs }

	byHole := t.housings(boxes)
	var all []*group
	for _, sub := range subs {
		if !sub.offered() || t.drivers[sub].fault != nil {
			drop(DropNotOffered, len(boxes)*t.Brief.Boxes)
			continue
		}
		for m := 1; m <= t.Brief.Boxes; m++ {
			rest := len(boxes)
			for _, h := range byHole {
				if !sameSize(h.size, sub.part.Subwoofer.Card.Size) {
					continue
				}
				rest -= len(h.items[m-1]) + h.short[m-1]
				drop(DropNotOffered, h.short[m-1])
				n := m * h.holes
				switch {
				case n > t.Brief.Drivers:
					drop(DropFit, len(h.items[m-1]))
				case n > sub.most:
					drop(DropNotOffered, len(h.items[m-1]))
				case len(h.items[m-1]) > 0:
					all = append(all, &group{driver: sub, boxes: m, holes: h.holes, housing: h.items[m-1], costs: h.costs[m-1], list: h, displacement: t.displacement(sub), class: t.class(sub, n)})
				}
			}
			drop(DropFit, rest)
		}
	}
	for _, it := range loaded {
		for m := 1; m <= t.Brief.Boxes; m++ {
			holes := max(it.part.Loaded.Box.Drivers, 1)
			switch {
			case m > it.most || t.drivers[it].fault != nil:
				drop(DropNotOffered, 1)
			case m*holes > t.Brief.Drivers || !t.fitsRoom(it.part.Loaded.Outside, m):
				drop(DropFit, 1)
			default:
				all = append(all, &group{driver: it, boxes: m, holes: holes, housing: []*item{it}, costs: []int64{0}, class: t.class(it, m*holes)})
			}
		}
	}
	return all
}

// displacement is the volume that a subwoofer takes up in its box, m3.
func (t *task) displacement(sub *item) float64 {
	if v := sub.part.Subwoofer.Displacement; v > 0 {
		return v
	}
	return enclosure.Displacement(t.drivers[sub].driver.Size)
}

func sameSize(a, b float64) bool { return a-b <= build.SizeTolerance && b-a <= build.SizeTolerance }

// holed are the enclosures of one hole size and number of holes.
type holed struct {
	size  float64
	holes int
	items [][]*item // for 1, 2 ... boxes: those to be had that the car has room for, cheapest first
	costs [][]int64 // what each then costs, in their order
	short []int     // for 1, 2 ... boxes: how many are not to be had
}

func (t *task) housings(boxes []*item) []*holed {
	var all []*holed
	for _, it := range boxes {
		e := it.part.Enclosure
		holes := max(e.Box.Drivers, 1)
		at := slices.IndexFunc(all, func(h *holed) bool { return h.size == e.Hole && h.holes == holes })
		if at < 0 {
			at = len(all)
			all = append(all, &holed{size: e.Hole, holes: holes,
				items: make([][]*item, t.Brief.Boxes), costs: make([][]int64, t.Brief.Boxes), short: make([]int, t.Brief.Boxes)})
		}
		for m := range t.Brief.Boxes {
			switch {
			case it.most <= m:
				all[at].short[m]++
			case t.fitsRoom(e.Outside, m+1):
				all[at].items[m] = append(all[at].items[m], it)
			}
		}
	}
	for _, h := range all {
		for m, list := range h.items {
			slices.SortStableFunc(list, func(a, b *item) int { return cmp.Compare(a.Lower(m+1), b.Lower(m+1)) })
			h.costs[m] = make([]int64, len(list))
			for i, it := range list {
				h.costs[m][i] = it.Lower(m + 1)
			}
		}
	}
	return all
}
