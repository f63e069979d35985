package program

import (
	"cmp"
	"slices"

	"loudfor/catalog"
	"loudfor/model/bass"
	"loudfor/model/enclosure"
	"loudfor/optimizer/pricing"
	"loudfor/optimizer/setting"
)

// Bass blocks and choices of bass amplifiers, as far as fit, shelf and cap go.

// floorOfRest is the least that source and pair cost.
func (f *formulation) floorOfRest() int64 {
	if len(f.sources) == 0 || len(f.pairs) == 0 {
		return pricing.Boundless
	}
	source, pair := pricing.Boundless, pricing.Boundless
	for _, it := range f.sources {
		source = min(source, it.Lower(1))
	}
	for _, c := range f.pairs {
		pair = min(pair, c.Price())
	}
	return source + pair
}

func (f *formulation) listBlocks(rest int64) {
	t := f.t
	add := func(b block, box enclosure.Box, outside catalog.Size3, displacement float64) {
		holes := max(box.Drivers, 1)
		b.drivers = b.boxes * holes
		if b.drivers > t.Brief.Drivers || !t.FitsRoom(outside, b.boxes) {
			return
		}
		uses := []pricing.Use{{Item: b.driver, Count: b.boxes}}
		if b.box != nil {
			uses = []pricing.Use{{Item: b.driver, Count: b.drivers}, {Item: b.box, Count: b.boxes}}
		}
		for _, u := range uses {
			if u.Count > u.Item.Most {
				return
			}
			b.cost += u.Item.List(u.Count)
			b.least += u.Item.Lower(u.Count)
			b.worth += worthOf(u.Item, u.Count)
		}
		for _, m := range t.Musts {
			switch m.Part.Kind {
			case catalog.KindSubwoofer, catalog.KindEnclosure, catalog.KindLoaded:
				if !slices.ContainsFunc(uses, func(u pricing.Use) bool { return u.Item == m && u.Count >= m.Must }) {
					return
				}
			}
		}
		if b.least+rest > t.Limit {
			return
		}
		box.Drivers = holes
		b.setup = bass.Setup{Driver: t.Drivers[b.driver].Driver, Box: box, Boxes: b.boxes, Displacement: displacement, Air: t.Air}
		f.blocks = append(f.blocks, b)
	}
	for m := 1; m <= t.Brief.Boxes; m++ {
		for _, d := range t.Shelf.Kinds[catalog.KindSubwoofer] {
			if !d.Offered() || t.Drivers[d].Fault != nil {
				continue
			}
			for _, e := range t.Shelf.Kinds[catalog.KindEnclosure] {
				if e.Offered() && setting.FitsHole(d.Part.Subwoofer, e.Part.Enclosure) {
					add(block{driver: d, box: e, boxes: m}, e.Part.Enclosure.Box, e.Part.Enclosure.Outside, d.Part.Subwoofer.Displacement)
				}
			}
		}
		for _, l := range t.Shelf.Kinds[catalog.KindLoaded] {
			if l.Offered() && t.Drivers[l].Fault == nil {
				add(block{driver: l, boxes: m}, l.Part.Loaded.Box, l.Part.Loaded.Outside, 0)
			}
		}
	}
}

func (f *formulation) listOptions() {
	for _, it := range f.t.Shelf.Kinds[catalog.KindAmplifier] {
		for k := 1; k <= min(it.Most, f.t.Brief.Amplifiers); k++ {
			f.options = append(f.options, option{it, k, it.List(k), it.Lower(k), worthOf(it, k), float64(k) * f.t.Amps[it].Demand})
		}
	}
	for o := range f.options {
		f.trial = append(f.trial, o)
	}
	// For music the cheapest first, which soon reach the top; for a reading the
	// strongest, whose failing spares trying the weaker.
	slices.SortStableFunc(f.trial, func(i, j int) int {
		a, b := &f.options[i], &f.options[j]
		if f.t.Music() {
			return cmp.Compare(a.cost, b.cost)
		}
		return cmp.Compare(b.demand, a.demand)
	})
}
