package program

import (
	"fmt"
	"math"

	"loudfor/catalog"
	"loudfor/optimizer/build"
	"loudfor/optimizer/linear"
	"loudfor/optimizer/pricing"
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
	of      map[*pricing.Item]int // places in s.parts
	blockOf []int                 // variables
	options map[int]int           // of options that are in use
	systems []int
	ways    []int
}

func (f *formulation) program() *Selection {
	w := &wording{formulation: f, s: &Selection{t: f.t}, of: make(map[*pricing.Item]int), options: make(map[int]int)}
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
	low := build.Level(math.MaxInt64)
	for i := range w.formulation.systems {
		low = min(low, w.formulation.systems[i].level)
	}
	if w.t.Music() {
		for i := range w.formulation.ways {
			low = min(low, w.formulation.ways[i].level)
		}
	}
	if low < math.MaxInt64 {
		w.s.base = low
	}
	w.p.Title = append(w.p.Title[:len(w.p.Title):len(w.p.Title)], fmt.Sprintf("level        thousandths of a decibel above %.3f dB", w.s.base.DB()))
}

// levelRows hold the level below that of the bass and, for music, below that
// of the front: the lower of the two, since the level is maximised.
func (w *wording) levelRows() {
	below := func(name, note string, columns []int, of func(i int) build.Level) {
		row := linear.Row{Name: name, Note: note, Terms: []linear.Term{one(w.s.level)}, Relation: linear.AtMost}
		for i, v := range columns {
			if n := int64(of(i) - w.s.base); n != 0 {
				row.Terms = append(row.Terms, linear.Term{Variable: v, Factor: -n})
			}
		}
		w.p.Bind(row)
	}
	most := build.Level(0)
	for i := range w.formulation.systems {
		most = max(most, w.formulation.systems[i].level-w.s.base)
	}
	w.s.level = w.p.Add(linear.Variable{Name: "level", Kind: linear.Amount, Most: int64(most)})
	w.p.Objective = []linear.Term{one(w.s.level)}
	below("bass", "no louder than the bass system", w.systems, func(i int) build.Level { return w.formulation.systems[i].level })
	if w.t.Music() {
		below("front", "nor than the front stage", w.ways, func(i int) build.Level { return w.formulation.ways[i].level })
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
		switch c.item.Part.Kind {
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
		if c.item.Part.Kind == kind {
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
