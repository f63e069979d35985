package optimizer_test

import (
	"context"
	"math"
	"slices"
	"strings"
	"testing"

	"loudfor/catalog"
	"loudfor/model/amplifier"
	"loudfor/model/hookup"
	"loudfor/optimizer"
)

// Parts that are given: what is said of them beside their levels.

// Without an amplifier all coils are in parallel on one output, as the list of hookups
// has it, and the box is in the answer.
func TestSmallSignalHasAPlan(t *testing.T) {
	p := problem(t, catalog.Brief{Celsius: 20, FrontWatts: 10, Vehicle: "open field"})
	curve, b, err := optimizer.SmallSignal(p, mentions("TM-12V", "KE-S12"), 2.83, "", 0)
	if err != nil {
		t.Fatal(err)
	}
	for _, o := range curve {
		if !(o.Watts > 0 && o.Watts <= o.Apparent*(1+1e-9)) || math.Abs(o.Apparent-o.Volts*o.Amps) > 1e-9 {
			t.Fatalf("%+v", o)
		}
	}
	found := false
	for _, plan := range hookup.Enumerate(1, b.Bass.Driver.Coils, b.Bass.Driver.CoilLoad, amplifier.Mono, 1, 0) {
		if plan.Series == 1 {
			found = true
			got := b.Plan
			got.Words, plan.Words = "", ""
			if got != plan {
				t.Errorf("%+v, want %+v", got, plan)
			}
		}
	}
	if !found || b.Bass.Enclosure == nil || b.Bass.Enclosure.SKU != "KE-S12" || b.Bass.Part.SKU != "TM-12V" {
		t.Errorf("%t, %+v", found, b.Bass)
	}
}

// A wiring that cannot be is named with its load, however low.
func TestNoWiringIsNamed(t *testing.T) {
	p := problem(t, catalog.Brief{Celsius: 20, FrontWatts: 10, Vehicle: "open field"})
	for load, says := range map[float64]string{0.5: "no wiring to 0.5 ohm", 3: "no wiring to 3 ohm"} {
		_, err := optimizer.Predict(context.Background(), p, mentions("TM-12V", "KE-S12", "KE-M3"), "", load)
		if err == nil || !strings.Contains(err.Error(), says) {
			t.Errorf("%g ohm: %v", load, err)
		}
	}
}

// A box that stands nowhere in the car is predicted all the same, and it is said.
func TestTooLargeIsSaid(t *testing.T) {
	small, large := catalog.Size3{Width: 0.2, Depth: 0.2, Height: 0.2}, catalog.Size3{Width: 2, Depth: 2, Height: 2}
	for _, c := range []struct {
		space catalog.Size3
		boot  [2]float64
		says  string
	}{{small, [2]float64{}, "do not fit into 20 x 20 x 20 cm"}, {large, [2]float64{}, ""}, {large, [2]float64{0.1, 0.1}, "does not go through its opening"}} {
		p := problem(t, catalog.Brief{Celsius: 20, FrontWatts: 10, Vehicle: "small sedan", Space: c.space})
		p.Vehicle.Boot = c.boot
		b, err := optimizer.Predict(context.Background(), p, mentions("TM-12V", "KE-S12", "OR-M3"), "", 0)
		if err != nil {
			t.Fatal(err)
		}
		said := strings.Join(b.Warnings, "; ")
		if c.says == "" && (strings.Contains(said, "do not fit into") || strings.Contains(said, "go through")) || !strings.Contains(said, c.says) {
			t.Errorf("%v, %v: %q, want %q", c.space, c.boot, said, c.says)
		}
	}
}

// What is assumed of a front that nobody described is said, and only then.
func TestFrontThatCameWithTheCar(t *testing.T) {
	const came = "front: the speakers that came with the car"
	p := problem(t, catalog.Brief{Celsius: 20, FrontWatts: 10, Vehicle: "small sedan"})
	pair := ""
	for _, part := range p.Catalogue.Parts {
		if part.Kind == catalog.KindFront && part.Front.Load == 4 {
			pair = part.SKU
		}
	}
	for _, c := range []struct {
		parts []catalog.Mention
		said  bool
	}{{mentions("HU-OLD", "TM-12V", "KE-S12", "OR-M3"), true}, {mentions("HU-OLD", "TM-12V", "KE-S12", "OR-M3", pair), false}, {mentions("TM-12V", "KE-S12", "OR-M3"), false}} {
		b, err := optimizer.Predict(context.Background(), p, c.parts, "", 0)
		if err != nil {
			t.Fatal(err)
		}
		if said := strings.Contains(strings.Join(b.Assumed, "; "), came); said != c.said {
			t.Errorf("%v: %q", c.parts, b.Assumed)
		}
	}
}

// A question that makes no sense has no answers.
func TestNoAnswersToNonsense(t *testing.T) {
	p := problem(t, catalog.Brief{Celsius: 20, FrontWatts: 10, Vehicle: "small sedan", Place: "nowhere"})
	if _, err := optimizer.FirstAnswers(context.Background(), p, 3); err == nil {
		t.Error("answered")
	}
}

// What two cards do not both state is assumed, and said; what both state is not.
func TestUnstatedMeasuresAreSaid(t *testing.T) {
	const cutout, depth, outside = "cutout not stated by both", "depth not stated by both", "outside not stated"
	for _, c := range []struct {
		vehicle string
		change  func(*catalog.Subwoofer, *catalog.Enclosure)
		says    []string
	}{
		{"small sedan", func(*catalog.Subwoofer, *catalog.Enclosure) {}, nil},
		{"small sedan", func(s *catalog.Subwoofer, _ *catalog.Enclosure) { s.Depth = 0 }, []string{depth}},
		{"small sedan", func(_ *catalog.Subwoofer, e *catalog.Enclosure) { e.Depth = 0 }, []string{depth}},
		{"small sedan", func(s *catalog.Subwoofer, _ *catalog.Enclosure) { s.Cutout = 0 }, []string{cutout}},
		{"small sedan", func(_ *catalog.Subwoofer, e *catalog.Enclosure) { e.Cutout = 0 }, []string{cutout}},
		{"small sedan", func(_ *catalog.Subwoofer, e *catalog.Enclosure) { e.Outside = catalog.Size3{} }, []string{outside}},
		{"open field", func(_ *catalog.Subwoofer, e *catalog.Enclosure) { e.Outside = catalog.Size3{} }, nil},
	} {
		p := problem(t, catalog.Brief{Celsius: 20, FrontWatts: 10, Vehicle: c.vehicle})
		sub, box := *p.Catalogue.Part("TM-12V"), *p.Catalogue.Part("KE-S12")
		s, e := *sub.Subwoofer, *box.Enclosure
		s.Depth, e.Depth, s.Cutout, e.Cutout = 0.1, 0.2, 0.25, 0.28
		if e.Outside == (catalog.Size3{}) {
			t.Fatal("the box of the demo has no outside")
		}
		c.change(&s, &e)
		sub.Subwoofer, box.Enclosure = &s, &e
		p.Catalogue = p.Catalogue.With(&sub, &box)
		b, err := optimizer.Predict(context.Background(), p, mentions("TM-12V", "KE-S12", "OR-M3"), "", 0)
		if err != nil {
			t.Fatal(err)
		}
		said := strings.Join(b.Assumed, "; ")
		for _, words := range []string{cutout, depth, outside} {
			if strings.Contains(said, words) != slices.Contains(c.says, words) {
				t.Errorf("%s, %+v, %+v: %q, want %q", c.vehicle, s, e, said, c.says)
			}
		}
	}
}

// Where there is no front, or nothing that drives it, the music is the bass alone, down
// by what the ear wants of it, and as uncertain as that.
func TestMusicWithoutAFront(t *testing.T) {
	for _, vehicle := range []string{"open field", "small sedan"} {
		p := problem(t, catalog.Brief{Celsius: 20, FrontWatts: 10, Vehicle: vehicle, BassLift: 6})
		b, err := optimizer.Predict(context.Background(), p, mentions("TM-12V", "KE-S12", "OR-M3"), "", 0)
		if err != nil {
			t.Fatal(err)
		}
		if b.Front.Power != optimizer.FromNothing || math.Abs(b.Music.DB-(b.Music.Bass-6)) > 1e-9 || b.Music.Bass < 80 || b.Front.Band != 0 || b.Music.Band != b.Music.BassBand {
			t.Errorf("%s: %+v, %+v", vehicle, b.Music, b.Front)
		}
	}
}
