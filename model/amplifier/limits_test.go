package amplifier

import "testing"

// The ranges of the help and the schema of the files, on their ends and just beyond.
func TestEveryRangeAtItsEnds(t *testing.T) {
	good := func() Spec {
		return Spec{Channels: 5, Fuse: 30, Ratings: []Rating{{Mode: Mono, Load: 2, Watts: 300, Volts: 14.4}}}
	}
	for _, c := range []struct {
		what   string
		set    func(s *Spec, v float64)
		in     []float64
		beyond []float64
	}{
		{"channels", func(s *Spec, v float64) {
			s.Channels, s.Ratings[0].Mode = int(v), Stereo
			if s.Channels == 1 {
				s.Ratings[0].Mode = Mono
			}
		}, []float64{1, 2, 16}, []float64{-1, 0, 17, 18}},
		{"fuse", func(s *Spec, v float64) { s.Fuse = v }, []float64{0, 5000}, []float64{-1, 5001}},
		{"load", func(s *Spec, v float64) { s.Ratings[0].Load = v }, []float64{0.1, 100}, []float64{0, 0.0999, 100.1}},
		{"watts", func(s *Spec, v float64) { s.Ratings[0].Watts = v }, []float64{1e-3, 1e5}, []float64{0, -1, 1.001e5}},
		{"volts", func(s *Spec, v float64) { s.Ratings[0].Volts = v }, []float64{0, 9, 18}, []float64{-1, 8.99, 18.01}},
		{"class", func(s *Spec, v float64) { s.Class = Class(v) }, []float64{float64(ClassUnknown), float64(ClassD)}, []float64{-1, float64(ClassD) + 1}},
		{"mode", func(s *Spec, v float64) { s.Ratings[0].Mode = Mode(v) }, []float64{float64(Mono), float64(Stereo), float64(Bridged)}, []float64{float64(Mono) - 1, float64(Paralleled) + 1}},
		{"basis", func(s *Spec, v float64) { s.Ratings[0].Basis = Basis(v) }, []float64{float64(Claimed), float64(Measured)}, []float64{float64(Claimed) - 1, float64(Measured) + 1}},
	} {
		for _, v := range c.in {
			s := good()
			if c.set(&s, v); s.Check() != nil {
				t.Errorf("%s of %g: %v", c.what, v, s.Check())
			}
		}
		for _, v := range c.beyond {
			s := good()
			if c.set(&s, v); s.Check() == nil {
				t.Errorf("%s of %g is taken", c.what, v)
			}
		}
	}
}

// Every channel is mono or one of a pair, and a pair makes one bridged output.
func TestEveryChannelCounts(t *testing.T) {
	for n := 1; n <= 16; n++ {
		s := Spec{Channels: n}
		if s.Outputs(Mono)+s.Outputs(Stereo) != n || s.Outputs(Mono) > 1 || 2*s.Outputs(Bridged) != s.Outputs(Stereo) || s.Outputs(Paralleled) != s.Outputs(Bridged) {
			t.Errorf("%d channels: %d mono, %d stereo, %d bridged", n, s.Outputs(Mono), s.Outputs(Stereo), s.Outputs(Bridged))
		}
	}
}
