package amplifier

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// Laws that hold for every spec, sensible or not.

// anySpec draws specs, valid or not.
func anySpec(t *rapid.T) Spec {
	s := Spec{
		Channels: rapid.IntRange(-1, 18).Draw(t, "channels"),
		Class:    Class(rapid.IntRange(0, 3).Draw(t, "class")),
		Fuse:     rapid.OneOf(rapid.Just(0.0), rapid.Float64Range(1, 400), rapid.Float64()).Draw(t, "fuse"),
	}
	for range rapid.IntRange(0, 5).Draw(t, "ratings") {
		s.Ratings = append(s.Ratings, Rating{
			Mode:  Mode(rapid.IntRange(0, 3).Draw(t, "mode")),
			Load:  rapid.OneOf(rapid.SampledFrom([]float64{1, 2, 4, 8}), rapid.Float64()).Draw(t, "load"),
			Watts: rapid.OneOf(rapid.Float64Range(1, 5000), rapid.Float64()).Draw(t, "watts"),
			Basis: Basis(rapid.IntRange(0, 2).Draw(t, "basis")),
			Volts: rapid.SampledFrom([]float64{0, 12, 13.8, 14.4}).Draw(t, "volts"),
		})
	}
	return s
}

// validSpec draws specs that Check accepts.
func validSpec(t *rapid.T) (Spec, Mode) {
	m := Mode(rapid.IntRange(0, 3).Draw(t, "mode"))
	s := Spec{Channels: 4, Class: Class(rapid.IntRange(0, 2).Draw(t, "class"))}
	if m == Mono {
		s.Channels = 1
	}
	if rapid.Bool().Draw(t, "fused") {
		s.Fuse = rapid.Float64Range(1, 400).Draw(t, "fuse")
	}
	for _, load := range []float64{8, 4, 2, 1}[:rapid.IntRange(1, 4).Draw(t, "ratings")] {
		s.Ratings = append(s.Ratings, Rating{
			Mode: m, Load: load, Watts: rapid.Float64Range(1, 5000).Draw(t, "watts"),
			Basis: Basis(rapid.IntRange(0, 2).Draw(t, "basis")),
		})
	}
	return s, m
}

func TestEverySourceIsFinite(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := anySpec(t)
		for m := Mono; m <= Paralleled; m++ {
			src, minimum, notes, ok := s.Source(m)
			if !ok {
				continue
			}
			for _, v := range []float64{src.OpenVoltage, src.Current, src.Efficiency, minimum} {
				if !(v > 0) || math.IsInf(v, 0) {
					t.Fatalf("%+v: %+v, minimum %g", s, src, minimum)
				}
			}
			if !(src.Resistance >= 0) || math.IsInf(src.Resistance, 0) {
				t.Fatalf("%+v: %+v", s, src)
			}
			for _, n := range notes {
				if !(n.CutTo > 0 && n.CutTo <= n.Claimed) {
					t.Fatalf("note %+v", n)
				}
			}
		}
	})
}

func TestPowerNeverExceedsTheFuse(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s, m := validSpec(t)
		ceiling, known := s.Ceiling()
		load := rapid.Float64Range(0.99, 64).Draw(t, "load")
		watts := s.RatedWatts(m, load)
		if total := watts * float64(s.Outputs(m)); known && total > ceiling*(1+1e-9) {
			t.Fatalf("%+v: %g W in all at %g ohm, the fuse lets %g W through", s, total, load, ceiling)
		}
	})
}

func TestALargerFuseNeverWeakens(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s, m := validSpec(t)
		s.Fuse = rapid.Float64Range(1, 400).Draw(t, "fuse")
		before, _, _, _ := s.Source(m)
		s.Fuse *= rapid.Float64Range(1, 3).Draw(t, "more")
		after, _, _, _ := s.Source(m)
		if after.OpenVoltage < before.OpenVoltage*(1-1e-9) || after.Current < before.Current*(1-1e-9) {
			t.Fatalf("%+v: %+v became %+v", s, before, after)
		}
	})
}

// A bridge takes two channels, and so do two in phase.
func TestChannelsOfAMode(t *testing.T) {
	for m, want := range map[Mode]int{Mono: 1, Stereo: 1, Bridged: 2, Paralleled: 2} {
		if got := m.Channels(); got != want {
			t.Errorf("%v: %d channels", m, got)
		}
	}
}
