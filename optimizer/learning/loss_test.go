package learning

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/mat"
)

// TestLossIsHuber holds the loss against its definition (P. Huber, Annals of
// Mathematical Statistics 35, 1964): the square up to the limit, beyond it a straight
// line that goes on from there with the same slope. So half its slope is the residual,
// cut at the limit, which is what a reading pulls with: its weight times its residual.
func TestLossIsHuber(t *testing.T) {
	f := &Fit{view: &view{seen: []observation{{value: 100, sigma: 1.5}}}}
	loss := func(r float64) float64 { return f.loss([]float64{100 - 1.5*r}, nil) }
	const step = 1e-5
	for _, r := range []float64{0, 0.5, 1.9, 2.1, 3, 10, -0.5, -7} {
		slope := (loss(r+step) - loss(r-step)) / (2 * step)
		if want := 2 * max(-huber, min(huber, r)); math.Abs(slope-want) > 1e-6 {
			t.Errorf("%g tolerances off: slope %g, want %g", r, slope, want)
		}
		if got, want := 2*r*f.pulls([]float64{100 - 1.5*r})[0], slope; math.Abs(got-want) > 1e-6 {
			t.Errorf("%g tolerances off: pulls with %g, want %g", r, got, want)
		}
	}
	if got, want := loss(huber+1e-9), loss(huber-1e-9); math.Abs(got-want) > 1e-6 || loss(1) != 1 || loss(0) != 0 {
		t.Errorf("the loss leaps at its limit, from %g to %g", want, got)
	}
	if got := f.loss([]float64{100}, []float64{1, -2}); got != 5 {
		t.Errorf("unknowns 1 and 2 standard deviations off cost %g", got)
	}
}

// TestLikelihood: three independent readings, each its tolerance off, are a weighed sum
// of squares of three, as many as there are, and that is as far as is likely; each
// three times its tolerance off, 27, are not.
func TestLikelihood(t *testing.T) {
	f := &Fit{Study: &Study{unknowns: 1}, Cov: identity(1), slopes: mat.NewDense(3, 1, nil),
		view: &view{seen: []observation{{value: 1, sigma: 1}, {value: 2, sigma: 2}, {value: -0.5, sigma: 0.5}}}}
	w, err := f.weigher()
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		predicted []float64
		want      string
	}{
		{[]float64{0, 0, 0}, "3 observations, weighed sum of squares 3.0: as far from the prediction as ordinary errors make likely"},
		{[]float64{-2, -4, 1}, "3 observations, weighed sum of squares 27.0: further from the prediction than ordinary errors make likely"},
	} {
		if got := f.misfit(w, c.predicted); len(got) != 1 || got[0] != c.want {
			t.Errorf("%q, want %q", got, c.want)
		}
	}
}
