package driver

import "math"

// Which stated values win when they contradict each other. The rule:
//
//  1. Stated values are taken up in the order of belief (quantity.go). One
//     that already follows from those before it is not used; if it differs
//     from what follows by more than the tolerance, it has lost.
//  2. If something lost, look for one stated value without which all others
//     agree; that one is set aside instead. If several would do, the least
//     believed of them.
//
// So three numbers that agree outvote a fourth, and between two that merely
// contradict each other the one nearer to a measurement stands. Differences
// within the tolerance are resolved by rule 1 without a word: cards are
// rounded.

const (
	// Tolerance is the relative discrepancy of one identity that rounding on
	// a card explains: fs to 1 Hz, Qts to 0.01 and Vas to 1 L add to about
	// 5 %.
	Tolerance = 0.06

	// SensitivityTolerance is that of the identity with eta0: 1 dB.
	SensitivityTolerance = 0.26
)

// A derived value outside these bounds shows that a stated one is wrong; they
// are as wide as real drivers come.
const (
	leastQms, mostQms       = 1.2, 40    // when found as a difference from other than stated Qs
	leastPiston, mostPiston = 0.6, 0.95  // effective over nominal diameter
	leastShare, mostShare   = 0.55, 1.25 // Re over nominal coil load
)

// evidence is what a card states of the quantities in the identities.
type evidence struct {
	k      *constants
	stated set
	log    [quantities]float64
	size   float64 // 0 if not stated
	load   float64 // nominal load of a coil, 0 if not stated
}

// loss is one stated value that was set aside.
type loss struct {
	q        quantity
	identity int     // that it breaks, or together or insane
	residual float64 // ln(left/right) of that identity, or of stated over implied
	trail    set     // the identities between it and the winners
	roots    set     // the winners
}

const insane = -3 // mark in loss.identity: leads to a value that no driver has

// verdict is the outcome: what is known from the winners, who lost, and which
// stated values could each have been the one in error.
type verdict struct {
	state    state
	lost     []loss
	suspects set
}

// judge applies the rule.
func (e *evidence) judge() verdict {
	v := e.adopt(0)
	if len(v.lost) == 0 {
		return v
	}
	for q := quantities - 1; q >= 0; q-- {
		if !e.stated.has(int(q)) {
			continue
		}
		without := e.adopt(only(q))
		if len(without.lost) > 0 {
			continue
		}
		if v.suspects == 0 {
			v.state = without.state
			l, _ := e.weigh(&v.state, q)
			v.lost = []loss{l}
		}
		v.suspects = v.suspects.with(int(q))
	}
	return v
}

// adopt takes up the stated values in order of belief.
func (e *evidence) adopt(skip set) verdict {
	v := verdict{state: state{k: e.k}}
	for q := range quantities {
		if !e.stated.has(int(q)) || skip.has(int(q)) {
			continue
		}
		l, next := e.weigh(&v.state, q)
		if l.identity == entered {
			v.state = next
		} else if l.exceeds() {
			v.lost = append(v.lost, l)
		}
	}
	return v
}

// weigh says how a stated value fares against what is known already. If it is
// news, and acceptable, the loss is marked entered and next is what is known
// with it.
func (e *evidence) weigh(s *state, q quantity) (l loss, next state) {
	l = loss{q: q}
	if s.known.has(int(q)) {
		from := &s.origin[q]
		l.identity, l.trail, l.roots = from.last, from.trail, from.roots
		l.residual = e.log[q] - s.log[q]
		if from.last >= 0 {
			log := s.log
			log[q] = e.log[q]
			l.residual = e.k.residual(from.last, &log)
		}
		return l, next
	}
	next = *s
	next.put(q, e.log[q])
	bad, found := qts, true
	if next.close() {
		bad, found = e.insanity(&next)
	} else { // the Qs admit no solution
		bad = lowest(identities[quality].uses &^ next.known)
		for _, part := range [...]quantity{qts, qes, qms} {
			next.origin[bad].merge(&next.origin[part])
		}
		next.origin[bad].trail = next.origin[bad].trail.with(quality)
	}
	if !found {
		l.identity = entered
		return l, next
	}
	l.identity = insane
	l.trail = next.origin[bad].trail
	l.roots = next.origin[bad].roots.minus(only(q))
	return l, next
}

// exceeds says whether the discrepancy is more than rounding. The
// roundings along a trail of n identities are independent, so they add as
// squares.
func (l *loss) exceeds() bool {
	if l.identity == insane {
		return true
	}
	tolerance := Tolerance
	if l.q == eta {
		tolerance = SensitivityTolerance
	}
	return math.Abs(l.residual) > math.Log1p(tolerance)*math.Sqrt(float64(l.trail.count()))
}

// insanity finds a value that no real driver has. Values that come straight
// from stated Qs are spared: those were checked against each other already.
func (e *evidence) insanity(s *state) (quantity, bool) {
	for q := range quantities {
		if !s.known.has(int(q)) {
			continue
		}
		log := s.log[q]
		v := math.Exp(log)
		ok := q == eta || card[q].possible(v)
		switch {
		case q == qms && !s.origin[qms].within(qts, qes, qms):
			ok = ok && v >= leastQms && v <= mostQms
		case q == sd && e.size > 0:
			ratio := math.Sqrt(v / frameArea(e.size))
			ok = ok && ratio >= leastPiston && ratio <= mostPiston
		case q == re && e.load > 0:
			ok = ok && v/e.load >= leastShare && v/e.load <= mostShare
		case q == eta:
			ok = log < 0 // no more sound than power
		}
		if !ok {
			return q, true
		}
	}
	return 0, false
}

// within says whether a value rests on nothing but the given ones.
func (o *origin) within(qs ...quantity) bool {
	rest := o.roots
	for _, q := range qs {
		rest = rest.minus(only(q))
	}
	return rest == 0
}
