package optimizer

import (
	"fmt"

	"loudfor/catalog"
)

// What a set of parts says of its block.

// remaining is what amplifier is left for the front when the bass has amp k
// times; fine is false when more than one piece is left.
func remaining(amps set, amp *item, k int) (own *item, fine bool) {
	for _, u := range amps {
		n := u.count
		if u.item == amp {
			n -= k
		}
		if n == 0 {
			continue
		}
		if n > 1 || own != nil {
			return nil, false
		}
		own = u.item
	}
	return own, true
}

// blockOf finds the bass block in a set of parts.
func (t *task) blockOf(parts set) (*group, *item, error) {
	by := parts.kinds()
	subs, boxes, loaded := by[catalog.KindSubwoofer], by[catalog.KindEnclosure], by[catalog.KindLoaded]
	switch {
	case len(loaded) == 1 && len(subs)+len(boxes) == 0:
		u := loaded[0]
		return &group{driver: u.item, boxes: u.count, holes: max(u.item.part.Loaded.Box.Drivers, 1)}, u.item, t.drivers[u.item].fault
	case len(subs) == 1 && len(boxes) == 1 && len(loaded) == 0:
		d, b := subs[0], boxes[0]
		holes := max(b.item.part.Enclosure.Box.Drivers, 1)
		if d.count != b.count*holes {
			return nil, nil, fmt.Errorf("%d x %s do not fill %d x %s, which has %d", d.count, d.item.part.SKU, b.count, b.item.part.SKU, b.count*holes)
		}
		return &group{driver: d.item, boxes: b.count, holes: holes}, b.item, t.drivers[d.item].fault
	}
	return nil, nil, errBlock
}

var errBlock = fmt.Errorf("a build has one kind of bass driver in one kind of box, or one kind of loaded enclosure")
