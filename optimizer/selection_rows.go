package optimizer

import (
	"fmt"
	"math"

	"loudfor/catalog"
	"loudfor/optimizer/linear"
)

// The rows of the program, one for each rule.

// currentUnit, A, is what currents are counted in: a demand is rounded up to
// it and a capacity down, so a build within two units of a kit's limit can be
// refused, and none beyond it let through. It is coarse enough for a solver to
// tell one unit from its own noise (1e-7 of a sum).
const currentUnit = 1e-4

// namesOf are the first letters of the variables, by kind.
var namesOf = [catalog.KindCount]string{
	catalog.KindSubwoofer: "sub", catalog.KindAmplifier: "amp", catalog.KindEnclosure: "box", catalog.KindLoaded: "ldb",
	catalog.KindFront: "spk", catalog.KindSource: "src", catalog.KindConverter: "cnv", catalog.KindBlocker: "blk", catalog.KindKit: "kit",
}

// wording is a program being written.
type wording struct {
	*formulation
	s       *Selection
	p       linear.Program
	of      map[*item]int // places in s.parts
	blockOf []int         // variables
	options map[int]int   // of options that are in use
	systems []int
	ways    []int
}

func (f *formulation) program() *Selection {
	w := &wording{formulation: f, s: &Selection{t: f.t}, of: make(map[*item]int), options: make(map[int]int)}
	w.s.Program = &w.p
	w.p.Title, w.p.Maximise = f.title(), true
	w.rebase()
	w.listParts()
	w.columns()
	w.levelRows()
	w.deals()
	w.money()
	w.links()
	w.bassRows()
	w.frontRows()
	w.signalRows()
	w.current()
	w.musts()
	return w.s
}

func one(v int) linear.Term { return linear.Term{Variable: v, Factor: 1} }

func minus(v int) linear.Term { return linear.Term{Variable: v, Factor: -1} }

// rebase sets the base below all levels, so that factors stay small.
func (w *wording) rebase() {
	low := level(math.MaxInt64)
	for i := range w.formulation.systems {
		low = min(low, w.formulation.systems[i].level)
	}
	if w.t.music() {
		for i := range w.formulation.ways {
			low = min(low, w.formulation.ways[i].level)
		}
	}
	if low < math.MaxInt64 {
		w.s.base = low
	}
	w.p.Title = append(w.p.Title[:len(w.p.Title):len(w.p.Title)], fmt.Sprintf("level        thousandths of a decibel above %.3f dB", w.s.base.dB()))
}

// listParts makes the variables of all parts that a column or a slot can use,
// in SKU order.
func (w *wording) listParts() {
	used := make(map[*item]bool)
	mark := func(items ...*item) {
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
		mark(x.pair.item, x.blocker)
		if x.power == FromOwn {
			mark(x.amp)
		}
	}
	mark(w.sources...)
	mark(w.converts...)
	for _, k := range w.kits {
		mark(k.kits...)
	}
	for _, it := range w.t.shelf.items {
		if used[it] || it.must > 0 {
			w.addPart(it)
		}
	}
}

func (w *wording) addPart(it *item) {
	name := fmt.Sprintf("%s%d", namesOf[it.part.Kind], it.id+1)
	c := countOf{item: it, name: name, bought: absent, owned: absent}
	if n := it.most - it.owned; n > 0 {
		c.bought = w.p.Add(linear.Variable{Name: name, Kind: linear.Whole, Most: int64(min(n, w.mostPieces())),
			Note: fmt.Sprintf("%s %s, %s", it.part.Kind, it.part.SKU, it.part.Price)})
		w.pay(c.bought, it.full+it.each)
	}
	if it.owned > 0 && it.most > 0 {
		c.owned = w.p.Add(linear.Variable{Name: name + "_own", Kind: linear.Whole, Most: int64(min(it.owned, w.mostPieces())),
			Note: fmt.Sprintf("%s %s, owned", it.part.Kind, it.part.SKU)})
		w.pay(c.owned, it.each)
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
	return w.t.brief.Drivers + w.t.brief.Boxes + w.t.brief.Amplifiers + 1
}

// pieces are the terms of all pieces of a part, times a factor.
func (w *wording) pieces(it *item, factor int64) (terms []linear.Term) {
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
func (w *wording) use(it *item, n, column int) {
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
		words := fmt.Sprintf("%d x %s", b.boxes, b.driver.part.SKU)
		if b.box != nil {
			words = fmt.Sprintf("%d x %s in %d x %s", b.drivers, b.driver.part.SKU, b.boxes, b.box.part.SKU)
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
		v := w.p.Add(linear.Variable{Name: fmt.Sprintf("a%d", s.option+1), Note: fmt.Sprintf("bass on %d x %s, %.4f A", o.number, o.amp.part.SKU, o.demand)})
		w.options[s.option] = v
		w.use(o.amp, o.number, v)
	}
	for i, s := range w.formulation.systems {
		b, a := w.p.Variables[w.blockOf[s.block]].Name, w.p.Variables[w.options[s.option]].Name
		note := fmt.Sprintf("%s on %s, cable of %.3f mohm: %.3f dB", b, a, w.kits[s.kits].resistance*1e3, s.level.dB())
		if s.spare {
			note += ", drives the front too"
		}
		w.systems = append(w.systems, w.p.Add(linear.Variable{Name: fmt.Sprintf("y%d", i+1), Note: note}))
	}
	for i := range w.formulation.ways {
		x := &w.formulation.ways[i]
		v := w.p.Add(linear.Variable{Name: fmt.Sprintf("f%d", i+1), Note: x.words(w.t.music())})
		w.ways = append(w.ways, v)
		if x.pair.item != nil {
			w.use(x.pair.item, 1, v)
		}
		if x.blocker != nil {
			w.use(x.blocker, 1, v)
		}
		if x.power == FromOwn {
			w.use(x.amp, 1, v)
		}
	}
}

// words is a front stage in words.
func (x *frontWay) words(music bool) string {
	s := "the car's own pair"
	if x.pair.item != nil {
		s = "pair " + x.pair.item.part.SKU
	}
	s += " on " + x.power.String()
	if x.amp != nil {
		s += " " + x.amp.part.SKU
	}
	if x.blocker != nil {
		s += ", blocker " + x.blocker.part.SKU
	}
	if music {
		s += fmt.Sprintf(": %.3f dB", x.level.dB())
	}
	return s
}

// levelRows hold the level below that of the bass and, for music, below that
// of the front: the lower of the two, since the level is maximised.
func (w *wording) levelRows() {
	below := func(name, note string, columns []int, of func(i int) level) {
		row := linear.Row{Name: name, Note: note, Terms: []linear.Term{one(w.s.level)}, Relation: linear.AtMost}
		for i, v := range columns {
			if n := int64(of(i) - w.s.base); n != 0 {
				row.Terms = append(row.Terms, linear.Term{Variable: v, Factor: -n})
			}
		}
		w.p.Bind(row)
	}
	most := level(0)
	for i := range w.formulation.systems {
		most = max(most, w.formulation.systems[i].level-w.s.base)
	}
	w.s.level = w.p.Add(linear.Variable{Name: "level", Kind: linear.Amount, Most: int64(most)})
	w.p.Objective = []linear.Term{one(w.s.level)}
	below("bass", "no louder than the bass system", w.systems, func(i int) level { return w.formulation.systems[i].level })
	if w.t.music() {
		below("front", "nor than the front stage", w.ways, func(i int) level { return w.formulation.ways[i].level })
	}
}

// money is the cap.
func (w *wording) money() {
	if w.t.brief.Cap != (catalog.Money{}) {
		w.p.Bind(linear.Row{Name: "cap", Note: "the cap", Terms: w.s.cost, Limit: w.t.limit})
	}
}

// exactlyOne of the variables.
func (w *wording) exactlyOne(name, note string, variables []int) {
	row := linear.Row{Name: name, Note: note, Relation: linear.Equal, Limit: 1}
	for _, v := range variables {
		row.Terms = append(row.Terms, one(v))
	}
	w.p.Bind(row)
}

// links say what pieces the columns use: so many, and no others.
func (w *wording) links() {
	note := "what blocks, amplifiers and front stages are made of"
	for _, c := range w.s.parts {
		switch c.item.part.Kind {
		case catalog.KindSource, catalog.KindKit, catalog.KindConverter:
			continue // used for themselves
		}
		w.p.Bind(linear.Row{Name: "of_" + c.name, Note: note, Relation: linear.Equal, Terms: append(w.pieces(c.item, -1), c.uses...)})
		note = ""
	}
}

// slot is one piece of a kind, or at most one.
func (w *wording) slot(name, note string, kind catalog.Kind, relation linear.Relation) {
	row := linear.Row{Name: name, Note: note, Relation: relation, Limit: 1}
	for _, c := range w.s.parts {
		if c.item.part.Kind == kind {
			row.Terms = append(row.Terms, w.pieces(c.item, 1)...)
		}
	}
	if relation == linear.Equal || len(row.Terms) > 0 {
		w.p.Bind(row)
	}
}

// bassRows tie each system to its block, its amplifiers and its kits.
func (w *wording) bassRows() {
	w.exactlyOne("system", "one bass system", w.systems)
	tie := func(name string, note *string, variable int, of func(s *system) bool) {
		row := linear.Row{Name: name, Note: *note, Relation: linear.Equal, Terms: []linear.Term{minus(variable)}}
		for i := range w.formulation.systems {
			if of(&w.formulation.systems[i]) {
				row.Terms = append(row.Terms, one(w.systems[i]))
			}
		}
		w.p.Bind(row)
		*note = ""
	}
	note := "a system is on its block"
	for b, v := range w.blockOf {
		if v != absent {
			tie("is_"+w.p.Variables[v].Name, &note, v, func(s *system) bool { return s.block == b })
		}
	}
	note = "and on its amplifiers"
	for o := range w.formulation.options {
		if v, known := w.options[o]; known {
			tie("is_"+w.p.Variables[v].Name, &note, v, func(s *system) bool { return s.option == o })
		}
	}
	w.slot("one_kit", "one wiring kit", catalog.KindKit, linear.Equal)
	note = "a system is on a kit of its resistance"
	for k := range w.kits {
		row := linear.Row{Name: fmt.Sprintf("kits%d", k+1), Note: note, Relation: linear.AtMost}
		for i := range w.formulation.systems {
			if w.formulation.systems[i].kits == k {
				row.Terms = append(row.Terms, one(w.systems[i]))
			}
		}
		if len(row.Terms) == 0 {
			continue
		}
		for _, it := range w.kits[k].kits {
			row.Terms = append(row.Terms, w.pieces(it, -1)...)
		}
		w.p.Bind(row)
		note = ""
	}
}
