package front

import "testing"

// The scale of a filter's settings, as it is documented.
func TestSettingsOfAFilter(t *testing.T) {
	all := Settings()
	if len(all) != 21 {
		t.Fatalf("%v", all)
	}
	for i, hz := range all {
		if hz != 50+10*float64(i) {
			t.Errorf("setting %d is %g Hz", i, hz)
		}
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
