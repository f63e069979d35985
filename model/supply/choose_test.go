package supply

import (
	"errors"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// Twelve runs of cable. The gauge follows by hand from two published tables:
// for the voltage lost, the circular mils of ABYC E-11, CM = 10.75 I L/E with
// the length L there and back in feet and E in volts (from memory; 10.75 is
// copper a little warm, so cases near a limit are left out), against those of
// ASTM B258; for heat, the 75 C column of ABYC E-11 (from memory). The fuse is
// the largest standard size of ISO 8820 (from memory) that the ampacity allows.
func TestWireAndFuse(t *testing.T) {
	const foot = 0.3048
	const threePercent = 0.36 // V of 12 V, E-11's limit for what matters
	for _, c := range []struct {
		name       string
		amps, feet float64 // there and back
		drop       float64
		clad       bool
		gauge      string
		fuse       float64
		byDrop     bool
	}{
		{"10 A, 10 ft: 2,986 CM, 14 AWG has 4,110", 10, 10, threePercent, false, "14 AWG", 20, true},
		{"10 A, 20 ft: 5,972 CM, 12 AWG has 6,530", 10, 20, threePercent, false, "12 AWG", 25, true},
		{"25 A, 20 ft: 14,931 CM, 8 AWG has 16,510", 25, 20, threePercent, false, "8 AWG", 60, true},
		{"25 A, 30 ft: 22,396 CM, 6 AWG has 26,240", 25, 30, threePercent, false, "6 AWG", 80, true},
		{"50 A, 20 ft: 29,861 CM, 4 AWG has 41,740", 50, 20, threePercent, false, "4 AWG", 125, true},
		{"50 A, 30 ft: 44,792 CM, 2 AWG has 66,360", 50, 30, threePercent, false, "2 AWG", 150, true},
		{"80 A, 30 ft: 71,667 CM, 1 AWG has 83,690", 80, 30, threePercent, false, "1 AWG", 175, true},
		{"100 A, 30 ft: 89,583 CM, 1/0 AWG has 105,600", 100, 30, threePercent, false, "1/0 AWG", 225, true},
		{"150 A, 20 ft, half a volt: 64,500 CM, but heat asks for the 170 A of 2 AWG", 150, 20, 0.5, false, "2 AWG", 150, false},
		{"200 A, 10 ft: 59,722 CM, but 1 AWG may carry 195 A", 200, 10, threePercent, false, "1/0 AWG", 225, false},
		{"60 A, 4 ft: 7,167 CM, but 10 AWG may carry 40 A", 60, 4, threePercent, false, "8 AWG", 60, false},
		{"60 A, 4 ft, clad: 8 AWG carries 65 x 0.80 = 52 A, 6 AWG 76", 60, 4, threePercent, true, "6 AWG", 70, false},
		{"25 A, 20 ft, clad: 1.57 times 14,400 CM", 25, 20, threePercent, true, "6 AWG", 70, true},
	} {
		got, err := Choose(Need{Amps: c.amps, Length: c.feet * foot / 2, Drop: c.drop, CopperClad: c.clad})
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		if GaugeName(got.Gauge) != c.gauge || got.Fuse != c.fuse || got.ByDrop != c.byDrop {
			t.Errorf("%s: %s, fuse %g A, by drop %t; want %s, %g A, %t", c.name, GaugeName(got.Gauge), got.Fuse, got.ByDrop, c.gauge, c.fuse, c.byDrop)
		}
	}
}

func TestRefusals(t *testing.T) {
	for _, c := range []struct {
		name string
		err  func() error
		want string
	}{
		{"no run", func() error { _, err := Choose(Need{Amps: 30, Drop: 0.5}); return err }, "cable run 0 m"},
		{"a run backwards", func() error { _, err := Choose(Need{Amps: 30, Length: -1, Drop: 0.5}); return err }, "cable run -1 m"},
		{"no drop", func() error { _, err := Choose(Need{Amps: 30, Length: 5}); return err }, "allowed drop 0 V"},
		{"a drop that turns it off", func() error { _, err := Choose(Need{Amps: 30, Length: 5, Drop: 6}); return err }, "below 5.4 V"},
		{"no current", func() error { _, err := Choose(Need{Length: 5, Drop: 0.5}); return err }, "current 0 A"},
		{"more than any cable carries", func() error { _, err := Choose(Need{Amps: 400, Length: 5, Drop: 0.5}); return err }, "current 400 A: over 5 m even 4/0 AWG is not enough: it may carry 360 A"},
		{"a cable below the table", func() error { _, err := Kit{Area: AreaOfGauge(24)}.FuseFor(5); return err }, "cable of 0.2047 mm2: thinner than 18 AWG (0.823 mm2)"},
		{"a cable too thin for the current", func() error { _, err := Kit{Area: AreaOfGauge(8), Fuse: 80}.FuseFor(80); return err }, "current 80 A: a cable of 8.37 mm2 may carry 65 A, and the largest fuse that protects it is 60 A"},
		{"a fuse above the cable", func() error { return Kit{Area: AreaOfGauge(8)}.CheckFuse(80) }, "fuse of 80 A: the cable of 8.37 mm2 may carry 65 A: at most a fuse of 60 A"},
	} {
		err := c.err()
		var r *Refusal
		if !errors.As(err, &r) || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: %v, want %q", c.name, err, c.want)
		}
	}
}

// Whatever is asked, a fuse that is named carries the current and protects the
// cable; a cable that is chosen keeps the drop, and the next thinner one would
// not do.
func TestNoFuseAboveItsCable(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		clad := rapid.Bool().Draw(t, "clad")
		amps := rapid.Float64Range(0.1, 500).Draw(t, "amps")
		k := Kit{Area: AreaOfGauge(rapid.IntRange(-3, 26).Draw(t, "gauge")), Length: 5, CopperClad: clad, Fuse: rapid.Float64Range(0, 400).Draw(t, "fuse")}
		if fuse, err := k.FuseFor(amps); err == nil {
			if fuse > Ampacity(k.Area, clad)*(1+FuseTolerance) || fuse < amps {
				t.Fatalf("%g A before a cable for %g A and a current of %g A", fuse, Ampacity(k.Area, clad), amps)
			}
			if err := k.CheckFuse(fuse); err != nil {
				t.Fatal(err)
			}
		}
		n := Need{Amps: amps, Length: rapid.Float64Range(0.1, 20).Draw(t, "length"), Drop: rapid.Float64Range(0.1, 2).Draw(t, "drop"), CopperClad: clad}
		c, err := Choose(n)
		if err != nil {
			return
		}
		if c.Drop > n.Drop || c.Ampacity < amps || c.Fuse < amps || c.Fuse > c.Ampacity*(1+FuseTolerance) {
			t.Fatalf("%+v for %+v", c, n)
		}
		for i, row := range allowed[1:] {
			if row.awg == c.Gauge {
				thin := AreaOfGauge(allowed[i].awg)
				a := Ampacity(thin, clad)
				if a >= amps && LargestFuse(a) >= amps && amps*Resistance(thin, n.Length, clad) <= n.Drop {
					t.Fatalf("%s would do", GaugeName(allowed[i].awg))
				}
			}
		}
	})
}

func TestAlternatorFor(t *testing.T) {
	for _, amps := range []float64{0, 20, 130} {
		if got := Reserve(AlternatorFor(amps, 30), 30); math.Abs(got-amps) > 1e-9 {
			t.Errorf("an alternator for %g A spares %g A", amps, got)
		}
	}
}
