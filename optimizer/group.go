package optimizer

import (
	"cmp"
	"slices"

	"loudfor/catalog"
	"loudfor/model/bass"
	"loudfor/optimizer/build"
	"loudfor/optimizer/drive"
	"loudfor/optimizer/pricing"
)

// Blocks that differ only in the box form a group, the unit in which the search hands
// out work:
// one subwoofer, a number of boxes, and a number of holes in each; the boxes
// that have a hole of its size stand in the group by price. A loaded enclosure
// is a group of its own.

// group is one driver in a number of boxes to choose from.
type group struct {
	drive.Block
	housing      []*pricing.Item // cheapest first for this many boxes; for a loaded enclosure itself alone
	costs        []int64         // of the housings, each for all boxes
	list         *holed          // where they are from
	targets      *targets        // of the housings; nil: not kept
	displacement float64         // of one driver in its box, m3

	class   *drive.CoilLoad
	opening bass.Mouth    // the widest of the housings
	ceiling build.Level   // proven: no block of the group is louder
	floor   int64         // nor any build with one cheaper
	entry   int64         // for music: about where, at the cheapest, it could reach its ceiling
	lids    []build.Level // on a ladder: the ceilings by the treads of the class
}

// groups lists all groups worth opening, and books every other block.
func (t *task) groups(books *ledger) []*group {
	subs, boxes, loaded := t.Shelf.Kinds[catalog.KindSubwoofer], t.Shelf.Kinds[catalog.KindEnclosure], t.Shelf.Kinds[catalog.KindLoaded]
	pairs := t.ChoiceSlots()
	drop := func(r Reason, blocks int) { books.pairs[r] += uint64(blocks) * pairs }

	byHole := t.housings(boxes)
	var all []*group
	for _, sub := range subs {
		if !sub.Offered() || t.Drivers[sub].Fault != nil || t.Problem.Aside != nil && t.Problem.Aside(build.Core{Driver: sub.Part}) >= build.NoAside {
			drop(DropNotOffered, len(boxes)*t.Brief.Boxes)
			continue
		}
		for m := 1; m <= t.Brief.Boxes; m++ {
			rest := len(boxes)
			for _, h := range byHole {
				if !sameSize(h.size, sub.Part.Subwoofer.Card.Size) {
					continue
				}
				rest -= len(h.items[m-1]) + h.short[m-1]
				drop(DropNotOffered, h.short[m-1])
				n := m * h.holes
				switch {
				case n > t.Brief.Drivers:
					drop(DropFit, len(h.items[m-1]))
				case n > sub.Most:
					drop(DropNotOffered, len(h.items[m-1]))
				case len(h.items[m-1]) > 0:
					all = append(all, &group{Block: drive.Block{Driver: sub, Boxes: m, Holes: h.holes}, housing: h.items[m-1], costs: h.costs[m-1], list: h, displacement: t.Displacement(sub), class: t.Load(sub, n)})
				}
			}
			drop(DropFit, rest)
		}
	}
	for _, it := range loaded {
		for m := 1; m <= t.Brief.Boxes; m++ {
			holes := max(it.Part.Loaded.Box.Drivers, 1)
			switch {
			case m > it.Most || t.Drivers[it].Fault != nil:
				drop(DropNotOffered, 1)
			case m*holes > t.Brief.Drivers || !t.FitsRoom(it.Part.Loaded.Outside, m):
				drop(DropFit, 1)
			default:
				all = append(all, &group{Block: drive.Block{Driver: it, Boxes: m, Holes: holes}, housing: []*pricing.Item{it}, costs: []int64{0}, class: t.Load(it, m*holes)})
			}
		}
	}
	return all
}

func sameSize(a, b float64) bool { return a-b <= build.SizeTolerance && b-a <= build.SizeTolerance }

// holed are the enclosures of one hole size and number of holes.
type holed struct {
	size  float64
	holes int
	items [][]*pricing.Item // for 1, 2 ... boxes: those to be had that the car has room for, cheapest first
	costs [][]int64         // what each then costs, in their order
	short []int             // for 1, 2 ... boxes: how many are not to be had
}

func (t *task) housings(boxes []*pricing.Item) []*holed {
	var all []*holed
	for _, it := range boxes {
		e := it.Part.Enclosure
		holes := max(e.Box.Drivers, 1)
		at := slices.IndexFunc(all, func(h *holed) bool { return h.size == e.Hole && h.holes == holes })
		if at < 0 {
			at = len(all)
			all = append(all, &holed{size: e.Hole, holes: holes,
				items: make([][]*pricing.Item, t.Brief.Boxes), costs: make([][]int64, t.Brief.Boxes), short: make([]int, t.Brief.Boxes)})
		}
		for m := range t.Brief.Boxes {
			switch {
			case it.Most <= m:
				all[at].short[m]++
			case t.FitsRoom(e.Outside, m+1):
				all[at].items[m] = append(all[at].items[m], it)
			}
		}
	}
	for _, h := range all {
		for m, list := range h.items {
			slices.SortStableFunc(list, func(a, b *pricing.Item) int { return cmp.Compare(a.Lower(m+1), b.Lower(m+1)) })
			h.costs[m] = make([]int64, len(list))
			for i, it := range list {
				h.costs[m][i] = it.Lower(m + 1)
			}
		}
	}
	return all
}
