package front

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"loudfor/model/air"
)

func near(t *testing.T, what string, got, want, within float64) {
	t.Helper()
	if !(math.Abs(got-want) <= within) {
		t.Errorf("%s: got %g, want %g", what, got, want)
	}
}

var (
	sedan = Room{Length: 2.4, Width: 1.36, Height: 1.12, Absorption: 0.4, Distance: 1}
	door  = Stage{Size: 0.165, Sensitivity: 90, Load: 4, Power: 60, Fs: 65, Sd: 0.013, Xmax: 3.5e-3}
)

func TestLevelByHand(t *testing.T) {
	// S = 14.95 m2, R = S 0.4/0.6 = 9.97 m2; Q/(4 pi r^2) + 4/R = 0.1592 + 0.4013,
	// 5.47 dB above the 0.1592 of the sensitivity; a pair 3.01 dB; 10 W 10 dB.
	s := door
	s.Watts, s.HighPass, s.Order = 10, 100, 4
	level, usable, limit := s.Play(sedan)
	// Fourth-order Butterworth at 100 Hz, at 125 Hz: 1 + 0.8^8, 0.67 dB.
	near(t, "level", level, 90+10+3.01+5.47-0.67, 0.02)
	if usable != 10 || limit != LimitAmplifier {
		t.Errorf("%g W, %v", usable, limit)
	}

	// A room that absorbs nearly all is the open half space again.
	open := sedan
	open.Absorption, open.Distance = 0.98, 2
	level, _, _ = s.Play(open)
	near(t, "open space at 2 m", level, 90+10+3.01-6.02-0.67, 0.6)
}

func TestHoleBetweenBassAndFront(t *testing.T) {
	// A first-order high-pass an octave above 125 Hz takes 1 + 2^2, 6.99 dB;
	// one at 125 Hz itself 3.01 dB, by definition of the corner.
	s := door
	s.Watts, s.Order = 1, 1
	plain, _, _ := s.Play(sedan)
	for hz, loss := range map[float64]float64{125: 3.01, 250: 6.99} {
		s.HighPass = hz
		level, _, _, notes := s.Level(sedan)
		near(t, "loss", plain-level, loss, 0.01)
		if len(notes) != 2 || notes[0].Quantity != "high-pass" {
			t.Errorf("%g Hz: the hole is not remarked upon: %v", hz, notes)
		}
	}
}

func TestTravelAfterSmall(t *testing.T) {
	// R. H. Small, Direct-radiator loudspeaker system analysis, 1972 (from
	// memory): displacement-limited acoustic power of the closed box in half
	// space, P_AR = (4 pi^3 rho/c) f^4 V_D^2/|X|max^2. Here f = fs, |X|max = 1:
	// Q is 0.7 and the lowest music far below fs.
	s := door
	s.Fs = 3000
	a := air.At(20)
	volume := s.Sd * s.Xmax
	limited := 4 * math.Pow(math.Pi, 3) * a.Density / a.SoundSpeed * math.Pow(s.Fs, 4) * volume * volume
	p := air.Pressure(s.Sensitivity)
	acoustic := p * p * 2 * math.Pi / (a.Density * a.SoundSpeed) // W of 1 W, over the half sphere of 1 m
	near(t, "power", s.TravelWatts()*acoustic/limited, 1, 1e-3)
}

func TestTravelAgainstTheEquationOfMotion(t *testing.T) {
	// The same from the other side: M x'' + r x' + x/C = F, p = rho Sd x''/(2 pi),
	// with F such that the passband gives the sensitivity.
	s := door.complete(nil)
	const mass = 0.012 // kg; cancels
	w0 := 2 * math.Pi * s.Fs
	density := air.At(20).Density
	force := air.Pressure(s.Sensitivity) * mass * 2 * math.Pi / (density * s.Sd) // N rms for 1 W
	worst := 0.0
	for hz := LowestMusic; hz < 500; hz *= 1.001 {
		w := 2 * math.Pi * hz
		x := force / mass / math.Hypot(w0*w0-w*w, w*w0/doorQ)
		worst = max(worst, math.Sqrt2*x)
	}
	near(t, "power", s.TravelWatts()/math.Pow(s.Xmax/worst, 2), 1, 0.01)
}

func TestTradeFactsOfHighPass(t *testing.T) {
	// Common practice, no source: a value pair has use for about 10 W a side
	// and more once the bass is kept away, and not without.
	s := Stage{Size: 0.165, Watts: 50}
	if _, usable, limit := s.Play(sedan); usable >= RecommendedWatts || limit != LimitTravel {
		t.Errorf("without a high-pass: %g W, %v", usable, limit)
	}
	s.HighPass = 80
	if _, usable, _ := s.Play(sedan); usable < RecommendedWatts {
		t.Errorf("with an 80 Hz filter: %g W", usable)
	}
	s.HighPass, s.Order = 150, 1
	if _, usable, _ := s.Play(sedan); usable < RecommendedWatts {
		t.Errorf("with a bass blocker for 150 Hz: %g W", usable)
	}
}

func TestHighPassFor(t *testing.T) {
	s := Stage{Size: 0.1} // a 10 cm speaker stands little at 80 Hz
	hz, ok := s.HighPassFor(RecommendedWatts)
	if !ok || hz < 80 || hz > 200 {
		t.Fatalf("%g Hz, %v", hz, ok)
	}
	// Just either side of the setting.
	s.HighPass = hz
	if s.TravelWatts() < RecommendedWatts {
		t.Errorf("%g Hz is too low", hz)
	}
	s.HighPass = hz - settingStep
	if s.TravelWatts() >= RecommendedWatts {
		t.Errorf("%g Hz would do", s.HighPass)
	}
	if hz, ok := s.HighPassFor(0.1); hz != 0 || !ok {
		t.Errorf("0.1 W: %g Hz, %v", hz, ok)
	}
	if _, ok := s.HighPassFor(1e6); ok {
		t.Error("a setting for a megawatt")
	}
}

func TestHigherHighPassSparesTheCone(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := anyStage(t)
		s.HighPass = rapid.Float64Range(20, 300).Draw(t, "hz")
		low := s.TravelWatts()
		s.HighPass *= rapid.Float64Range(1, 3).Draw(t, "ratio")
		if high := s.TravelWatts(); high < low*(1-1e-9) {
			t.Fatalf("%+v: %g W, %g W at the lower setting", s, high, low)
		}
	})
}

func TestLimits(t *testing.T) {
	s := door
	s.HighPass, s.Order, s.Watts = 120, 4, 200
	if _, usable, limit := s.Play(sedan); usable != 60 || limit != LimitRating {
		t.Errorf("%g W, %v; want the 60 W rating", usable, limit)
	}
	s.Watts = 0
	if level, usable, limit := s.Play(sedan); level != Silent || usable != 0 || limit != LimitAmplifier {
		t.Errorf("no power: %g dB, %g W, %v", level, usable, limit)
	}
}

func TestNotesTellWhatWasAssumed(t *testing.T) {
	full := door
	full.Watts, full.HighPass = 20, 120
	if _, _, _, notes := full.Level(sedan); len(notes) != 0 {
		t.Errorf("nothing was assumed, yet %+v", notes)
	}
	_, _, _, notes := Stage{Watts: 80}.Level(Room{})
	var all []string
	for _, n := range notes {
		all = append(all, n.Quantity)
		if n.Source == "" || n.Kind == Assumed && n.Spread <= 0 {
			t.Errorf("empty note %+v", n)
		}
	}
	got := strings.Join(all, ", ")
	want := "size, sensitivity, rated power, fs, Sd, Xmax, cabin size, mean absorption of the cabin, distance from speaker to ears, high-pass, power, power"
	if got != want {
		t.Errorf("got  %s\nwant %s", got, want)
	}
}

func TestHeadUnitCeiling(t *testing.T) {
	// About 23 W into 4 ohm from 14.4 V: common practice, no source.
	got := HeadUnitCeiling(14.4, 4, 4)
	if got < 22 || got > 24 {
		t.Errorf("%g W each, want about 23", got)
	}
	// Never more than without any loss: (14.4/sqrt 2)^2/4 = 25.9 W.
	if lossless := 14.4 * 14.4 / 2 / 4; got >= lossless {
		t.Errorf("%g W, but %g W without losses", got, lossless)
	}
	if HeadUnitCeiling(12, 4, 4) >= got || HeadUnitCeiling(14.4, 4, 1) <= got || HeadUnitCeiling(14.4, 2, 4) <= got {
		t.Error("must fall with the supply, and rise with fewer channels and a lower load")
	}
	for _, bad := range []float64{HeadUnitCeiling(0, 4, 4), HeadUnitCeiling(14.4, 0, 4), HeadUnitCeiling(14.4, 4, 0), HeadUnitCeiling(math.NaN(), 4, 4)} {
		if bad != 0 {
			t.Errorf("got %g, want 0", bad)
		}
	}
}

// anyStage draws stages out of the ordinary and some that cannot be.
func anyStage(t *rapid.T) Stage {
	number := func(name string, low, high float64) float64 {
		return rapid.OneOf(rapid.Float64Range(low, high), rapid.Just(0.0), rapid.Float64()).Draw(t, name)
	}
	return Stage{
		Sensitivity: number("sensitivity", 80, 96), Load: number("load", 2, 8), Power: number("power", 5, 200),
		Watts: number("watts", 0, 500), HighPass: number("high-pass", 40, 5000), Order: rapid.IntRange(-1, 9).Draw(t, "order"),
		Size: number("size", 0.08, 0.25), Fs: number("fs", 40, 200), Sd: number("sd", 0.003, 0.03), Xmax: number("xmax", 0.001, 0.01),
	}
}

func anyRoom(t *rapid.T) Room {
	number := func(name string, low, high float64) float64 {
		return rapid.OneOf(rapid.Float64Range(low, high), rapid.Just(0.0)).Draw(t, name)
	}
	return Room{number("length", 1, 5), number("width", 1, 2), number("height", 1, 2), number("absorption", 0, 1.5), number("distance", 0, 3)}
}

func TestMorePowerIsNeverQuieter(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s, r := anyStage(t), anyRoom(t)
		s.Watts = rapid.Float64Range(0, 500).Draw(t, "less")
		l1, w1, _ := s.Play(r)
		s.Watts += rapid.Float64Range(0, 500).Draw(t, "more")
		l2, w2, _ := s.Play(r)
		if l2 < l1 || w2 < w1 {
			t.Fatalf("%+v: %g dB %g W, before %g dB %g W", s, l2, w2, l1, w1)
		}
	})
}

func TestAlwaysFinite(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s, r := anyStage(t), anyRoom(t)
		level, usable, _, notes := s.Level(r)
		for _, v := range []float64{level, usable, s.TravelWatts(), HeadUnitCeiling(s.Watts, s.Load, s.Order)} {
			if math.IsNaN(v) || math.IsInf(v, 0) {
				t.Fatalf("%+v in %+v: %g dB, %g W", s, r, level, usable)
			}
		}
		for _, n := range notes {
			if math.IsNaN(n.Value) || math.IsInf(n.Value, 0) {
				t.Fatalf("note %+v", n)
			}
		}
	})
}

func BenchmarkPlay(b *testing.B) {
	b.ReportAllocs()
	s := Stage{Watts: 50, HighPass: 80}
	for range b.N {
		s.Play(sedan)
	}
}
