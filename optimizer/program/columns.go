package program

import (
	"fmt"

	"loudfor/optimizer/build"
	"loudfor/optimizer/linear"
	"loudfor/optimizer/pricing"
)

// The unknowns of the program: pieces of parts, bought and owned; and the
// columns of the tables, of which one is chosen each.

// listParts makes the variables of all parts that a column or a slot can use,
// in SKU order.
func (w *wording) listParts() {
	used := make(map[*pricing.Item]bool)
	mark := func(items ...*pricing.Item) {
		for _, it := range items {
			if it != nil {
				used[it] = true
			}
		}
	}
	for _, s := range w.formulation.systems {
		b := &w.blocks[s.block]
		mark(b.driver, b.box, w.formulation.options[s.option].amp)
	}
	for i := range w.formulation.ways {
		x := &w.formulation.ways[i]
		mark(x.pair.Item, x.blocker)
		if x.power == build.FromOwn {
			mark(x.amp)
		}
	}
	mark(w.sources...)
	mark(w.converts...)
	for _, k := range w.kits {
		mark(k.kits...)
	}
	for _, it := range w.t.Shelf.Items {
		if used[it] || it.Must > 0 {
			w.addPart(it)
		}
	}
}

func (w *wording) addPart(it *pricing.Item) {
	name := fmt.Sprintf("%s%d", namesOf[it.Part.Kind], it.ID+1)
	c := countOf{item: it, name: name, bought: absent, owned: absent}
	if n := it.Most - it.Owned; n > 0 {
		c.bought = w.p.Add(linear.Variable{Name: name, Kind: linear.Whole, Most: int64(min(n, w.mostPieces())),
			Note: fmt.Sprintf("%s %s, %s", it.Part.Kind, it.Part.SKU, it.Part.Price)})
		w.pay(c.bought, it.Full+it.Each)
	}
	if it.Owned > 0 && it.Most > 0 {
		c.owned = w.p.Add(linear.Variable{Name: name + "_own", Kind: linear.Whole, Most: int64(min(it.Owned, w.mostPieces())),
			Note: fmt.Sprintf("%s %s, owned", it.Part.Kind, it.Part.SKU)})
		w.pay(c.owned, it.Each)
	}
	w.of[it] = len(w.s.parts)
	w.s.parts = append(w.s.parts, c)
}

// pay puts a factor on the sum of prices.
func (w *wording) pay(variable int, factor int64) {
	if factor != 0 {
		w.s.cost = append(w.s.cost, linear.Term{Variable: variable, Factor: factor})
	}
}

// mostPieces is more of one part than any build holds.
func (w *wording) mostPieces() int {
	return w.t.Brief.Drivers + w.t.Brief.Boxes + w.t.Brief.Amplifiers + 1
}

// pieces are the terms of all pieces of a part, times a factor.
func (w *wording) pieces(it *pricing.Item, factor int64) (terms []linear.Term) {
	at, known := w.of[it]
	if !known {
		return nil
	}
	for _, v := range []int{w.s.parts[at].bought, w.s.parts[at].owned} {
		if v != absent {
			terms = append(terms, linear.Term{Variable: v, Factor: factor})
		}
	}
	return terms
}

// use notes that a column uses pieces of a part.
func (w *wording) use(it *pricing.Item, n, column int) {
	c := &w.s.parts[w.of[it]]
	c.uses = append(c.uses, linear.Term{Variable: column, Factor: int64(n)})
}

// columns makes the variables of blocks, options, systems and front stages.
func (w *wording) columns() {
	w.s.level = absent
	w.blockOf = make([]int, len(w.blocks))
	for i := range w.blockOf {
		w.blockOf[i] = absent
	}
	for _, s := range w.formulation.systems {
		if w.blockOf[s.block] != absent {
			continue
		}
		b := &w.blocks[s.block]
		words := fmt.Sprintf("%d x %s", b.boxes, b.driver.Part.SKU)
		if b.box != nil {
			words = fmt.Sprintf("%d x %s in %d x %s", b.drivers, b.driver.Part.SKU, b.boxes, b.box.Part.SKU)
		}
		v := w.p.Add(linear.Variable{Name: fmt.Sprintf("b%d", s.block+1), Note: words})
		w.blockOf[s.block] = v
		if b.box == nil {
			w.use(b.driver, b.boxes, v)
			continue
		}
		w.use(b.driver, b.drivers, v)
		w.use(b.box, b.boxes, v)
	}
	for _, s := range w.formulation.systems {
		if _, known := w.options[s.option]; known {
			continue
		}
		o := &w.formulation.options[s.option]
		v := w.p.Add(linear.Variable{Name: fmt.Sprintf("a%d", s.option+1), Note: fmt.Sprintf("bass on %d x %s, %.4f A", o.number, o.amp.Part.SKU, o.demand)})
		w.options[s.option] = v
		w.use(o.amp, o.number, v)
	}
	for i, s := range w.formulation.systems {
		b, a := w.p.Variables[w.blockOf[s.block]].Name, w.p.Variables[w.options[s.option]].Name
		note := fmt.Sprintf("%s on %s, cable of %.3f mohm: %.3f dB", b, a, w.kits[s.kits].resistance*1e3, s.level.DB())
		if s.spare {
			note += ", drives the front too"
		}
		w.systems = append(w.systems, w.p.Add(linear.Variable{Name: fmt.Sprintf("y%d", i+1), Note: note}))
	}
	for i := range w.formulation.ways {
		x := &w.formulation.ways[i]
		v := w.p.Add(linear.Variable{Name: fmt.Sprintf("f%d", i+1), Note: x.words(w.t.Music())})
		w.ways = append(w.ways, v)
		if x.pair.Item != nil {
			w.use(x.pair.Item, 1, v)
		}
		if x.blocker != nil {
			w.use(x.blocker, 1, v)
		}
		if x.power == build.FromOwn {
			w.use(x.amp, 1, v)
		}
	}
}

// words is a front stage in words.
func (x *frontWay) words(music bool) string {
	s := "the car's own pair"
	if x.pair.Item != nil {
		s = "pair " + x.pair.Item.Part.SKU
	}
	s += " on " + x.power.String()
	if x.amp != nil {
		s += " " + x.amp.Part.SKU
	}
	if x.blocker != nil {
		s += ", blocker " + x.blocker.Part.SKU
	}
	if music {
		s += fmt.Sprintf(": %.3f dB", x.level.DB())
	}
	return s
}
