package optimizer_test

import (
	"context"
	"math"
	"strings"
	"testing"

	"loudfor/catalog"
	"loudfor/catalog/demo"
	"loudfor/model/enclosure"
	"loudfor/optimizer"
)

// doubtful is a demo problem whose part is changed.
func doubtful(t *testing.T, brief catalog.Brief, sku string, change func(*catalog.Part)) optimizer.Problem {
	p := problem(t, brief)
	part := p.Catalogue.Part(sku)
	if part == nil {
		t.Fatalf("no part %s", sku)
	}
	change(part)
	return p
}

// A Vas that no driver of the size could have neither wins nor loses by more than the
// band that it is given, and pick's own answer names it. Believed, the first made
// 3 dB, the second 5.
func TestAnInflatedCardNeitherWinsNorLoses(t *testing.T) {
	brief := catalog.Brief{Celsius: 20, FrontWatts: 10, Vehicle: "small sedan", Goal: catalog.GoalReading, Place: "dash", Openings: "doors open", Front: catalog.FrontKeep}
	for _, test := range []struct {
		sku, box string
		honest   float64
		vas      float64
	}{
		{"TM-10V", "KE-S10", 0.0358, 0.125}, {"TM-12V", "KE-S12", 0.058, 0.200}, {"TM-12V", "KE-S12", 0.058, 0.0058},
	} {
		level := func(vas float64) optimizer.Build {
			p := doubtful(t, brief, test.sku, func(part *catalog.Part) { part.Subwoofer.Card.Vas = vas })
			b, err := optimizer.Predict(context.Background(), p, mentions("HU-STOCK", test.sku, test.box, "KE-M3"), "", 0)
			if err != nil {
				t.Fatal(err)
			}
			return b
		}
		good, bad := level(test.honest), level(test.vas)
		if off := bad.Reading.DB - good.Reading.DB; math.Abs(off) > bad.Reading.Band {
			t.Errorf("%s with Vas %g L: %+.1f dB, its band is %.1f", test.sku, 1000*test.vas, off, bad.Reading.Band)
		}
		if g, b := good.Bass.Driver.Spread.Vas, bad.Bass.Driver.Spread.Vas; b < 1.5*g {
			t.Errorf("%s with Vas %g L: the cone is known to %.2f, on the honest card to %.2f", test.sku, 1000*test.vas, b, g)
		}
		if len(good.Doubts) != 0 || len(bad.Doubts) == 0 || !strings.Contains(strings.Join(bad.Warnings, "\n"), "moving mass") {
			t.Errorf("%s with Vas %g L: doubts %v, of the honest card %v", test.sku, 1000*test.vas, bad.Doubts, good.Doubts)
		}
	}
}

// The search, its recheck and predict believe the same.
func TestPickBelievesAsPredictDoes(t *testing.T) {
	p := demoBrief(t, demo.Brief)
	p.Catalogue.Part("TM-12V").Subwoofer.Card.Vas = 0.2
	r, err := optimizer.Pick(context.Background(), p)
	if err != nil {
		t.Fatal(err)
	}
	for _, b := range r.Builds {
		if b.Bass.Part.SKU != "TM-12V" {
			continue
		}
		if len(b.Doubts) == 0 {
			t.Errorf("rank %d says nothing of its card", b.Rank)
		}
		var parts []catalog.Mention
		for _, l := range b.Lines {
			parts = append(parts, catalog.Mention{SKU: l.Part.SKU, Count: l.Count})
		}
		again, err := optimizer.Predict(context.Background(), p, parts, b.Plan.Mode.String(), b.Plan.Load)
		if err != nil {
			t.Fatal(err)
		}
		if math.Abs(again.Reading.DB-b.Reading.DB) > 1e-9 {
			t.Errorf("rank %d reads %.4f dB, predicted again %.4f", b.Rank, b.Reading.DB, again.Reading.DB)
		}
	}
}

// What cannot be built is said where the build is shown.
func TestABoxThatCannotBeBuiltIsNamed(t *testing.T) {
	brief := catalog.Brief{Celsius: 20, FrontWatts: 10, Vehicle: "small sedan", Goal: catalog.GoalReading, Place: "dash", Openings: "doors open", Front: catalog.FrontKeep}
	for _, test := range []struct {
		words  string
		change func(*catalog.Part)
	}{
		{"no room", func(p *catalog.Part) { p.Enclosure.Box.Tuning = 10 }},
		{"as high as 150 Hz", func(p *catalog.Part) { p.Enclosure.Box.Tuning = 150 }},
		{"inside do not fit", func(p *catalog.Part) { p.Enclosure.Outside = catalog.Size3{Width: 0.3, Depth: 0.3, Height: 0.3} }},
	} {
		p := doubtful(t, brief, "KE-V12", func(part *catalog.Part) {
			part.Enclosure.Box.Port, part.Enclosure.Box.Tuning = enclosure.Port{}, 36
			test.change(part)
		})
		b, err := optimizer.Predict(context.Background(), p, mentions("HU-STOCK", "TM-12V", "KE-V12", "KE-M3"), "", 0)
		if err != nil {
			t.Fatal(err)
		}
		if all := strings.Join(b.Doubts, "\n"); !strings.Contains(all, test.words) || !strings.Contains(strings.Join(b.Warnings, "\n"), test.words) {
			t.Errorf("%q is not in %q", test.words, all)
		}
	}
}

// Twice the coils in series take half the current: --volts goes by the wiring that
// the build asks for, and carries nothing of the amplifier's own level.
func TestSmallSignalInTheWiringOfTheBuild(t *testing.T) {
	p := problem(t, catalog.Brief{Celsius: 20, FrontWatts: 10, Vehicle: "open field"})
	for _, parts := range [][]catalog.Mention{mentions("TM-12V", "KE-S12"), mentions("TM-12V", "KE-S12", "KE-M3")} {
		series, b, err := optimizer.SmallSignal(p, parts, 2.83, "", 8)
		if err != nil {
			t.Fatal(err)
		}
		parallel, _, err := optimizer.SmallSignal(p, parts, 2.83, "", 2)
		if err != nil {
			t.Fatal(err)
		}
		if b.Plan.Load != 8 || b.Music != (optimizer.Music{}) || b.Objective != b.Reading.DB {
			t.Errorf("load %g, music %+v, %.2f dB of %.2f", b.Plan.Load, b.Music, b.Objective, b.Reading.DB)
		}
		for i := range series {
			if ratio := series[i].Load / parallel[i].Load; math.Abs(ratio-4) > 1e-9 {
				t.Fatalf("%.1f Hz: %.3f ohm in series, %.3f in parallel", series[i].Hz, series[i].Load, parallel[i].Load)
			}
			if less := parallel[i].Level - series[i].Level; math.Abs(less-20*math.Log10(2)) > 1e-9 {
				t.Fatalf("%.1f Hz: %.3f dB more in parallel", series[i].Hz, less)
			}
		}
		if _, _, err := optimizer.SmallSignal(p, parts, 2.83, "", 3); err == nil {
			t.Error("3 ohm were found")
		}
		if _, _, err := optimizer.SmallSignal(p, parts, 2.83, "sideways", 0); err == nil {
			t.Error("a mode called sideways was taken")
		}
	}
}
