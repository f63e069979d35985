package driver

import (
	"math"
	"strings"
	"testing"
)

// TestTraits: what a card implies are powers of resonance, mass and electrical Q, as
// the definitions of R. H. Small (1972) have them: Bl^2 = 2 pi fs Mms Re / Qes, and the
// efficiency rho (Bl Sd)^2 / (2 pi c Re Mms^2). A trait has the powers of its quantity,
// or of its square.
func TestTraits(t *testing.T) {
	bl := func(fs, mass, qes float64) float64 { return math.Sqrt(2 * math.Pi * fs * mass * 3.5 / qes) }
	formulas := map[string]func(fs, mass, qes float64) float64{
		"moving mass":  func(_, mass, _ float64) float64 { return mass },
		"resonance":    func(fs, _, _ float64) float64 { return fs },
		"force factor": bl,
		"efficiency":   func(fs, mass, qes float64) float64 { return math.Pow(bl(fs, mass, qes)*0.05/mass, 2) },
	}
	for _, trait := range traits {
		f := formulas[trait.name]
		if f == nil {
			t.Errorf("%s has no formula here", trait.name)
			continue
		}
		at := math.Log(f(30, 0.2, 0.5))
		powers := [3]float64{math.Log(f(60, 0.2, 0.5)) - at, math.Log(f(30, 0.4, 0.5)) - at, math.Log(f(30, 0.2, 1)) - at}
		stated := [3]float64{trait.fs, trait.mass, trait.qes}
		scale := 0.0 // 1 or 2, the same for all three
		for i, p := range powers {
			if p /= math.Ln2; math.Abs(p) > 1e-9 {
				scale = max(scale, math.Abs(stated[i]/p))
			}
		}
		for i, p := range powers {
			if math.Abs(stated[i]-scale*p/math.Ln2) > 1e-9 || scale < 0.999 || scale > 2.001 {
				t.Errorf("%s: powers %v, the formula has %v", trait.name, stated, powers)
				break
			}
		}
	}
}

// TestFormat: four digits, whole from a thousand, as people write them.
func TestFormat(t *testing.T) {
	plain, litres := field{scale: 1}, field{scale: 1e-3, unit: "L", low: 0.5, high: 3000}
	for v, want := range map[float64]string{0.4567: "0.4567", 12.3456: "12.35", 999.4: "999.4", 1234.4: "1234", 12345.6: "12346", 999_999: "999999", -1234.4: "-1234"} {
		if got := plain.format(v); got != want {
			t.Errorf("%g: %s, want %s", v, got, want)
		}
		if got := litres.format(v / 1000); got != want+" L" {
			t.Errorf("%g: %s, want %s L", v, got, want)
		}
	}
	if got := litres.limits(); got != "between 0.5 and 3000 L" {
		t.Error(got)
	}
}

// TestTitles: what a number was set aside for is named; where it contradicts a plain
// quantity, by that.
func TestTitles(t *testing.T) {
	for q, want := range map[quantity]string{re: "Re against CoilLoad", sd: "Sd against Size", xmax: "Xmax", fs: "Fs"} {
		if got := (&loss{q: q}).title(); !strings.EqualFold(got, want) {
			t.Errorf("%q, want %q", got, want)
		}
	}
}
