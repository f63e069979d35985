package front

import "testing"

// A filter is set to the lowest of the tens from 50 to 250 Hz at which the cones stand
// the watts.
func TestLowestSettingThatDoes(t *testing.T) {
	standing := func(s Stage) float64 { s = s.complete(nil); return s.travelWatts() }
	seen := map[float64]bool{}
	for watts := 1.0; watts < 1e4; watts *= 1.02 {
		s := Stage{Load: 4, Power: 100, Size: 0.165, Fs: 60, Sd: 0.013, Xmax: 0.002, Order: 2}
		want, can := 0.0, standing(s) >= watts
		for hz := 50.0; hz <= 250 && !can; hz += 10 {
			s.HighPass = hz
			want, can = hz, standing(s) >= watts
		}
		if hz, ok := s.HighPassFor(watts); ok != can || ok && hz != want {
			t.Errorf("%g W: %g Hz, %t, want %g Hz, %t", watts, hz, ok, want, can)
		}
		seen[want] = true
	}
	if len(seen) < 20 {
		t.Errorf("only %d settings were of use", len(seen))
	}
}

// At what the cones stand no filter is needed, and a hair above it one is.
func TestFilterFromTheFirstWattTooMany(t *testing.T) {
	s := Stage{Load: 4, Power: 100, Size: 0.165, Fs: 60, Sd: 0.013, Xmax: 0.002, Order: 2, HighPass: 90}
	bare := s
	bare.HighPass = 0
	bare = bare.complete(nil)
	stands := bare.travelWatts()
	for _, c := range []struct{ watts, want float64 }{{stands * (1 - 1e-9), 0}, {stands, 0}, {stands * (1 + 1e-9), 50}} {
		if hz, ok := s.HighPassFor(c.watts); !ok || hz != c.want {
			t.Errorf("%.9g W of %.9g W: %g Hz, %t", c.watts, stands, hz, ok)
		}
	}
}

// Ears nearer than 20 cm are taken to be there.
func TestEarsStayOutOfTheCone(t *testing.T) {
	s := Stage{Load: 4, Power: 100, Size: 0.165, Watts: 50, Order: 2}
	at := func(distance float64) float64 {
		db, _, _ := s.Play(Room{Length: 2.4, Width: 1.4, Height: 1.1, Absorption: 0.3, Distance: distance})
		return db
	}
	if at(0.01) != at(0.2) || at(0.15) != at(0.2) || !(at(0.21) < at(0.2)) {
		t.Errorf("%g dB at 1 cm, %g dB at 15 cm, %g dB at 20 cm, %g dB at 21 cm", at(0.01), at(0.15), at(0.2), at(0.21))
	}
}
