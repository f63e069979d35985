package optimizer

import (
	"fmt"

	"loudfor/catalog"
	"loudfor/optimizer/drive"
	"loudfor/optimizer/pricing"
)

// What a set of parts says of its block.

// remaining is what amplifier is left for the front when the bass has amp k
// times; fine is false when more than one piece is left.
func remaining(amps pricing.Set, amp *pricing.Item, k int) (own *pricing.Item, fine bool) {
	for _, u := range amps {
		n := u.Count
		if u.Item == amp {
			n -= k
		}
		if n == 0 {
			continue
		}
		if n > 1 || own != nil {
			return nil, false
		}
		own = u.Item
	}
	return own, true
}

// blockOf finds the bass block in a set of parts.
func (t *task) blockOf(parts pricing.Set) (*drive.Block, *pricing.Item, error) {
	by := parts.Kinds()
	subs, boxes, loaded := by[catalog.KindSubwoofer], by[catalog.KindEnclosure], by[catalog.KindLoaded]
	switch {
	case len(loaded) == 1 && len(subs)+len(boxes) == 0:
		u := loaded[0]
		return &drive.Block{Driver: u.Item, Boxes: u.Count, Holes: max(u.Item.Part.Loaded.Box.Drivers, 1)}, u.Item, t.Drivers[u.Item].Fault
	case len(subs) == 1 && len(boxes) == 1 && len(loaded) == 0:
		d, b := subs[0], boxes[0]
		holes := max(b.Item.Part.Enclosure.Box.Drivers, 1)
		if d.Count != b.Count*holes {
			return nil, nil, fmt.Errorf("%d x %s do not fill %d x %s, which has %d", d.Count, d.Item.Part.SKU, b.Count, b.Item.Part.SKU, b.Count*holes)
		}
		return &drive.Block{Driver: d.Item, Boxes: b.Count, Holes: holes}, b.Item, t.Drivers[d.Item].Fault
	}
	return nil, nil, errBlock
}

var errBlock = fmt.Errorf("a build has one kind of bass driver in one kind of box, or one kind of loaded enclosure")
