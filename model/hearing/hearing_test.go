package hearing

import (
	"math"
	"testing"
	"time"

	"pgregory.net/rapid"
)

func TestAWeighting(t *testing.T) {
	// IEC 61672-1, table 3: exact third-octave frequencies 10^(n/10), values
	// rounded to 0.1 dB.
	for n, want := range map[int]float64{
		10: -70.4, 11: -63.4, 12: -56.7, 13: -50.5, 14: -44.7, 15: -39.4, 16: -34.6, 17: -30.2,
		18: -26.2, 19: -22.5, 20: -19.1, 21: -16.1, 22: -13.4, 23: -10.9, 24: -8.6, 25: -6.6,
		26: -4.8, 27: -3.2, 28: -1.9, 29: -0.8, 30: 0, 31: 0.6, 32: 1.0, 33: 1.2, 34: 1.3,
		35: 1.2, 36: 1.0, 37: 0.5, 38: -0.1, 39: -1.1, 40: -2.5, 41: -4.3, 42: -6.6, 43: -9.3,
	} {
		hz := math.Pow(10, float64(n)/10)
		if got := AWeight(hz); math.Abs(got-want) > 0.051 {
			t.Errorf("%.1f Hz: %.2f dB, want %.1f", hz, got, want)
		}
	}
	if got := AWeight(1000); got != 0 {
		t.Errorf("1 kHz: %g dB, want 0", got)
	}
}

func TestPermittedTime(t *testing.T) {
	// NIOSH 98-126, table 1-1.
	for dba, want := range map[float64]time.Duration{
		82: 16 * time.Hour, 85: 8 * time.Hour, 88: 4 * time.Hour, 91: 2 * time.Hour, 94: time.Hour,
		97: 30 * time.Minute, 100: 15 * time.Minute, 103: 7*time.Minute + 30*time.Second,
		106: 3*time.Minute + 45*time.Second, 86: 6*time.Hour + 21*time.Minute, 90: 2*time.Hour + 31*time.Minute,
		130: 879 * time.Millisecond,
	} {
		got := PermittedTime(dba)
		if diff := (got - want).Abs(); diff > time.Minute && want >= time.Hour || diff > time.Second && want < time.Hour {
			t.Errorf("%g dBA: %v, want %v", dba, got, want)
		}
	}
	for dba, want := range map[float64]time.Duration{140: 0, 200: 0, 30: 24 * time.Hour, math.Inf(1): 0, math.Inf(-1): 24 * time.Hour} {
		if got := PermittedTime(dba); got != want {
			t.Errorf("%g dBA: %v, want %v", dba, got, want)
		}
	}
	if PermittedTime(math.NaN()) != 0 {
		t.Error("no number permits a time")
	}
}

func TestWords(t *testing.T) {
	for d, want := range map[time.Duration]string{
		0: "not at all", 880 * time.Millisecond: "less than 1 s a day", 9900 * time.Millisecond: "9 s a day",
		15 * time.Minute: "15 min a day", 59*time.Minute + 59*time.Second: "59 min a day",
		4 * time.Hour: "4 h a day", 9072 * time.Second: "2 h 31 min a day", 24 * time.Hour: "all day",
	} {
		if got := Words(d); got != want {
			t.Errorf("%v: %q, want %q", d, got, want)
		}
	}
}

func TestCaution(t *testing.T) {
	for _, c := range []struct {
		level, dba float64
		some       bool
	}{
		{84, 84, false}, {100, 84.9, false}, {100, 85, true}, {120, 60, true}, {119.9, 60, false},
	} {
		if got := Caution(c.level, c.dba) != ""; got != c.some {
			t.Errorf("%g dB, %g dBA: caution %v", c.level, c.dba, got)
		}
	}
}

func TestLouderIsNeverLonger(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, b := rapid.Float64Range(-50, 200).Draw(t, "a"), rapid.Float64Range(-50, 200).Draw(t, "b")
		if a < b && PermittedTime(a) < PermittedTime(b) {
			t.Fatalf("%g dBA %v, %g dBA %v", a, PermittedTime(a), b, PermittedTime(b))
		}
	})
}

func FuzzAlwaysFinite(f *testing.F) {
	for _, v := range []float64{0, -1, 20, 1000, 1e300, math.NaN(), math.Inf(1), math.SmallestNonzeroFloat64} {
		f.Add(v)
	}
	f.Fuzz(func(t *testing.T, v float64) {
		if got := AWeight(v); math.IsNaN(got) || math.IsInf(got, 0) || got > 1.3 {
			t.Errorf("AWeight(%g) = %g", v, got)
		}
		if got := PermittedTime(v); got < 0 || got > 24*time.Hour {
			t.Errorf("PermittedTime(%g) = %v", v, got)
		}
	})
}
