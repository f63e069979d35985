package driver

import (
	"fmt"
	"math"
	"slices"
)

// A card held against its size class. Numbers that agree with each other may still
// be those of no driver: a Vas of 125 L on a ten-inch means a cone of 36 g, and such
// a card, believed, beats every honest one by 3 dB. So what a card implies of the
// moving mass, the resonance, the motor (Bl^2 over the resistance), the efficiency and
// the travel is measured in spreads of its class. Up to doubtFrom of them it is believed as
// it stands; beyond, the card may be in error, the more the farther, and from doubtAll
// the class is believed in its place. In between lies a mixture of the two: its mean
// is used, and its variance, which holds the distance of the two, is the spread.
//
// The class is a normal distribution of the logarithms of resonance, mass and
// electrical Q, independent of each other, and of the travel. Motor and efficiency are
// products of these (Bl^2/Re = 2 pi fs Mms/Qes; eta0 ~ fs Sd^2/(Mms Qes): Small 1972), so
// what is taken off one of them is taken off its factors in proportion to their
// variances: where they most likely are wrong. The piston, which a ruler shows, and the
// resistance stay as stated.

// classSpread are the standard deviations of the logarithms within a size class
// (common practice, no source). Three of them reach from 67 to 410 g for twelve inches,
// from 14 to 64 Hz, from 0.2 to 1.7 and from 2.5 to 39 mm.
const (
	massSpread   = 0.30
	fsSpread     = 0.25
	qesSpread    = 0.35
	travelSpread = 0.45

	doubtFrom = 2.5 // spreads
	doubtAll  = 3.5
)

// trait is something that a card implies: a product of powers of the resonance, the
// mass and the electrical Q.
type trait struct {
	name          string
	fs, mass, qes float64
	show          func(*work) string
}

var traits = [...]trait{
	{"moving mass", 0, 1, 0, func(w *work) string { return w.written(mms) }},
	{"resonance", 1, 0, 0, func(w *work) string { return w.written(fs) }},
	{"force factor", 1, 1, -1, func(w *work) string {
		return w.written(bl) + " beside " + w.written(re)
	}},
	{"efficiency", 1, -1, -1, func(w *work) string { return w.written(eta) + " at 1 W" }},
}

func (w *work) written(q quantity) string {
	return card[q].format(w.value(q, w.state.log[q]))
}

// temper moves the state to what is believed, and keeps what that adds to the
// variances.
func (w *work) temper() {
	typical := w.class()
	variance := [3]float64{fsSpread * fsSpread, massSpread * massSpread, qesSpread * qesSpread}
	for i := range traits {
		t := &traits[i]
		power := [3]float64{t.fs, t.mass, t.qes}
		x := [3]float64{w.state.log[fs], w.state.log[mms], w.state.log[qes]}
		off, all := 0.0, 0.0
		for j := range x {
			off += power[j] * (x[j] - typical[j])
			all += power[j] * power[j] * variance[j]
		}
		belief := belief(off / math.Sqrt(all))
		if belief == 1 {
			continue
		}
		stated := t.show(w)
		extra := (1-belief)*all + belief*(1-belief)*off*off
		for j, q := range [...]quantity{fs, mms, qes} {
			share := power[j] * variance[j] / all
			w.state.log[q] -= (1 - belief) * off * share
			w.doubt[q] += share * share * extra
		}
		w.follow()
		w.unlikely(t.name, stated, t.show(w), off/math.Sqrt(all), w.behind(power))
	}
}

// belief is how far a card is believed that many spreads off its class.
func belief(spreads float64) float64 {
	return max(0, min(1, (doubtAll-math.Abs(spreads))/(doubtAll-doubtFrom)))
}

// class are the typical resonance, mass and electrical Q, as logarithms.
func (w *work) class() [3]float64 {
	p := &w.prior
	log := [quantities]float64{sd: math.Log(p.pistonArea()), fs: math.Log(p.fs), vas: math.Log(p.vas), qms: math.Log(p.qms), qts: math.Log(p.qts)}
	log[cms], _ = w.k.solve(compliance, cms, &log)
	mass, _ := w.k.solve(resonance, mms, &log)
	electrical, _ := w.k.solve(quality, qes, &log)
	return [3]float64{log[fs], mass, electrical}
}

// follow derives from resonance, mass, electrical Q, piston and resistance what
// hangs on them.
func (w *work) follow() {
	log := &w.state.log
	for _, step := range [...]struct {
		id int
		q  quantity
	}{{resonance, cms}, {compliance, vas}, {damping, bl}, {efficiency, eta}, {quality, qts}} {
		log[step.q], _ = w.k.solve(step.id, step.q, log)
	}
}

// behind are the stated quantities that a trait rests on.
func (w *work) behind(power [3]float64) (roots set) {
	for j, q := range [...]quantity{fs, mms, qes} {
		if power[j] != 0 {
			roots |= w.state.origin[q].roots
		}
	}
	return roots & w.e.stated
}

// unlikely notes what was not believed as it stands.
func (w *work) unlikely(name, stated, used string, spreads float64, roots set) {
	text := fmt.Sprintf("%s, %.1f spreads from what drivers of %.3g in have; used as %s", stated, math.Abs(spreads), w.size/inch, used)
	fields := roots.names()
	slices.Reverse(fields) // the least believed first
	w.notes = append(w.notes, Note{Kind: Unlikely, Quantity: name, Spread: spreads, Source: text, Fields: fields})
}

// travel is the believed linear travel, and its spread. It hangs on no identity.
func (w *work) travel() (value, spread float64) {
	value, spread = w.plain(xmax, w.prior.xmax, statedXmaxSpread, priorSpread.Xmax)
	off := math.Log(value / w.prior.xmax)
	b := belief(off / travelSpread)
	if b == 1 {
		return value, spread
	}
	used := w.prior.xmax * math.Exp(b*off)
	spread = math.Sqrt(b*spread*spread + (1-b)*travelSpread*travelSpread + b*(1-b)*off*off)
	w.unlikely("travel", card[xmax].format(value), card[xmax].format(used), off/travelSpread, only(xmax)&w.stated)
	return used, min(spread, mostSpread)
}
