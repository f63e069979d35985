package amplifier

import "testing"

// Down from the least load of the ratings, where a loudspeaker's impedance dips, the
// fuse lets no more power through: the current is that of a rating within it. Above
// that load voltage and current know nothing of each other, and their corner may give
// the rise more than the fuse (source.go says why no limit of power stands there).
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
		most := ceiling * (1 + 1e-9)
		if load > 2 {
			most *= 1 + rise
		}
		if got := src.Power(load); got > most {
			t.Fatalf("%g W at %g ohm, the fuse lets %g W through", got, load, ceiling)
		}
	}
	near(t, "at the least load", src.Power(2), ceiling, 1e-9)
}
