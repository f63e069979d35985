package learning

import (
	"math"
	"slices"
	"testing"
)

// What the walls lose has three numbers: the Q of the first mode, the power of
// frequency, and what the pressure zone loses. Readings shut and with the doors
// open, from 20 Hz on, tell them apart: all three are known better than before,
// none is just the other with another name, and the truth lies where the fit
// says that it does.
func TestLossesApart(t *testing.T) {
	n := worlds(t)
	names := []string{"damping", "exponent", "zone loss"}
	var off, left [3]float64
	tied, square := 0.0, 0.0
	for seed := range n {
		w := randomWorld(t, uint64(5000+seed))
		var asked []Setting
		for i, hz := range []float64{20, 23, 26, 30, 42, 55, 70} {
			asked = append(asked, Setting{Place: w.study.Body.PlaceNames()[i%3], Openings: "shut", Hz: hz, Volts: 8})
		}
		for i, hz := range []float64{28, 34, 40, 46, 55, 65} {
			asked = append(asked, Setting{Place: w.study.Body.PlaceNames()[i%3], Openings: "doors open", Hz: hz, Volts: 8})
		}
		var err error
		if w.study, err = NewStudy(w.study.Body, 20, w.study.Cases, w.read(t, asked)); err != nil {
			t.Fatal(err)
		}
		fit, err := w.study.Fit()
		if err != nil {
			t.Fatal(err)
		}
		var at [3]int
		for i, name := range names {
			at[i] = slices.Index(w.study.Body.Unknowns(), name)
			spread := math.Sqrt(fit.Cov.At(at[i], at[i]))
			off[i] += math.Pow(fit.X[at[i]]-w.truth[at[i]], 2) / float64(n)
			left[i] += spread / float64(n)
			square += math.Pow((fit.X[at[i]]-w.truth[at[i]])/spread/fit.Cross.Widened, 2) / float64(3*n)
		}
		for i := range at {
			for k := range i {
				tied = max(tied, math.Abs(fit.Cov.At(at[i], at[k]))/math.Sqrt(fit.Cov.At(at[i], at[i])*fit.Cov.At(at[k], at[k])))
			}
		}
	}
	for i, name := range names {
		t.Logf("%-9s %.2f standard deviations off rms, %.2f said, 1 before any reading", name, math.Sqrt(off[i]), left[i])
		// A few worlds scatter about the mean of hundreds.
		if left[i] > 0.85 || (n >= 100 && math.Sqrt(off[i]) > 0.8) {
			t.Errorf("%s is hardly learned: %.2f off, %.2f said", name, math.Sqrt(off[i]), left[i])
		}
	}
	t.Logf("errors are %.2f of what is said, the tightest tie of two is %.2f", math.Sqrt(square), tied)
	if tied > 0.95 {
		t.Errorf("two of them cannot be told apart: a tie of %.2f", tied)
	}
	if n >= 100 && (math.Sqrt(square) < 0.75 || math.Sqrt(square) > 1.25) {
		t.Errorf("errors are %.2f of what is said", math.Sqrt(square))
	}
}
