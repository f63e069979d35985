package program

import (
	"fmt"
	"math"

	"loudfor/catalog"
	"loudfor/optimizer/build"
	"loudfor/optimizer/linear"
)

// The rows in which bass and front meet: source, signal, current, must.

// frontRows tie each front stage to its source and, where the bass's amplifier
// drives it, to a system with channels to spare.
func (w *wording) frontRows() {
	w.exactlyOne("front_stage", "one front stage", w.ways)
	w.slot("one_source", "one source", catalog.KindSource, linear.Equal)
	w.slot("converters", "at most one line converter", catalog.KindConverter, linear.AtMost)

	note := "what the front stage asks of its source"
	done := make(map[string]bool)
	for i := range w.formulation.ways {
		marks := w.formulation.ways[i].sources
		key := fmt.Sprint(marks)
		if done[key] {
			continue
		}
		done[key] = true
		row := linear.Row{Name: fmt.Sprintf("from%d", len(done)), Note: note, Relation: linear.AtMost}
		for j := range w.formulation.ways {
			if fmt.Sprint(w.formulation.ways[j].sources) == key {
				row.Terms = append(row.Terms, one(w.ways[j]))
			}
		}
		for k, s := range w.sources {
			if marks[k] {
				row.Terms = append(row.Terms, w.pieces(s, -1)...)
			}
		}
		w.p.Bind(row)
		note = ""
	}

	note = "channels to spare on the bass's amplifier, where they drive the front"
	for _, it := range w.t.Shelf.Kinds[catalog.KindAmplifier] {
		var terms []linear.Term
		for i := range w.formulation.ways {
			if x := &w.formulation.ways[i]; x.power == build.FromBass && x.amp == it {
				terms = append(terms, one(w.ways[i]))
			}
		}
		for i := range w.formulation.systems {
			if s := &w.formulation.systems[i]; s.spare && w.formulation.options[s.option].amp == it {
				terms = append(terms, minus(w.systems[i]))
			}
		}
		if len(terms) > 0 {
			w.p.Bind(linear.Row{Name: "spare_" + w.s.parts[w.of[it]].name, Note: note, Relation: linear.Equal, Terms: terms})
			note = ""
		}
	}
}

// signalRows: without line outputs on the source, an amplifier without a
// speaker-level input needs a channel of a line converter, or two if it drives
// the front.
func (w *wording) signalRows() {
	var converter, dumb []linear.Term
	for _, it := range w.converts {
		converter = append(converter, w.pieces(it, int64(min(it.Part.Converter.Channels, 2)))...)
	}
	for _, it := range w.sources {
		if it.Part.Source.PreOuts == 0 {
			dumb = append(dumb, w.pieces(it, 1)...)
		}
	}
	need := func(name, note string, channels int64, on []linear.Term) {
		if len(on) == 0 || len(dumb) == 0 {
			return
		}
		row := linear.Row{Name: name, Note: note, Relation: linear.AtMost, Limit: channels}
		for _, terms := range [][]linear.Term{dumb, on} {
			for _, t := range terms {
				row.Terms = append(row.Terms, linear.Term{Variable: t.Variable, Factor: channels * t.Factor})
			}
		}
		for _, t := range converter {
			row.Terms = append(row.Terms, linear.Term{Variable: t.Variable, Factor: -t.Factor})
		}
		w.p.Bind(row)
	}
	var bass, front []linear.Term
	for o := range w.formulation.options {
		if v, known := w.options[o]; known && !w.formulation.options[o].amp.Part.Amplifier.SpeakerInput {
			bass = append(bass, one(v))
		}
	}
	for i := range w.formulation.ways {
		if !w.formulation.ways[i].speaker {
			front = append(front, one(w.ways[i]))
		}
	}
	need("signal", "a signal for the bass: line outputs, speaker wires, or a converter", 1, bass)
	need("signal_front", "and for an amplifier that drives the front", 2, front)
	w.noIdleConverter(dumb, append(bass, front...))
}

// noIdleConverter: a converter that must does not name is there only where one
// is needed. Bought for itself it would never pay; in a deal it could.
func (w *wording) noIdleConverter(dumb, on []linear.Term) {
	note := "a line converter only beside a source without line outputs, for an amplifier that needs one"
	for _, it := range w.converts {
		if it.Must > 0 {
			continue
		}
		for i, where := range [][]linear.Term{dumb, on} {
			row := linear.Row{Name: fmt.Sprintf("idle%d_%s", i+1, w.s.parts[w.of[it]].name), Note: note, Relation: linear.AtMost, Terms: w.pieces(it, 1)}
			for _, t := range where {
				row.Terms = append(row.Terms, linear.Term{Variable: t.Variable, Factor: -t.Factor})
			}
			w.p.Bind(row)
			note = ""
		}
	}
}

// current: one kit carries all amplifiers, all channels driven.
func (w *wording) current() {
	row := linear.Row{Name: "current", Note: fmt.Sprintf("one kit carries all amplifiers; in units of %g A", currentUnit), Relation: linear.AtMost}
	add := func(v int, units float64) {
		if n := int64(min(units, 1e12)); n != 0 {
			row.Terms = append(row.Terms, linear.Term{Variable: v, Factor: n})
		}
	}
	for o := range w.formulation.options {
		if v, known := w.options[o]; known {
			opt := &w.formulation.options[o]
			add(v, float64(opt.number)*math.Ceil(w.t.Amps[opt.amp].Demand/currentUnit))
		}
	}
	for i := range w.formulation.ways {
		if x := &w.formulation.ways[i]; x.power == build.FromOwn {
			add(w.ways[i], math.Ceil(x.demand/currentUnit))
		}
	}
	for _, c := range w.s.parts {
		if c.item.Part.Kind != catalog.KindKit {
			continue
		}
		for _, t := range w.pieces(c.item, 1) {
			add(t.Variable, -math.Floor(w.t.Kits[c.item].Capacity/currentUnit))
		}
	}
	if len(row.Terms) > 0 {
		w.p.Bind(row)
	}
}

// musts: what has to be in, and amplifiers of the front's own that are there
// only for that.
func (w *wording) musts() {
	note := "what has to be in the build"
	for _, it := range w.t.Musts {
		row := linear.Row{Name: "must_" + w.s.parts[w.of[it]].name, Note: note, Relation: linear.AtLeast, Limit: int64(it.Must), Terms: w.pieces(it, 1)}
		w.p.Bind(row)
		note = ""
	}
	note = "beside a source that can do it, an amplifier of the front's own is there only if must still needs it"
	for i := range w.formulation.ways {
		x := &w.formulation.ways[i]
		if !x.needed {
			continue
		}
		row := linear.Row{Name: fmt.Sprintf("idle%d", i+1), Note: note, Relation: linear.AtMost, Limit: 1, Terms: []linear.Term{one(w.ways[i])}}
		for o := range w.formulation.options {
			if v, known := w.options[o]; known && w.formulation.options[o].amp == x.amp && w.formulation.options[o].number >= x.amp.Must {
				row.Terms = append(row.Terms, one(v))
			}
		}
		w.p.Bind(row)
		note = ""
	}
}
