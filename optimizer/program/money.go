package program

import (
	"math/bits"

	"loudfor/catalog"
	"loudfor/optimizer/linear"
	"loudfor/optimizer/pricing"
)

// The cap, and what is paid. With one tax a weighed price is the plain price,
// and one row says it all. With taxes that have little in common, weighed
// prices are counted in millionths of a minor unit: factors of eleven digits, in
// which solvers lose the last ones and glpsol loses its way. Then the sum is kept
// in two rows, like digits with a carry: whole minor units, and millionths.
//
//	sum of millionths <= million x carry + half a minor unit - 1 millionth
//	sum of minor units + carry <= paid
//
// Some carry fits both if and only if paid is at least the till's figure (half
// up, so up to just below half is rounded down). Either way the numbers are whole
// and the rows are exact.

// longFactor is the largest price that one row is trusted with: a solver's
// noise of 1e-9 of it is far below one unit.
const longFactor = 10_000_000

func (w *wording) money() {
	long := false
	for _, t := range w.s.cost {
		long = long || t.Factor > longFactor || t.Factor < -longFactor
	}
	capped := w.t.Brief.Cap != (catalog.Money{})
	switch {
	case long:
		w.carry(capped)
	case capped:
		w.p.Bind(linear.Row{Name: "cap", Note: "the cap", Terms: w.s.cost, Limit: w.t.Limit})
	}
	if !long {
		w.s.pay = w.s.cost
	}
}

// carry writes the sum in two rows.
func (w *wording) carry(capped bool) {
	unit := uint64(w.t.Tax.Unit)
	fixed, fixedRest := minorUnits(w.t.Tax.Fixed, unit)
	most, pieces := fixed+1, int64(1)
	fine := linear.Row{Name: "millionths", Note: "millionths of minor units, and a carry", Relation: linear.AtMost, Limit: pricing.Million/2 - 1 - fixedRest}
	whole := linear.Row{Name: "whole", Note: "whole minor units, with the carry, are what is paid, at most the cap", Relation: linear.AtMost, Limit: -fixed}
	for _, t := range w.s.cost {
		n, rest := minorUnits(t.Factor, unit)
		if rest != 0 {
			fine.Terms = append(fine.Terms, linear.Term{Variable: t.Variable, Factor: rest})
		}
		if n != 0 {
			whole.Terms = append(whole.Terms, linear.Term{Variable: t.Variable, Factor: n})
		}
		pieces += w.p.Variables[t.Variable].Most
		most = min(pricing.Boundless, most+max(0, n)*w.p.Variables[t.Variable].Most)
	}
	if capped {
		most = w.t.Brief.Cap.Minor
	} else {
		most = min(pricing.Boundless, most+pieces)
	}
	carry := w.p.Add(linear.Variable{Name: "carry", Kind: linear.Whole, Most: pieces, Note: "minor units that the millionths make up"})
	paid := w.p.Add(linear.Variable{Name: "paid", Kind: linear.Whole, Most: most, Note: "minor units, everything included"})
	fine.Terms = append(fine.Terms, linear.Term{Variable: carry, Factor: -pricing.Million})
	whole.Terms = append(whole.Terms, one(carry), minus(paid))
	w.p.Bind(fine)
	w.p.Bind(whole)
	w.s.pay = []linear.Term{one(paid)}
}

// minorUnits splits a weighed price, which may be negative, into whole minor
// units, rounded down, and millionths.
func minorUnits(price int64, unit uint64) (whole, rest int64) {
	size := uint64(price)
	if price < 0 {
		size = uint64(-price)
	}
	high, low := bits.Mul64(size, unit)
	if high >= pricing.Million {
		return pricing.Boundless, 0
	}
	q, r := bits.Div64(high, low, pricing.Million)
	whole, rest = int64(min(q, uint64(pricing.Boundless))), int64(r)
	if price < 0 {
		if whole = -whole; rest > 0 {
			whole, rest = whole-1, pricing.Million-rest
		}
	}
	return whole, rest
}
