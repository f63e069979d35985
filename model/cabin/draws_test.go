package cabin

import (
	"math"
	"testing"
)

// TestEveryUnknownIsDrawn: each number of a deviation is drawn for itself, near normal
// (cut at three standard deviations, the variance is 0.973), and none goes with another.
func TestEveryUnknownIsDrawn(t *testing.T) {
	const n = 4000
	list := draws(n, 2, 7)
	size := len(list[0].Vector())
	product := make([]float64, size*size)
	for _, d := range list {
		v := d.Vector()
		for i, x := range v {
			for j, y := range v {
				product[i*size+j] += x * y / n
			}
		}
	}
	for i := range size {
		for j := range size {
			// Half of the draws are the others' opposites: 2,000 independent ones, which
			// scatter by 0.02 (0.03 on the diagonal). The seed stands.
			want := map[bool]float64{true: 0.973}[i == j]
			if got := product[i*size+j]; math.Abs(got-want) > 0.12 {
				t.Errorf("unknowns %d and %d: covariance %.3f, want %.3f", i, j, got, want)
			}
		}
	}
}

// TestSpreadsAsTold: of a value known by its logarithm, nine in ten lie 1.645 spreads
// to either side; the ranges are those that the comments beside the spreads give.
func TestSpreadsAsTold(t *testing.T) {
	for _, c := range []struct {
		name              string
		spread, low, high float64
	}{
		{"share of a panel", panelShareSpread, 0.1, 0.3},
		{"resonance of a panel", panelResonanceSpread, 25, 60},
	} {
		if got, want := math.Exp(2*1.645*c.spread), c.high/c.low; math.Abs(got/want-1) > 0.1 {
			t.Errorf("%s: nine in ten lie within a factor of %.2f, not %.2f", c.name, got, want)
		}
	}
	// The Q of a car: one standard deviation from 3.5 to 7, two from 2.5 to 10.
	for z, want := range map[float64][2]float64{1: {3.5, 7}, 2: {2.5, 10}} {
		low, high := priorQ*math.Exp(-z*priorAdmittanceSpread), priorQ*math.Exp(z*priorAdmittanceSpread)
		if math.Abs(low/want[0]-1) > 0.05 || math.Abs(high/want[1]-1) > 0.05 {
			t.Errorf("Q from %.2f to %.2f at %g standard deviations", low, high, z)
		}
	}
	// Nine in ten exponents between 0 and 2.
	if got := 1.645 * priorExponentSpread; math.Abs(got-1) > 0.05 || priorExponent != 1 {
		t.Errorf("exponent %d, nine in ten within %.2f", priorExponent, got)
	}
	if math.Abs(math.Exp(priorZoneSpread)/2-1) > 0.05 {
		t.Errorf("what the zone loses is known to a factor of %.2f", math.Exp(priorZoneSpread))
	}
}
