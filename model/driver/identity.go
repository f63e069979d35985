package driver

import (
	"math"

	"loudfor/model/air"
)

// The identities. All but the first are products of powers, so they are
// straight lines in the logarithms of the quantities, and the whole solver
// works on logarithms: nothing can turn negative, and a relative error is a
// difference. (Thiele 1971; Small 1972.)
//
// With C coils, each of resistance Re and force factor Bl, in use: all in
// series make C Re and C Bl, all in parallel Re/C and Bl; either way
// Qes = 2 pi fs Mms Re/(C Bl^2).
//
// Qms = 2 pi fs Mms/Rms only defines Rms, which no card states.

// identity is one of them: the sum of weight times logarithm is constant. The
// quantity on the left of the name has weight 1, so that a residual is the
// logarithm of left over right.
type identity struct {
	name   string
	weight [quantities]float64
	uses   set
}

const (
	quality = iota // the one that is not a product
	compliance
	resonance
	damping
	efficiency
	numIdentities
)

var identities = [numIdentities]identity{
	quality: {
		name: "Qts = Qms Qes/(Qms+Qes)",
		uses: set(0).with(int(qts)).with(int(qms)).with(int(qes)),
	},
	compliance: product("Vas = rho c^2 Sd^2 Cms",
		[quantities]float64{vas: 1, sd: -2, cms: -1}),
	resonance: product("fs = 1/(2 pi sqrt(Mms Cms))",
		[quantities]float64{fs: 1, mms: 0.5, cms: 0.5}),
	damping: product("Qes = 2 pi fs Mms Re/(C Bl^2)",
		[quantities]float64{qes: 1, fs: -1, mms: -1, re: -1, bl: 2}),
	efficiency: product("eta0 = 4 pi^2 fs^3 Vas/(c^3 Qes)",
		[quantities]float64{eta: 1, fs: -3, vas: -1, qes: 1}),
}

func product(name string, weight [quantities]float64) identity {
	id := identity{name: name, weight: weight}
	for q, w := range weight {
		if w != 0 {
			id.uses = id.uses.with(q)
		}
	}
	return id
}

// constants are the right-hand sides of the identities, in identity order.
type constants [numIdentities]float64

func constantsOf(a air.Air, coils int) constants {
	c := a.SoundSpeed
	return constants{
		compliance: math.Log(a.Density * c * c),
		resonance:  -math.Log(2 * math.Pi),
		damping:    math.Log(2 * math.Pi / float64(coils)),
		efficiency: math.Log(4 * math.Pi * math.Pi / (c * c * c)),
	}
}

// residual is the logarithm of left over right of an identity all of whose
// quantities are known.
func (k *constants) residual(id int, log *[quantities]float64) float64 {
	if id == quality {
		return log[qts] - parallelQ(log[qms], log[qes])
	}
	sum := -k[id]
	for q, w := range identities[id].weight {
		if w != 0 {
			sum += w * log[q]
		}
	}
	return sum
}

// solve gives the logarithm of the one quantity that the identity lacks. It is
// not ok when no positive number satisfies it: Qts at or above Qms or Qes.
func (k *constants) solve(id int, missing quantity, log *[quantities]float64) (value float64, ok bool) {
	if id == quality {
		switch missing {
		case qts:
			return parallelQ(log[qms], log[qes]), true
		case qms:
			return differenceQ(log[qts], log[qes])
		default:
			return differenceQ(log[qts], log[qms])
		}
	}
	id2 := &identities[id]
	sum := k[id]
	for q, w := range id2.weight {
		if w != 0 && quantity(q) != missing {
			sum -= w * log[q]
		}
	}
	return sum / id2.weight[missing], true
}

// parallelQ is the logarithm of the two losses together: 1/Q = 1/a + 1/b.
func parallelQ(a, b float64) float64 {
	return -math.Log(math.Exp(-a) + math.Exp(-b))
}

// differenceQ is the logarithm of what the total leaves beside one part.
func differenceQ(total, part float64) (float64, bool) {
	rest := math.Exp(-total) - math.Exp(-part)
	if rest <= 0 {
		return 0, false
	}
	return -math.Log(rest), true
}
