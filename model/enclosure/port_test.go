package enclosure

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"loudfor/model/air"
)

// rounding is what double precision leaves of a few operations.
const rounding = 1e-12

func TestEndCorrection(t *testing.T) {
	for _, c := range []struct {
		flanged int
		radii   float64 // both ends together
		source  string
	}{
		{2, 1.698, "Beranek and Mellow: flanged 8/(3 pi) = 0.849 each"},
		{1, 1.462, "Beranek and Mellow: flanged 0.849, free 0.613"},
		{0, 1.227, "Levine and Schwinger 1948: free 0.6133 each"},
	} {
		p := Port{Count: 1, Diameter: 0.1, Length: 0.2, FlangedEnds: c.flanged}
		if got := p.EndCorrection() / 0.05; math.Abs(got-c.radii) > 1e-3 {
			t.Errorf("%d flanged ends: %.4f radii, want %.3f (%s)", c.flanged, got, c.radii, c.source)
		}
	}
}

func TestTuning(t *testing.T) {
	a := air.At(20)
	// By hand: S = 7.854e-3 m2, L' = 0.2 + 1.462 x 0.05 = 0.2731 m, V = 0.05 m3:
	// 343.2/(2 pi) sqrt(7.854e-3/(0.05 x 0.2731)) = 41.42 Hz (Helmholtz).
	p := Port{Count: 1, Diameter: 0.1, Length: 0.2, FlangedEnds: 1}
	if got := p.Tuning(0.05, a); math.Abs(got-41.42) > 0.02 {
		t.Errorf("tuning %.3f Hz, want 41.42", got)
	}
	// Four ports of a chamber four times as large are one port of the chamber.
	four := p
	four.Count = 4
	if got, want := four.Tuning(0.2, a), p.Tuning(0.05, a); math.Abs(got/want-1) > rounding {
		t.Errorf("four ports on four chambers: %.6f Hz, one on one: %.6f", got, want)
	}
	// A slot of equal area is tuned like the round port.
	slot := Port{Count: 1, Width: 0.05, Height: p.Area() / 0.05, Length: 0.2, FlangedEnds: 1}
	if got, want := slot.Tuning(0.05, a), p.Tuning(0.05, a); math.Abs(got/want-1) > rounding {
		t.Errorf("slot: %.6f Hz, round: %.6f", got, want)
	}
}

func TestLengthForInvertsTuning(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a := air.At(rapid.Float64Range(-20, 45).Draw(t, "celsius"))
		p := Port{
			Count:       rapid.IntRange(1, 4).Draw(t, "count"),
			Diameter:    rapid.Float64Range(0.03, 0.3).Draw(t, "diameter"),
			Length:      rapid.Float64Range(0, 1).Draw(t, "length"),
			FlangedEnds: rapid.IntRange(0, 2).Draw(t, "flanged"),
		}
		v := rapid.Float64Range(0.005, 0.5).Draw(t, "volume")
		if got := p.LengthFor(p.Tuning(v, a), v, a); math.Abs(got-p.Length) > 1e-9 {
			t.Fatalf("length %g came back as %g", p.Length, got)
		}
	})
}

// The resistances against the textbook's Q of a pipe: w M/R = a/delta, a the
// radius and delta = sqrt(2 mu/(rho w)) the thickness of the boundary layer
// (the wall's resistance is sqrt(w rho mu/2) a square metre; Kinsler et al.).
func TestDrag(t *testing.T) {
	a := air.At(20)
	p := Port{Count: 3, Diameter: 0.08, Length: 0.3, FlangedEnds: 2}
	w := 2 * math.Pi * 35.0
	want := 0.04 / math.Sqrt(2*viscosity/(a.Density*w))
	if got := w * p.Mass(a) / p.drag(35, a); math.Abs(got/want-1) > 1e-9 {
		t.Errorf("Q of the port %.3f, want %.3f", got, want)
	}
}

// The describing function of the quadratic loss against a Fourier integral.
func TestTurbulence(t *testing.T) {
	a := air.At(20)
	p := Port{Count: 2, Diameter: 0.1, Length: 0.2, FlangedEnds: 1}
	const flow, steps = 0.3, 100000 // m3/s peak
	sum := 0.0
	for i := range steps {
		c := math.Cos(2 * math.Pi * (float64(i) + 0.5) / steps)
		v := flow * c / p.Area()
		sum += 2 * p.loss() * a.Density / 2 * v * math.Abs(v) * c / steps
	}
	if got := p.turbulence(a) * flow * flow; math.Abs(got/sum-1) > 1e-6 {
		t.Errorf("fundamental of the pressure loss %.4f Pa, integral %.4f", got, sum)
	}
}
