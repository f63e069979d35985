package amplifier

import "testing"

// Below the least load of the ratings too, where a loudspeaker's impedance dips,
// the fuse lets no more power through: an amplifier whose voltage has to come down
// passes less current as well. A stiff amplifier of 600 W at 2 ohm, in a mode whose
// fuse allows 0.4 % less, would otherwise give I (f V) = f 600 W at a corner below
// 2 ohm, where only f^2 600 W may pass, f = sqrt(1/1.004).
func TestShortLoadsStayBelowTheFuse(t *testing.T) {
	s := Spec{Channels: 1, Class: ClassD, Ratings: []Rating{
		{Mode: Mono, Load: 4, Watts: 300, Basis: Measured}, {Mode: Mono, Load: 2, Watts: 600, Basis: Measured},
	}}
	s.Fuse = 1
	each, _ := s.Ceiling() // W of one ampere of fuse
	s.Fuse = 600 / 1.004 / each
	ceiling, _ := s.Ceiling()
	src, _, notes, ok := s.Source(Mono)
	if !ok || len(notes) > 0 {
		t.Fatalf("%v, %v: the rating is cut, and the source is not what this is about", ok, notes)
	}
	for load := 0.1; load < 20; load *= 1.001 {
		if got := src.Power(load); got > ceiling*(1+1e-9) {
			t.Fatalf("%g W at %g ohm, the fuse lets %g W through", got, load, ceiling)
		}
	}
	near(t, "at the least load", src.Power(2), ceiling, 1e-9)
}
