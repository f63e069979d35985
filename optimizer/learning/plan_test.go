package learning

import (
	"math"
	"testing"
)

func grid(places, sets []string, tones ...float64) (list []Setting) {
	for _, p := range places {
		for _, o := range sets {
			for _, hz := range tones {
				list = append(list, Setting{Place: p, Openings: o, Hz: hz})
			}
		}
	}
	return list
}

// Each planned reading narrows the band; the band that the plan promises is the
// one that taking the readings gives, whatever they show.
func TestPlanKeepsItsPromise(t *testing.T) {
	w := randomWorld(t, 9)
	p, err := w.study.Prior()
	if err != nil {
		t.Fatal(err)
	}
	targets := grid([]string{"dash", "headrest"}, []string{"shut"}, 30, 40, 50, 60)
	candidates := grid([]string{"dash", "kick panel", "headrest"}, []string{"shut", "windows open"}, 28, 35, 44, 55, 68)
	before, steps, err := p.Plan(candidates, targets, 4, meterNoise)
	if err != nil || len(steps) != 4 {
		t.Fatal(steps, err)
	}
	last := before
	settings := make([]Setting, len(steps))
	for i, s := range steps {
		if !(s.Band < last) {
			t.Errorf("step %d takes the band from %.3f to %.3f dB", i+1, last, s.Band)
		}
		last, settings[i] = s.Band, s.Setting
	}
	// A world in which the readings show what is expected, so that the
	// linearisation stays where it is.
	clear(w.truth)
	readings := asReadings(settings)
	v, err := w.study.view(readings)
	if err != nil {
		t.Fatal(err)
	}
	y := v.predict(w.truth)
	for i := range readings {
		readings[i].DB, readings[i].Tolerance = y[v.of[i][0]], meterNoise
	}
	s, err := NewStudy(w.study.Body, 20, w.study.Cases, readings)
	if err != nil {
		t.Fatal(err)
	}
	f, err := s.Fit()
	if err != nil {
		t.Fatal(err)
	}
	after, err := f.Predict(targets)
	if err != nil {
		t.Fatal(err)
	}
	mean := 0.0
	for _, e := range after {
		mean += e.Band() / float64(len(after))
	}
	if math.Abs(mean-last) > 0.05*last {
		t.Errorf("the plan promises %.3f dB, the readings give %.3f dB", last, mean)
	}
	if _, _, err := p.Plan(nil, targets, 1, 0); err == nil {
		t.Error("nothing to choose from was accepted")
	}
}
