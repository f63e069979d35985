package learning

import (
	"math"
	"slices"
	"strings"
	"testing"
)

// found are the findings of readings that are what the prediction says, spoilt.
func found(t *testing.T, volts float64, spoil func(r []Reading)) []Finding {
	t.Helper()
	w := randomWorld(t, 6)
	clear(w.truth)
	var settings []Setting
	for _, hz := range []float64{27, 32, 36, 42, 48, 55, 62, 70} {
		settings = append(settings, Setting{Place: "dash", Openings: "doors open", Hz: hz, Volts: volts * w.study.Cases[0].Drive.Source.OpenVoltage})
	}
	readings := asReadings(settings)
	v, err := w.study.view(readings)
	if err != nil {
		t.Fatal(err)
	}
	y := v.predict(w.truth)
	for i := range readings {
		for _, o := range v.of[i] {
			switch v.seen[o].of {
			case ofLevel:
				readings[i].DB = y[o]
			case ofOhms:
				readings[i].Amps = readings[i].Volts / math.Exp(y[o])
			}
		}
	}
	spoil(readings)
	s, err := NewStudy(w.study.Body, 20, w.study.Cases, readings)
	if err != nil {
		t.Fatal(err)
	}
	f, err := s.Prior()
	if err != nil {
		t.Fatal(err)
	}
	return f.Findings()
}

// Each sign is found when it is there, with its figures, and not when it is not.
func TestFindings(t *testing.T) {
	const full, low = 0.9, 0.2
	all := func(change func(r *Reading)) func([]Reading) {
		return func(list []Reading) {
			for i := range list {
				change(&list[i])
			}
		}
	}
	for _, c := range []struct {
		name    string
		volts   float64
		spoil   func([]Reading)
		want    FindingKind
		figures string
	}{
		{"as predicted", full, all(func(*Reading) {}), AllWithin, "8 of 8"},
		{"gain down on purpose", low, all(func(*Reading) {}), AllWithin, "8 of 8"},
		{"level", full, all(func(r *Reading) { r.DB -= 14 }), LevelOff, "-14.0 dB on average; 8 of 8"},
		{"hot", full, all(func(r *Reading) { r.Amps /= 1.5 }), ImpedanceHigh, "+50 %"},
		{"hot, by one reading", full, func(r []Reading) {
			r[0].Amps /= 1.5
			for i := range r[1:] {
				r[1+i].Amps = 0
			}
		}, ImpedanceHigh, "+50 %"},
		{"less power", full, all(func(r *Reading) { r.Amps /= 1.5 }), PowerLow, "VA measured"},
		{"parallel", full, all(func(r *Reading) { r.Amps *= 2 }), ImpedanceLow, "-50 %"},
		{"sag", full, func(r []Reading) { r[3].Supply = 11.8 }, SupplySags, "11.8 V at the terminals during the tone at 42 Hz"},
		{"compression", low, func(r []Reading) {
			r[1] = r[0]
			r[1].Volts, r[1].Amps, r[1].DB = 2*r[0].Volts, 2*r[0].Amps, r[0].DB+3
		}, Compression, "1.5 dB for each doubling"},
		{"peak", full, func(r []Reading) {
			for i, db := range []float64{0, 2, 4, 6, 8, 10, 12, 9} {
				r[i].DB = r[0].DB + db/4
			}
		}, PeakMoved, "61 Hz measured"},
	} {
		list := found(t, c.volts, c.spoil)
		if !slices.ContainsFunc(list, func(f Finding) bool {
			return f.Kind == c.want && strings.Contains(f.Figures, c.figures)
		}) {
			t.Errorf("%s: found %+v, want %s with %q", c.name, list, c.want.Key(), c.figures)
		}
		if c.want == AllWithin && len(list) != 1 {
			t.Errorf("%s: found %+v", c.name, list)
		}
	}
}

// The peak between tones is that of the parabola.
func TestPeak(t *testing.T) {
	hz := []float64{30, 37, 44, 52, 61}
	db := make([]float64, len(hz))
	for i := range hz {
		db[i] = 120 - 40*math.Pow(math.Log(hz[i]/45.5), 2)
	}
	if got := peak(hz, db); math.Abs(got-45.5) > 1e-9 {
		t.Errorf("peak at %g Hz, want 45.5", got)
	}
	if got := peak(hz[:2], []float64{1, 2}); got != 0 {
		t.Errorf("a peak of %g Hz at the end of a curve", got)
	}
}
