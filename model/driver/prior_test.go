package driver

import "testing"

// TestPriorsAreSmooth: what is assumed of a size lies between its neighbours', as far
// apart as nominal sizes make it (common practice, no source): larger drivers have
// the lower resonance and total Q, a little more of their size as piston, more of all
// else, and none changes by leaps. The volume of the suspension goes with the area
// squared over resonance squared and mass, which is a factor of 2.5 at most.
func TestPriorsAreSmooth(t *testing.T) {
	for i := range priors[1:] {
		a, b := priors[i], priors[i+1]
		for _, c := range []struct {
			name        string
			from, to    float64
			least, most float64 // of to over from
		}{
			{"size", a.size, b.size, 1.15, 1.3}, {"piston", a.piston, b.piston, 1, 1.03}, {"fs", a.fs, b.fs, 0.8, 0.95},
			{"Qms", a.qms, b.qms, 0.9, 1.1}, {"Qts", a.qts, b.qts, 0.9, 1}, {"Vas", a.vas, b.vas, 1.4, 2.5},
			{"Xmax", a.xmax, b.xmax, 1.05, 1.35}, {"power", a.power, b.power, 1.2, 1.5},
			{"Le/Re", a.coilTime, b.coilTime, 1.1, 1.35}, {"heat", a.heatTime, b.heatTime, 1.15, 1.45},
		} {
			if r := c.to / c.from; r < c.least-1e-9 || r > c.most+1e-9 {
				t.Errorf("%s from %.0f to %.0f inches: %.3g to %.3g", c.name, a.size/inch, b.size/inch, c.from, c.to)
			}
		}
	}
	if first, last := priors[0].size/inch, priors[len(priors)-1].size/inch; first != 8 || last != 18 {
		t.Errorf("from %g to %g inches", first, last)
	}
}
