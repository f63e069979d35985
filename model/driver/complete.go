package driver

import (
	"fmt"
	"math"

	"loudfor/model/air"
)

// Completion: judge what is stated, derive what follows, assume the most
// useful missing value, and again until nothing is missing.

// fillOrder is the order in which missing values are assumed. Qms comes first,
// so that Qes always follows from a stated Qts at the cost of a few percent:
// found the other way about, as a difference, Qms would turn a slip of 2 % in
// an assumed Re into nonsense. Together the six determine everything else.
var fillOrder = [...]quantity{qms, sd, fs, re, vas, qts}

// mostOfQms bounds an assumed Qts below a stated Qms.
const mostOfQms = 0.5

// Complete completes a card at the given air: Vas and the efficiency depend on
// it a little. The notes come in a fixed order: contradictions, assumed
// values, derived ones.
//
// The error is an *ImpossibleError that lists every number that cannot be
// right, or names the size if nothing on the card gives it.
func Complete(c Card, a air.Air) (Driver, []Note, error) {
	w, err := completed(&c, a)
	if err != nil {
		return Driver{}, nil, err
	}
	d := w.build()
	w.spreads(&d.Spread)
	w.derived()
	return d, w.notes, nil
}

// Estimate is Complete without notes and without the driver's Spread, in a third of
// the time: for the many of a catalogue of which few are looked at closely.
func Estimate(c Card, a air.Air) (Driver, error) {
	w, err := completed(&c, a)
	if err != nil {
		return Driver{}, err
	}
	d := w.build()
	d.Spread = Spread{}
	return d, nil
}

// Possible gives the error of Complete alone: what the driver is, how sure that is
// and what to note of it is not worked out.
func Possible(c Card, a air.Air) error {
	_, err := completed(&c, a)
	return err
}

// completed is the work on a card up to where it can no longer fail.
func completed(c *Card, a air.Air) (*work, error) {
	if !(a.Density > 0.1 && a.Density < 10 && a.SoundSpeed > 100 && a.SoundSpeed < 1000) {
		return nil, fmt.Errorf("driver: density %v kg/m3 with speed of sound %v m/s is not air", a.Density, a.SoundSpeed)
	}
	w := &work{card: c, fault: new(ImpossibleError)}
	w.evidence(a)
	w.complete()
	if len(w.fault.Numbers) > 0 {
		return nil, w.fault
	}
	w.temper()
	return w, nil
}

// complete judges and fills. Where a prior together with stated values leads
// to something that no driver has, the least believed of those values is set
// aside like any other that contradicts the rest, and all begins again with
// one stated value less.
func (w *work) complete() {
	var aside []loss
	for {
		v := w.e.judge()
		w.state, w.assumed, w.notes = v.state, 0, nil
		w.settle()
		if w.size == 0 {
			w.fault.Numbers = append(w.fault.Numbers, Impossible{"Size", 0,
				"neither the size nor the piston area is stated, so nothing typical can be assumed"})
			return
		}
		if l, bad := w.fill(); bad {
			aside = append(aside, l)
			w.e.stated = w.e.stated.minus(only(l.q))
			continue
		}
		v.lost = append(v.lost, aside...)
		w.report(&v)
		return
	}
}

// work is one completion under way.
type work struct {
	card   *Card
	fault  *ImpossibleError
	stated set
	coils  int
	k      constants
	e      evidence
	state  state

	size, load float64
	prior      prior
	assumed    set // quantities in identities that were taken from the prior
	notes      []Note

	watt  float64             // level of 1 W of sound, dB
	sigma [quantities]float64 // relative standard deviations, when built
	doubt [quantities]float64 // variances beside those, of what is not believed as it stands
}

// evidence turns the usable part of the card into logarithms.
func (w *work) evidence(a air.Air) {
	w.stated = w.fault.check(w.card)
	w.coils = w.card.Coils
	if w.coils < 1 || w.coils > MostCoils {
		w.coils = commonCoils
	}
	w.k = constantsOf(a, w.coils)
	w.watt = LevelOfWatt(a)
	w.e = evidence{k: &w.k, stated: w.stated & (1<<quantities - 1)}
	for q := range quantities {
		if !w.stated.has(int(q)) {
			continue
		}
		v := card[q].value(w.card)
		if q == eta {
			w.e.log[q] = (v - w.watt) / 10 * math.Ln10
		} else {
			w.e.log[q] = math.Log(v)
		}
	}
	if w.stated.has(int(size)) {
		w.e.size = w.card.Size
	}
	if w.stated.has(int(coilLoad)) {
		w.e.load = w.card.CoilLoad
	}
}

// settle fixes what the priors hang on: the size and the load of a coil.
func (w *work) settle() {
	if w.card.Coils == 0 {
		w.assume("Coils", commonCoils, 0, "most drivers have one (common practice, no source)")
	}
	w.size = w.e.size
	if w.size == 0 && w.state.known.has(int(sd)) {
		w.size = sizeOfPiston(math.Exp(w.state.log[sd]))
		w.assume("Size", w.size, priorSpread.Sd, "from the piston area (common practice, no source)")
	}
	w.load = w.e.load
	if w.load == 0 && w.state.known.has(int(re)) {
		w.load = loadOfResistance(math.Exp(w.state.log[re]))
		w.assume("CoilLoad", w.load, priorSpread.Re, "nearest trade value above Re (common practice, no source)")
	} else if w.load == 0 {
		w.load = commonCoilLoad
		w.assume("CoilLoad", w.load, 0.5, "the commonest coil (common practice, no source)")
	}
}

// fill assumes what is missing, most useful first, and derives what follows.
// If that leads to a value that no driver has, it stops and gives the least
// believed stated value behind it.
func (w *work) fill() (l loss, bad bool) {
	w.prior = priorAt(w.size)
	for _, q := range fillOrder {
		if w.state.known.has(int(q)) {
			continue
		}
		value, spread := w.typical(q)
		w.state.put(q, math.Log(value))
		w.assumed = w.assumed.with(int(q))
		w.assume(card[q].name, value, spread, priorSource)
		w.state.close()
		odd, found := w.e.insanity(&w.state)
		if !found {
			continue
		}
		from := &w.state.origin[odd]
		if behind := from.roots & w.e.stated; behind != 0 {
			least := highest(behind)
			return loss{q: least, identity: insane, trail: from.trail, roots: from.roots.minus(only(least))}, true
		}
	}
	return loss{}, false
}

// typical is the prior of one quantity and its spread.
func (w *work) typical(q quantity) (value, spread float64) {
	switch q {
	case qms:
		return w.prior.qms, priorSpread.Qms
	case sd:
		return w.prior.pistonArea(), priorSpread.Sd
	case fs:
		return w.prior.fs, priorSpread.Fs
	case re:
		return resistanceShare * w.load, priorSpread.Re
	case vas:
		// The typical cone: fs and Sd, which are known by now, go with it.
		fs := w.prior.fs / math.Exp(w.state.log[fs])
		sd := math.Exp(w.state.log[sd]) / w.prior.pistonArea()
		return w.prior.vas * fs * fs * sd * sd, priorSpread.Vas
	default: // qts
		most := mostOfQms * math.Exp(w.state.log[qms])
		return math.Min(w.prior.qts, most), qtsPriorSpread
	}
}

// build writes the driver down.
func (w *work) build() Driver {
	at := func(q quantity) float64 { return math.Exp(w.state.log[q]) }
	d := Driver{
		Size: w.size, Coils: w.coils, CoilLoad: w.load,
		Re: at(re), Bl: at(bl), Mms: at(mms), Cms: at(cms), Sd: at(sd),
		Fs: at(fs), Qms: at(qms), Qes: at(qes), Qts: at(qts), Vas: at(vas),
	}
	d.Rms = 2 * math.Pi * d.Fs * d.Mms / d.Qms
	d.Xmax, d.Spread.Xmax = w.travel()
	d.Power, d.Spread.Power = w.plain(power, w.prior.power, statedPowerSpread, priorSpread.Power)
	d.Le, d.Spread.Le = w.plain(le, w.prior.coilTime*d.Re, statedLeSpread, priorSpread.Le)
	w.inductance(&d)
	return d
}

// spreads fills in those that have to be derived.
func (w *work) spreads(s *Spread) {
	derived := w.spread()
	derived.Xmax, derived.Power, derived.Le = s.Xmax, s.Power, s.Le
	*s = derived
}

// plain is a value that hangs on no other: stated, or else typical.
func (w *work) plain(q quantity, typical, stated, assumed float64) (value, spread float64) {
	if w.stated.has(int(q)) {
		return card[q].value(w.card), stated
	}
	w.assume(card[q].name, typical, assumed, priorSource)
	return typical, assumed
}

// inductance splits a credible Le, stated or typical, into the lossy pair; one
// that is none of a voice coil, or plain as the card says, stays as it is.
func (w *work) inductance(d *Driver) {
	if w.card.PlainInductance {
		return
	}
	stated := d.Le
	if t := stated / d.Re; t < leastCoilTime || t > mostCoilTime {
		w.notes = append(w.notes, Note{Kind: Inconsistent, Quantity: "Le/Re", Value: stated,
			Spread: stated/(w.prior.coilTime*d.Re) - 1, Fields: []string{"Le"},
			Source: fmt.Sprintf("Le %s beside Re %s is not that of a voice coil; check the unit", card[le].format(stated), card[re].format(d.Re))})
		d.Spread.Le = priorSpread.Le
		return
	}
	d.Le, d.L2, d.R2 = splitInductance(stated)
	d.Spread.Le = min(math.Hypot(d.Spread.Le, splitSpread), mostSpread)
	if w.stated.has(int(le)) { // else it is said already that Le is assumed
		w.assume("L2", d.L2, splitSpread, "lossy part of the stated Le (common practice, no source)")
		w.assume("R2", d.R2, splitSpread, "lossy part of the stated Le (common practice, no source)")
	}
}

func (w *work) assume(name string, value, spread float64, source string) {
	w.notes = append(w.notes, Note{Kind: Assumed, Quantity: name, Value: value, Spread: spread, Source: source, Fields: []string{name}})
}
