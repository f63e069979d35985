package driver

import (
	"fmt"
	"math"
	"strings"
)

// What the card is told about itself: which identity fails and by how much,
// which number is the likely slip, and what was used instead.

// report turns the losses of a verdict into notes, or into refusals where no
// tolerance could explain them. It runs when everything is known.
func (w *work) report(v *verdict) {
	if len(v.lost) == 0 {
		return
	}
	var contradictions []Note
	covered := set(0)
	for id := range identities {
		uses := identities[id].uses
		if uses.minus(w.stated) != 0 {
			continue
		}
		residual := w.k.residual(id, &w.e.log)
		culprit, blamed := blame(v, uses)
		if !blamed || math.Abs(residual) <= math.Log1p(tolerance(uses)) {
			continue
		}
		covered = covered.with(int(culprit))
		contradictions = append(contradictions, w.contradiction(v, culprit, identities[id].name, math.Expm1(residual), uses.minus(only(culprit))))
	}
	for i := range v.lost {
		l := &v.lost[i]
		gap := w.e.log[l.q] - w.state.log[l.q]
		if !covered.has(int(l.q)) {
			contradictions = append(contradictions, w.contradiction(v, l.q, l.title(), math.Expm1(gap), l.roots))
		}
		w.refuseBeyond(v, l, gap)
	}
	w.notes = append(contradictions, w.notes...)
}

// blame is the set-aside value that an identity uses, if any.
func blame(v *verdict, uses set) (quantity, bool) {
	for i := len(v.lost) - 1; i >= 0; i-- {
		if uses.has(int(v.lost[i].q)) {
			return v.lost[i].q, true
		}
	}
	return 0, false
}

func tolerance(uses set) float64 {
	if uses.has(int(eta)) {
		return SensitivityTolerance
	}
	return Tolerance
}

// title names what a value set aside contradicts.
func (l *loss) title() string {
	switch {
	case l.trail != 0:
		return l.trail.titles()
	case l.q == re:
		return "Re against CoilLoad"
	case l.q == sd:
		return "Sd against Size"
	}
	return card[l.q].name
}

func (w *work) contradiction(v *verdict, q quantity, title string, discrepancy float64, others set) Note {
	used := w.value(q, w.state.log[q])
	stated := card[q].value(w.card)
	text := fmt.Sprintf("%s stated as %s, used as %s", card[q].name, card[q].format(stated), card[q].format(used))
	switch {
	case v.suspects.count() == 1:
		text += "; without it all the others agree"
	case v.suspects != 0:
		text += "; one of " + strings.Join(v.suspects.names(), ", ") + " is wrong"
	}
	text += w.hint(q)
	return Note{
		Kind: Inconsistent, Quantity: title, Value: used, Spread: discrepancy, Source: text,
		Fields: append([]string{card[q].name}, others.minus(only(q)).names()...),
	}
}

// slipWidth is how closely, as a natural logarithm, a wrong value has to fit a
// known slip to be taken for it: wide, because Re may be a prior.
const slipWidth = 0.25

// hint recognises the usual slips. With two or more coils, a value that holds
// for the coils in series or in parallel where one coil's is wanted; and a
// sensitivity at 2.83 V where that at 1 W is wanted.
func (w *work) hint(q quantity) string {
	gap := w.e.log[q] - w.state.log[q]
	slip := func(factor float64) bool {
		return math.Abs(math.Log(factor)) > slipWidth && math.Abs(gap-math.Log(factor)) < slipWidth
	}
	n := float64(w.coils)
	switch {
	case (q == re || q == bl) && slip(n):
		return fmt.Sprintf("; it seems to be that of %d coils in series, give that of one coil", w.coils)
	case q == re && slip(1/n):
		return fmt.Sprintf("; it seems to be that of %d coils in parallel, give that of one coil", w.coils)
	case q == eta:
		volt := referenceVolts * referenceVolts / math.Exp(w.state.log[re])
		if slip(volt/n) || slip(volt*n) {
			return "; it seems to be that at 2.83 V, give that at 1 W"
		}
	}
	return ""
}

// refuseBeyond refuses a card whose contradiction no tolerance explains.
func (w *work) refuseBeyond(v *verdict, l *loss, gap float64) {
	most := beyondReason
	size := l.residual
	switch {
	case w.state.origin[l.q].roots&w.assumed != 0:
		return // what is typical is no evidence that a number cannot be right
	case l.identity < 0:
		most, size = beyondSize, gap
	case l.q == eta:
		most = beyondAdvertising
	case l.identity == damping:
		most *= float64(w.coils * w.coils) // the slip that hint explains
	}
	if math.Abs(size) <= math.Log(most) {
		return
	}
	stated, used := card[l.q].value(w.card), w.value(l.q, w.state.log[l.q])
	who := ""
	if v.suspects.count() > 1 {
		who = "; or one of " + strings.Join(v.suspects.minus(only(l.q)).names(), ", ") + " is wrong"
	}
	w.fault.refuse(l.q, stated, "%s cannot be right, %s follows by %s%s",
		card[l.q].format(stated), card[l.q].format(used), l.title(), who)
}

// value is a solver value as the card states it: SI, the efficiency in dB.
func (w *work) value(q quantity, log float64) float64 {
	if q == eta {
		return w.watt + 10*log/math.Ln10
	}
	return math.Exp(log)
}

// derived reports what was computed rather than stated or assumed.
func (w *work) derived() {
	for q := range quantities {
		from := &w.state.origin[q]
		if from.last == entered || w.stated.has(int(q)) {
			continue
		}
		kind := Derived
		if from.roots&w.assumed != 0 {
			kind = Follows
		}
		w.notes = append(w.notes, Note{
			Kind: kind, Quantity: card[q].name, Value: w.value(q, w.state.log[q]), Spread: w.sigma[q],
			Source: from.trail.titles() + " from " + strings.Join(from.roots.names(), ", "),
			Fields: []string{card[q].name},
		})
	}
}
