package optimizer_test

import (
	"context"
	"math"
	"testing"

	"loudfor/catalog"
	"loudfor/catalog/demo"
	"loudfor/optimizer"
	"loudfor/optimizer/build"
	"loudfor/optimizer/uncertainty"
)

// At the spot of its own reading a build shows its own figures, band included;
// elsewhere what predicting it there shows.
func TestElsewhere(t *testing.T) {
	p := demoBrief(t, demo.Brief)
	r, err := optimizer.Pick(context.Background(), p)
	if err != nil {
		t.Fatal(err)
	}
	b := &r.Builds[0]
	spots := uncertainty.Spots(p.Vehicle)
	if want := len(p.Vehicle.Body.PlaceNames()) * len(p.Vehicle.Body.OpeningNames()); len(spots) != want || want < 9 {
		t.Fatalf("%d spots, want %d", len(spots), want)
	}
	expected, err := uncertainty.Elsewhere(context.Background(), p, b, spots, uncertainty.Passed{})
	if err != nil {
		t.Fatal(err)
	}
	parts := []catalog.Mention{}
	for _, l := range b.Lines {
		parts = append(parts, catalog.Mention{SKU: l.Part.SKU, Count: l.Count})
	}
	own := 0
	for i, e := range expected {
		if e.VoltsBand <= 0 || e.AmpsBand <= 0 || e.VoltsBand > e.Volts {
			t.Errorf("%v: bands of %g V and %g A about %g V and %g A", e.Spot, e.VoltsBand, e.AmpsBand, e.Volts, e.Amps)
		}
		if e.Spot == (optimizer.Spot{Place: b.Reading.Place, Openings: b.Reading.Openings}) {
			own++
			if e.Operation != b.Operation || e.Band != b.Reading.Band {
				t.Errorf("at its own spot: %+v, band %g; want %+v, band %g", e.Operation, e.Band, b.Operation, b.Reading.Band)
			}
		}
		if i%5 != 0 {
			continue // the others differ in nothing
		}
		q := p
		q.Brief.Place, q.Brief.Openings = e.Place, e.Openings
		there, err := optimizer.Predict(context.Background(), q, parts, b.Plan.Mode.String(), b.Plan.Load)
		if err != nil {
			t.Fatal(err)
		}
		if math.Abs(there.Reading.DB-e.Level) > 1e-9 || math.Abs(there.Reading.Band-e.Band) > 1e-9 {
			t.Errorf("%v: %.4f +/- %.4f dB, predicted there %.4f +/- %.4f", e.Spot, e.Level, e.Band, there.Reading.DB, there.Reading.Band)
		}
	}
	if own != 1 {
		t.Errorf("the reading's own spot came %d times", own)
	}
	if _, err := uncertainty.Elsewhere(context.Background(), p, b, []optimizer.Spot{{Place: "the moon", Openings: "shut"}}, uncertainty.Passed{}); err == nil {
		t.Error("a place that is none goes through")
	}
	if _, err := uncertainty.Elsewhere(context.Background(), p, &optimizer.Build{}, spots, uncertainty.Passed{}); err == nil {
		t.Error("a build of nothing goes through")
	}
}

// With filters every tone is one that they pass, and the loudest of those.
func TestElsewhereFiltered(t *testing.T) {
	p := demoBrief(t, demo.Brief)
	r, err := optimizer.Pick(context.Background(), p)
	if err != nil {
		t.Fatal(err)
	}
	b := &r.Builds[0]
	f := uncertainty.Passed{From: 45, To: 60}
	expected, err := uncertainty.Elsewhere(context.Background(), p, b, uncertainty.Spots(p.Vehicle), f)
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range expected {
		q := p
		q.Brief.Place, q.Brief.Openings = e.Place, e.Openings
		there, err := optimizer.Predict(context.Background(), q, build.Mentions(b.Lines), b.Plan.Mode.String(), b.Plan.Load)
		if err != nil {
			t.Fatal(err)
		}
		most := 0.0
		for _, o := range there.Curve {
			if o.Hz >= f.From && o.Hz <= f.To {
				most = max(most, o.Level)
			}
		}
		if e.Hz < f.From || e.Hz > f.To || math.Abs(e.Level-most) > 1e-9 {
			t.Errorf("%v: %.3f dB at %.1f Hz; the loudest that passes has %.3f dB", e.Spot, e.Level, e.Hz, most)
		}
	}
}
