package amplifier

import (
	"fmt"
	"math"
	"strings"
	"testing"
)

const tight = 1e-9

func near(t *testing.T, what string, got, want, relative float64) {
	t.Helper()
	if !(math.Abs(got-want) <= relative*math.Abs(want)+1e-12) {
		t.Errorf("%s: got %g, want %g", what, got, want)
	}
}

func TestRatingsGiveTheSource(t *testing.T) {
	// By hand: 200 W at 4 ohm is 28.284 V and 7.071 A, 120 W at 8 ohm 30.984 V; 3 % of
	// rise above the higher, and 3 % of the lowest load.
	s := Spec{Channels: 2, Class: ClassAB, Fuse: 40, Ratings: []Rating{
		{Mode: Bridged, Load: 4, Watts: 200, Basis: Standard},
		{Mode: Bridged, Load: 8, Watts: 120, Basis: Standard},
	}}
	src, minimum, notes, ok := s.Source(Bridged)
	if !ok || len(notes) != 0 || minimum != 4 {
		t.Fatalf("ok %v, notes %v, minimum %g", ok, notes, minimum)
	}
	near(t, "open voltage", src.OpenVoltage, 1.03*math.Sqrt(960), tight)
	near(t, "resistance", src.Resistance, 0.12, tight)
	near(t, "current", src.Current, math.Sqrt(50), tight)
	near(t, "200 W rating", s.RatedWatts(Bridged, 4), 200, tight)
	near(t, "120 W rating", s.RatedWatts(Bridged, 8), 120, tight)
	if got := s.RatedWatts(Bridged, 2); got != 0 {
		t.Errorf("below the minimum load: %g W, want 0", got)
	}
	if got := s.RatedWatts(Stereo, 4); got != 0 {
		t.Errorf("mode without a rating: %g W, want 0", got)
	}
	impossible := s
	impossible.Channels = 0
	for name, none := range map[string]struct {
		Spec
		Mode
	}{"no rating": {s, Stereo}, "no channel": {impossible, Bridged}} {
		if src, minimum, notes, ok := none.Source(none.Mode); ok || src != (Source{}) || minimum != 0 || notes != nil {
			t.Errorf("%s: %+v from %g ohm, %v", name, src, minimum, notes)
		}
	}
}

// A card that is poorer in every line, and falls off more at the lower load, is no
// better at the load that a box shows. A straight line through its two ratings has
// 33.7 V without load, through the other's 25.9 V.
func TestThePoorerCardIsTheWeakerAmplifier(t *testing.T) {
	at := func(four, two float64) Source {
		src, _, _, _ := Spec{Channels: 1, Ratings: []Rating{
			{Mode: Mono, Load: 4, Watts: four, Basis: Standard}, {Mode: Mono, Load: 2, Watts: two, Basis: Standard},
		}}.Source(Mono)
		return src
	}
	poor, good := at(97, 97), at(100, 150)
	for _, load := range []float64{2, 3, 4, 8, 9, 20} {
		if p, g := poor.Power(load), good.Power(load); p >= g {
			t.Errorf("into %g ohm: %.1f W of the poorer card, %.1f W of the better", load, p, g)
		}
	}
	if most := math.Sqrt(97*4) * (1 + 2*rise); poor.OpenVoltage > most {
		t.Errorf("97 W at 4 ohm become %.1f V without load, more than %.1f V", poor.OpenVoltage, most)
	}
}

func TestTradeFactsOfLoadAndPower(t *testing.T) {
	// "600 W at 2 ohm gives 300 to 400 W at 4 ohm": common practice, no source.
	s := Spec{Channels: 1, Class: ClassD, Ratings: []Rating{{Mode: Mono, Load: 2, Watts: 600, Basis: Standard}}}
	if got := s.RatedWatts(Mono, 4); got < 300 || got > 400 {
		t.Errorf("600 W at 2 ohm becomes %.0f W at 4 ohm, want 300 to 400", got)
	}
	// One rating is reached, and rises a little beyond.
	src, _, _, _ := s.Source(Mono)
	near(t, "at its own load", src.Power(2), 600, tight)
	near(t, "rise at twice the load", math.Sqrt(src.Power(4)*4/1200), 1.03*2/2.03, tight)
}

func TestUnusualRatings(t *testing.T) {
	mono := func(powers ...float64) Spec { // at 4, 2, 1 ohm
		s := Spec{Channels: 1, Class: ClassD}
		load := 4.0
		for _, p := range powers {
			s.Ratings = append(s.Ratings, Rating{Mode: Mono, Load: load, Watts: p, Basis: Measured})
			load /= 2
		}
		return s
	}
	t.Run("regulated: power doubles", func(t *testing.T) {
		src, _, _, _ := mono(300, 600).Source(Mono)
		near(t, "at the lower load", src.Power(2), 600, tight)
		if over := src.Power(4) / 300; over > (1+rise)*(1+rise) {
			t.Errorf("%.3f times the rating at the lighter load", over)
		}
	})
	t.Run("more than doubles: the voltage that was there stays there", func(t *testing.T) {
		src, _, _, _ := mono(300, 700).Source(Mono)
		near(t, "at the lower load", src.Power(2), 700, tight)
		if src.Power(4) < 350 {
			t.Errorf("%g W at 4 ohm from the voltage of 700 W at 2 ohm", src.Power(4))
		}
	})
	t.Run("same power at both loads", func(t *testing.T) {
		s := mono(500, 500)
		near(t, "at 4", s.RatedWatts(Mono, 4), 500, tight)
		near(t, "at 2", s.RatedWatts(Mono, 2), 500, tight)
	})
	t.Run("current limited: less at the lower load", func(t *testing.T) {
		s := mono(500, 300)
		src, _, _, _ := s.Source(Mono)
		near(t, "at 2", s.RatedWatts(Mono, 2), 300, tight)
		if claimed := math.Sqrt(500 * 4); src.OpenVoltage > claimed*(1+rise)*(1+tight) {
			t.Errorf("open voltage %g runs away from the %g V seen", src.OpenVoltage, claimed)
		}
	})
	t.Run("three ratings", func(t *testing.T) {
		s := mono(250, 430, 640)
		for load, want := range map[float64]float64{4: 250, 2: 430, 1: 640} {
			near(t, "power", s.RatedWatts(Mono, load), want, tight)
		}
	})
}

func TestSupplyOfRating(t *testing.T) {
	// 200 W at 12 V is 288 W at 14.4 V where rails follow the supply.
	s := Spec{Channels: 1, Ratings: []Rating{{Mode: Mono, Load: 4, Watts: 200, Volts: 12, Basis: Standard}}}
	near(t, "scaled power", s.RatedWatts(Mono, 4), 200*1.44, tight)
	once := atRatedSupply(s.Ratings[0])
	if again := atRatedSupply(once); once.Volts != RatedSupply || again != once {
		t.Errorf("%+v, brought there once more %+v", once, again)
	}
	// Where the card states both, nothing is scaled: this supply is regulated.
	s.Ratings = append(s.Ratings, Rating{Mode: Mono, Load: 4, Watts: 205, Volts: 14.4, Basis: Standard})
	near(t, "stated power", s.RatedWatts(Mono, 4), 205, tight)
}

func TestHonesty(t *testing.T) {
	s := Spec{Channels: 4, Class: ClassAB, Fuse: 30, Ratings: []Rating{
		{Mode: Stereo, Load: 4, Watts: 50, Basis: Standard},
		{Mode: Stereo, Load: 2, Watts: 60, Basis: Standard},
		{Mode: Bridged, Load: 4, Watts: 300, Basis: Claimed},
		{Mode: Bridged, Load: 8, Watts: 200, Basis: Claimed},
	}}
	const through = 30 * 14.4 * 0.6 // 259.2 W

	if _, _, notes, _ := s.Source(Stereo); len(notes) != 0 {
		t.Errorf("4 x 60 W through %g W: not to be cut, got %v", through, notes)
	}
	_, _, notes, ok := s.Source(Bridged)
	if !ok || len(notes) != 2 {
		t.Fatalf("ok %v, %d notes, want both claims cut", ok, len(notes))
	}
	near(t, "cut at 4 ohm", notes[0].CutTo, through/2, tight)
	near(t, "cut at 8 ohm, usual ratio", notes[1].CutTo, through/2/usualRatio, tight)
	near(t, "rated after the cut", s.RatedWatts(Bridged, 4), through/2, tight)
	if notes[0].Claimed != 300 || !strings.Contains(notes[0].Reason, "30 A") {
		t.Errorf("note does not tell: %+v", notes[0])
	}

	// Whatever else a card says, its claim at a load counts alike.
	alone := s
	alone.Ratings = s.Ratings[3:]
	near(t, "silent about 4 ohm", alone.RatedWatts(Bridged, 8), through/2/usualRatio, tight)

	for _, c := range []struct {
		mode        Mode
		load, share float64
	}{
		{Mono, 1, 1}, {Mono, 2, 1}, {Mono, 4, 1 / usualRatio}, {Stereo, 8, 1 / (usualRatio * usualRatio)},
		{Bridged, 4, 1}, {Bridged, 8, 1 / usualRatio}, {Paralleled, 1, 1}, {Paralleled, 2, 1 / usualRatio},
	} {
		near(t, fmt.Sprintf("mode %d at %g ohm", c.mode, c.load), claimable(c.mode, c.load), c.share, tight)
	}

	// A measurement is not pulled down by a claim.
	s.Ratings[3].Basis, s.Ratings[3].Watts = Measured, 90
	_, _, notes, _ = s.Source(Bridged)
	if len(notes) != 1 || notes[0].Rating.Basis != Claimed {
		t.Errorf("want only the claim cut, got %+v", notes)
	}

	// Just either side of the ceiling.
	edge := func(watts float64) int {
		s := Spec{Channels: 1, Class: ClassD, Fuse: 50, Ratings: []Rating{{Mode: Mono, Load: 2, Watts: watts}}}
		_, _, notes, _ := s.Source(Mono)
		return len(notes)
	}
	if edge(576) != 0 || edge(580) != 1 {
		t.Errorf("ceiling of 576 W: notes %d at 576 W, %d at 580 W", edge(576), edge(580))
	}

	// No fuse stated: the claim stands, and that is said.
	s.Fuse = 0
	_, _, notes, _ = s.Source(Bridged)
	if len(notes) != 1 || notes[0].CutTo != notes[0].Claimed {
		t.Errorf("unchecked claim: %+v", notes)
	}
}

func TestModesAndOutputs(t *testing.T) {
	five := Spec{Channels: 5, Ratings: []Rating{
		{Mode: Bridged, Load: 4, Watts: 150}, {Mode: Mono, Load: 2, Watts: 300}, {Mode: Stereo, Load: 4, Watts: 60},
	}}
	if err := five.Check(); err != nil {
		t.Fatal(err)
	}
	if got := five.Modes(); len(got) != 3 || got[0] != Mono || got[1] != Stereo || got[2] != Bridged {
		t.Errorf("modes %v", got)
	}
	for m, want := range map[Mode]int{Mono: 1, Stereo: 4, Bridged: 2, Paralleled: 2, Mode(9): 0} {
		if got := five.Outputs(m); got != want {
			t.Errorf("outputs of %v: %d, want %d", m, got, want)
		}
	}
	stereo := Spec{Channels: 2, Ratings: []Rating{{Mode: Stereo, Load: 4, Watts: 60}}}
	if _, _, _, ok := stereo.Source(Bridged); ok {
		t.Error("a bridged rating was invented")
	}
}

func TestSpread(t *testing.T) {
	s := Spec{Channels: 2, Ratings: []Rating{
		{Mode: Stereo, Load: 4, Watts: 60, Basis: Claimed}, {Mode: Stereo, Load: 2, Watts: 60, Basis: Measured},
		{Mode: Bridged, Load: 4, Watts: 60, Basis: Standard},
	}}
	for m, want := range map[Mode]float64{Stereo: math.Hypot(0.02, 0.015), Bridged: math.Hypot(0.05, 0.015), Mono: 0} {
		if got := s.Spread(m); got != want {
			t.Errorf("%v: %g, want %g", m, got, want)
		}
	}
}

func TestCheckListsEverything(t *testing.T) {
	s := Spec{Channels: 1, Fuse: -3, Ratings: []Rating{
		{Mode: Bridged, Load: 4, Watts: 100},
		{Mode: Mono, Load: -4, Watts: math.NaN(), Volts: 24},
		{Mode: Mono, Load: 2, Watts: 100},
		{Mode: Mono, Load: 2, Watts: 200},
		{Mode: Stereo, Load: 4, Watts: 50},
	}}
	err := s.Check()
	if err == nil {
		t.Fatal("accepted")
	}
	for _, want := range []string{"fuse of -3", "rating 1: bridged needs two", "load of -4", "NaN W", "supply of 24", "rating 4: mono at 2 ohm is stated already as rating 3", "rating 5: stereo needs two"} {
		if !strings.Contains(err.Error(), want) {
			t.Errorf("%q is missing from:\n%v", want, err)
		}
	}
	if _, _, _, ok := s.Source(Mono); ok {
		t.Error("a source out of an impossible spec")
	}
	if (Spec{Channels: 2}).Check() == nil {
		t.Error("a spec without ratings was accepted")
	}
}
