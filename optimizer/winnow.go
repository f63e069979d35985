package optimizer

import (
	"slices"

	"loudfor/model/bass"
	"loudfor/optimizer/build"
	"loudfor/optimizer/drive"
)

// Of the pairs that a block can pay for and that have the voltage and the current
// that it takes, dozens are left, hardly any of which will do: each has too little
// of the one for what it has of the other, or a supply that gives way. So they
// are winnowed. What the envelope of some of them, through the best kit that the
// cheapest could have, cannot reach none of them can. Where it can, they are
// parted in the direction in which they differ most, until one is left.
//
// A look at an envelope is followed by computing its level where that is left
// open: of those that are left after a look, hardly one in a hundred is loud enough,
// and most envelopes are not either.

// cabled is a place in a row with what the best kit that the block leaves the
// money for adds to its supply, ohm.
type cabled struct {
	place int
	cable float64
}

// winnow computes those of some places of a row that could enter the ranking, and
// says how many pairs it settled. It changes their order. No pair can enter below
// a level.
func (w *worker) winnow(r *row, all []cabled, aim build.Level) uint64 {
	if w.halted() {
		return 0
	}
	f, cable := r.felts[all[0].place], all[0].cable
	if len(all) == 1 {
		return w.listen(r.places[all[0].place], aim, f, cable)
	}
	low, high := r.measures[all[0].place], r.measures[all[0].place]
	for _, x := range all[1:] {
		f, cable = f.Join(r.felts[x.place]), min(cable, x.cable)
		for k, v := range r.measures[x.place] {
			low[k], high[k] = min(low[k], v), max(high[k], v)
		}
	}
	if !w.reaches(aim, f, cable) {
		return 0
	}
	widest := 0
	for k := range low {
		if high[k]-low[k] > high[widest]-low[widest] {
			widest = k
		}
	}
	middle := (low[widest] + high[widest]) / 2
	n := 0
	for k, x := range all {
		if r.measures[x.place][widest] > middle {
			all[n], all[k] = x, all[n]
			n++
		}
	}
	if n == 0 || n == len(all) {
		n = len(all) / 2 // they are alike
	}
	return w.winnow(r, all[:n], aim) + w.winnow(r, all[n:], aim)
}

// sift is winnow on a ladder. Between two steps an envelope nearly always reaches what
// has to be reached, so each is looked at by itself.
func (w *worker) sift(r *row, all []cabled, aim build.Level) (settled uint64) {
	for _, x := range all {
		if w.halted() {
			return settled
		}
		settled += w.listen(r.places[x.place], aim, r.felts[x.place], x.cable)
	}
	return settled
}

// compute ranks what a pair makes of the block at hand.
func (w *worker) compute(p *drive.AmpChoice) {
	found := len(w.find.found)
	w.amp = p.Amp
	w.pair(p)
	w.amp = nil
	if w.vain++; len(w.find.found) > found {
		w.vain = 0
		w.tune()
	}
}

// listen computes a pair if that can enter the ranking, and was not computed with
// the block at hand before. It says how many pairs it settled.
func (w *worker) listen(x place, aim build.Level, f drive.CoilSource, cable float64) uint64 {
	if slices.Contains(w.settled, x.pair) {
		return 0
	}
	p := &w.group.class.Choices[x.pair]
	floor := w.price + p.Floor
	if floor > w.Limit {
		return 0
	}
	least, ok := w.barFor(p, x.with, aim)
	if !ok || !w.reaches(least, f, cable) {
		return 0
	}
	w.settled = append(w.settled, x.pair)
	w.compute(p)
	return 1
}

// reaches says whether the block at hand is as loud as a level of the objective
// with a source at every coil, fed through a cable.
func (w *worker) reaches(l build.Level, f drive.CoilSource, cable float64) bool {
	d := f.Drive(w.group.class.Drivers * w.group.class.Coils)
	d.Feed = w.Feed
	d.Feed.CableResistance = cable
	if !w.glance.Close(d, w.product(l)) {
		return false
	}
	var c bass.Ceilings
	w.glance.Ceilings(&c)
	_, ok := w.prepared.BandsAbove(lowest(l)+w.Brief.BassLift, d, bass.Music(), &c)
	return ok
}
