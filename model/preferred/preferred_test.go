package preferred

import (
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"
)

func TestSeries(t *testing.T) {
	// IEC 60063, table of E3 to E12.
	for s, want := range map[Series][]float64{
		E3:  {1.0, 2.2, 4.7},
		E6:  {1.0, 1.5, 2.2, 3.3, 4.7, 6.8},
		E12: {1.0, 1.2, 1.5, 1.8, 2.2, 2.7, 3.3, 3.9, 4.7, 5.6, 6.8, 8.2},
	} {
		if got := Values(s); !slices.Equal(got, want) {
			t.Errorf("E%d: %v, want %v", s, got, want)
		}
	}
	if got := len(Values(E24)); got != 24 {
		t.Errorf("E24 has %d values", got)
	}
	if Values(7) != nil || Nearest(3, 7) != 0 {
		t.Error("a series that does not exist")
	}
	// Every value lies within the series' own tolerance of the power of its
	// step (IEC 60063: the values are those powers, rounded or historical).
	for _, s := range []Series{E3, E6, E12, E24} {
		for i, v := range Values(s) {
			if exact := math.Pow(10, float64(i)/float64(s)); math.Abs(v/exact-1) > 0.052 {
				t.Errorf("E%d: %g is far from %g", s, v, exact)
			}
		}
	}
}

func TestNearest(t *testing.T) {
	for _, c := range []struct {
		value float64
		s     Series
		want  float64
	}{
		{265e-6, E6, 220e-6}, {271e-6, E6, 330e-6}, {1e-4, E6, 1e-4}, {9.5, E12, 10}, {8.3, E3, 10}, {0.068, E24, 0.068},
		{math.Sqrt(2.2*3.3) * 0.999, E6, 2.2}, {math.Sqrt(2.2*3.3) * 1.001, E6, 3.3}, // just either side of the middle
		{0, E6, 0}, {-1, E6, 0}, {math.NaN(), E6, 0}, {math.Inf(1), E6, 0},
	} {
		if got := Nearest(c.value, c.s); got != c.want {
			t.Errorf("E%d nearest to %g: %g, want %g", c.s, c.value, got, c.want)
		}
	}
}

func TestBlocker(t *testing.T) {
	// C = 1/(2 pi 150 Hz 4 ohm) = 265.3 uF: 220 uF, which blocks below 180.9 Hz.
	c := Blocker(4, 150)
	if c != 220e-6 {
		t.Errorf("capacitance %g", c)
	}
	if f := Corner(4, c); math.Abs(f-180.86) > 0.01 {
		t.Errorf("corner %g Hz", f)
	}
	for _, bad := range []float64{Blocker(0, 100), Blocker(4, -1), Corner(math.NaN(), 1), Corner(4, math.Inf(1)), Corner(1e-300, 1e-300)} {
		if bad != 0 {
			t.Errorf("got %g, want 0", bad)
		}
	}
}

func TestNearestIsNearest(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := rapid.SampledFrom([]Series{E3, E6, E12, E24}).Draw(t, "series")
		value := math.Pow(10, rapid.Float64Range(-12, 12).Draw(t, "decades"))
		got := Nearest(value, s)
		ratio := math.Abs(math.Log(got / value))
		for p := -13; p <= 13; p++ {
			for _, v := range Values(s) {
				if other := math.Abs(math.Log(v * math.Pow10(p) / value)); other < ratio-1e-9 {
					t.Fatalf("E%d to %g: %g, but %ge%d is nearer", s, value, got, v, p)
				}
			}
		}
	})
}

func TestBlockerStaysNearTheWantedCorner(t *testing.T) {
	// Half a step of E6 is a ratio of at most sqrt(1.5).
	rapid.Check(t, func(t *rapid.T) {
		load := rapid.Float64Range(1, 16).Draw(t, "load")
		hz := rapid.Float64Range(40, 5000).Draw(t, "hz")
		if r := Corner(load, Blocker(load, hz)) / hz; r < 1/math.Sqrt(1.51) || r > math.Sqrt(1.51) {
			t.Fatalf("%g ohm, %g Hz: off by a factor of %g", load, hz, r)
		}
	})
}

func FuzzAlwaysFinite(f *testing.F) {
	for _, v := range []float64{0, -1, 1, 1e-6, 1e300, 1e-300, math.NaN(), math.Inf(1), math.SmallestNonzeroFloat64} {
		f.Add(v, 4.0)
	}
	f.Fuzz(func(t *testing.T, v, w float64) {
		for _, got := range []float64{Nearest(v, E12), Nearest(v, E24), Blocker(v, w), Corner(v, w)} {
			if math.IsNaN(got) || math.IsInf(got, 0) || got < 0 {
				t.Errorf("%g, %g: %g", v, w, got)
			}
		}
	})
}
