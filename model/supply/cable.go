package supply

import (
	"fmt"
	"math"
)

// Cable: how thick, and what it loses.

const (
	// copper is the resistivity of annealed copper at 20 C, ohm m
	// (IEC 60028: 1/58 of an ohm mm2/m).
	copper = 1.724e-8

	// copperCladAluminium is that of aluminium wire with 10 to 15 % of its
	// area in copper, ohm m (common practice, no source; solid aluminium has
	// 2.83e-8 after IEC 60889, from memory).
	copperCladAluminium = 2.7e-8

	// openCircuit stands for a cable without any area, ohm: far more than
	// anything in a car, and finite.
	openCircuit = 1e9

	thickest = -3 // 4/0
	thinnest = 40
)

func resistivity(copperClad bool) float64 {
	if copperClad {
		return copperCladAluminium
	}
	return copper
}

// Resistance is that of a run of cable, ohm: area in m2, length of the run in
// m one way; the return is taken as alike, so the length counts twice. (A
// return through the body is no better in practice: its joints cost more.)
func Resistance(area, length float64, copperClad bool) float64 {
	if !(length > 0) {
		return 0
	}
	if !(area > 0) {
		return openCircuit
	}
	return min(openCircuit, 2*length*resistivity(copperClad)/area)
}

// AreaOfGauge is the area, m2, of an American wire gauge from 4/0 to 40:
// d = 0.005 in x 92^((36-n)/39) (ASTM B258). The gauges above 0 count
// downwards: 0 is 1/0, -1 is 2/0, -2 is 3/0, -3 is 4/0. Other numbers have no
// wire: 0.
func AreaOfGauge(awg int) float64 {
	if awg < thickest || awg > thinnest {
		return 0
	}
	const inch = 0.0254
	d := 0.005 * inch * math.Pow(92, float64(36-awg)/39)
	return math.Pi / 4 * d * d
}

// GaugeOf is the thinnest gauge, as AreaOfGauge counts them, that has at least
// an area in m2. ok is false when 4/0 is not enough.
func GaugeOf(area float64) (awg int, ok bool) {
	const rounding = 1e-9 // an area that went through mm2 and back
	for awg = thinnest; awg >= thickest; awg-- {
		if AreaOfGauge(awg) >= area*(1-rounding) {
			return awg, true
		}
	}
	return thickest, false
}

// GaugeName is a gauge as the trade writes it: "4 AWG", "1/0 AWG", "4/0 AWG".
func GaugeName(awg int) string {
	if awg <= 0 {
		return fmt.Sprintf("%d/0 AWG", 1-awg)
	}
	return fmt.Sprintf("%d AWG", awg)
}
