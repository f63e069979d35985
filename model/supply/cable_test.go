package supply

import (
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"
)

func near(t *testing.T, what string, got, want, relative float64) {
	t.Helper()
	if !(math.Abs(got-want) <= relative*math.Abs(want)) {
		t.Errorf("%s: got %g, want %g", what, got, want)
	}
}

func TestGauges(t *testing.T) {
	// ASTM B258, nominal diameters in inches.
	for awg, inches := range map[int]float64{
		-3: 0.4600, -2: 0.4096, -1: 0.3648, 0: 0.3249, 1: 0.2893, 2: 0.2576,
		4: 0.2043, 6: 0.1620, 8: 0.1285, 10: 0.1019, 12: 0.0808, 14: 0.0641,
		16: 0.0508, 18: 0.0403, 20: 0.0320, 36: 0.0050, 40: 0.0031,
	} {
		d := math.Sqrt(4*AreaOfGauge(awg)/math.Pi) / 0.0254
		if math.Abs(d-inches) > 0.00006 {
			t.Errorf("%s: diameter %.5f in, want %.4f", GaugeName(awg), d, inches)
		}
	}
	for awg, name := range map[int]string{8: "8 AWG", 0: "1/0 AWG", -3: "4/0 AWG"} {
		if got := GaugeName(awg); got != name {
			t.Errorf("got %q, want %q", got, name)
		}
	}
	for awg := thickest; awg <= thinnest; awg++ {
		if got, ok := GaugeOf(AreaOfGauge(awg)); got != awg || !ok {
			t.Errorf("gauge %d comes back as %d", awg, got)
		}
	}
	if _, ok := GaugeOf(200e-6); ok {
		t.Error("200 mm2 fits in 4/0")
	}
	if AreaOfGauge(41) != 0 || AreaOfGauge(-4) != 0 {
		t.Error("wires that do not exist")
	}
}

func TestResistance(t *testing.T) {
	// ASTM B258 wire tables: 4 AWG copper 0.2485 ohm per 1000 ft, 1/0 AWG
	// 0.0983 ohm per 1000 ft at 20 C (from memory).
	for awg, perThousandFeet := range map[int]float64{4: 0.2485, 0: 0.0983, 10: 0.9989} {
		near(t, GaugeName(awg), Resistance(AreaOfGauge(awg), 304.8/2, false), perThousandFeet, 0.002)
	}
	near(t, "copper-clad", Resistance(1e-5, 5, true)/Resistance(1e-5, 5, false), 2.7/1.724, 1e-12)
	if r := Resistance(0, 5, false); math.IsInf(r, 0) || r < 1e6 {
		t.Errorf("no area: %g ohm", r)
	}
	if r := Resistance(1e-5, 0, false); r != 0 {
		t.Errorf("no length: %g ohm", r)
	}
}

func TestAmpacity(t *testing.T) {
	// ABYC E-11, 75 C insulation outside engine spaces (from memory).
	for awg, amps := range map[int]float64{8: 65, 4: 125, 0: 230, -3: 360} {
		near(t, GaugeName(awg), Ampacity(AreaOfGauge(awg), false), amps, 1e-9)
	}
	// Same heat: I^2 rho.
	near(t, "copper-clad", Ampacity(2e-5, true), Ampacity(2e-5, false)*0.799, 1e-3)
	rapid.Check(t, func(t *rapid.T) {
		area := rapid.Float64Range(1e-9, 2e-4).Draw(t, "area")
		more := area * rapid.Float64Range(1, 2).Draw(t, "ratio")
		if Ampacity(more, false) < Ampacity(area, false)*(1-1e-12) {
			t.Fatalf("%g m2 carries less than %g m2", more, area)
		}
	})
	if Ampacity(0, false) != 0 || Ampacity(math.NaN(), true) != 0 {
		t.Error("no area carries a current")
	}
}

func TestFuses(t *testing.T) {
	for _, c := range []struct{ ampacity, largest float64 }{
		{0.5, 0}, {65, 60}, {99.9, 100}, {98, 80}, {125, 125}, {230, 225}, {1000, 500},
	} {
		if got := LargestFuse(c.ampacity); got != c.largest {
			t.Errorf("ampacity %g A: fuse %g A, want %g A", c.ampacity, got, c.largest)
		}
	}
	if got := SmallestFuse(41); got != 50 {
		t.Errorf("41 A: fuse of %g A, want 50 A", got)
	}
	if got := SmallestFuse(501); got != 0 {
		t.Errorf("501 A: fuse of %g A, want none", got)
	}
}

func TestDemandAndReserve(t *testing.T) {
	near(t, "300 W class AB", Demand(300, 0.6), 300/0.6/14.4, 1e-12)
	near(t, "90 A alternator, 30 A standby", Reserve(90, 30), 24, 1e-12)
	for _, nothing := range []float64{Demand(0, 0.6), Demand(100, 0), Reserve(40, 60), Reserve(math.NaN(), 1)} {
		if nothing != 0 {
			t.Errorf("got %g, want 0", nothing)
		}
	}
}

func TestKit(t *testing.T) {
	four := Kit{Area: AreaOfGauge(4), Length: 5, Fuse: 100}
	for _, c := range []struct {
		name  string
		kit   Kit
		amps  float64
		ok    bool
		fuse  float64
		marks int
	}{
		{"carries", four, 60, true, 100, 0},
		{"carries, just", four, 100, true, 100, 1},
		{"fuse melts, a larger one would do", four, 105, false, 125, 1},
		{"cable too thin", four, 140, false, 0, 1},
		{"long run: remark on the drop", Kit{Area: four.Area, Length: 8, Fuse: 100}, 60, true, 100, 1},
		{"fuse above the ampacity", Kit{Area: AreaOfGauge(8), Length: 5, Fuse: 80, CopperClad: true}, 30, false, 50, 1},
		{"no fuse", Kit{Area: four.Area, Length: 5}, 60, true, 125, 1},
		{"nothing known", Kit{}, 10, false, 0, 0},
	} {
		v := c.kit.Carries(c.amps, 0)
		if v.OK != c.ok || v.Fuse != c.fuse || len(v.Remarks) != c.marks || v.OK != (len(v.Reasons) == 0) {
			t.Errorf("%s: %+v", c.name, v)
		}
	}
	if v := four.Carries(60, 120); len(v.Remarks) != 1 || !v.OK {
		t.Errorf("amplifier's fuse above the cable's: %+v", v)
	}
}

func TestKitNeverFusesAboveAmpacity(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		k := Kit{
			Area:       rapid.Float64Range(1e-7, 2e-4).Draw(t, "area"),
			Length:     rapid.Float64Range(0, 10).Draw(t, "length"),
			CopperClad: rapid.Bool().Draw(t, "clad"),
			Fuse:       rapid.SampledFrom(append(slices.Clone(fuses), 0)).Draw(t, "fuse"),
		}
		amps := rapid.Float64Range(0, 400).Draw(t, "amps")
		v := k.Carries(amps, 0)
		if v.Fuse > v.Ampacity*(1+FuseTolerance) || v.OK && v.Fuse < amps {
			t.Fatalf("%+v: %+v", k, v)
		}
	})
}
