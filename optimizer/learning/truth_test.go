package learning

import (
	"math"
	"math/rand/v2"
	"testing"

	"loudfor/model/air"
	"loudfor/model/amplifier"
	"loudfor/model/bass"
	"loudfor/model/cabin"
	"loudfor/model/driver"
	"loudfor/model/enclosure"
	"loudfor/model/supply"
)

// A world whose truth is known: a car, a box and an amplifier drawn within
// their spreads, and a meter that scatters by a third of a decibel.

// meterNoise is the scatter of the meter in these worlds, dB.
const meterNoise = 0.3

type world struct {
	study *Study // with readings to come
	truth []float64
	r     *rand.Rand
}

// randomCase is some driver in some box on some amplifier.
func randomCase(t testing.TB, r *rand.Rand) Case {
	t.Helper()
	inches := []float64{8, 10, 12, 15}[r.IntN(4)]
	size := inches * 0.0254
	d, _, err := driver.Complete(driver.Card{
		Size: size, Coils: 1 + r.IntN(2), CoilLoad: 4,
		Fs: 26 + 14*r.Float64(), Qts: 0.4 + 0.3*r.Float64(), Xmax: 0.006 + 0.008*r.Float64(), Power: 200 + 400*r.Float64(),
	}, air.At(20))
	if err != nil {
		t.Fatal(err)
	}
	volume := enclosure.Displacement(size) * (10 + 8*r.Float64())
	box := enclosure.Box{Kind: enclosure.Sealed, Drivers: 1, Volume: volume}
	if r.IntN(2) == 0 {
		box = enclosure.Box{Kind: enclosure.Vented, Drivers: 1, Volume: 1.6 * volume, Tuning: 30 + 12*r.Float64()}
	}
	spec := amplifier.Spec{Channels: 1, Class: amplifier.ClassD, Ratings: []amplifier.Rating{
		{Mode: amplifier.Mono, Load: 4 / float64(d.Coils), Watts: 100 + 300*r.Float64(), Basis: amplifier.Basis(r.IntN(3))}}}
	source, _, _, ok := spec.Source(amplifier.Mono)
	if !ok {
		t.Fatal("no source")
	}
	return Case{
		Name:            "build",
		Setup:           bass.Setup{Driver: d, Box: box, Boxes: 1, Air: air.At(20)},
		Drive:           bass.Drive{Outputs: 1, Series: 1, Parallel: d.Coils, Source: source, Feed: supply.Stiff()},
		Limits:          bass.Reading(),
		AmplifierSpread: spec.Spread(amplifier.Mono),
	}
}

func randomWorld(t testing.TB, seed uint64) *world {
	t.Helper()
	r := rand.New(rand.NewPCG(seed, 1))
	bodies := cabin.Bodies()
	s, err := NewStudy(bodies[r.IntN(len(bodies))], 20, []Case{randomCase(t, r)}, nil)
	if err != nil {
		t.Fatal(err)
	}
	w := &world{study: s, r: r, truth: make([]float64, s.unknowns)}
	for i := range w.truth {
		w.truth[i] = max(-3, min(3, r.NormFloat64()))
	}
	return w
}

// read takes readings in the world.
func (w *world) read(t testing.TB, settings []Setting) []Reading {
	t.Helper()
	list := asReadings(settings)
	for i := range list {
		list[i].Tolerance = meterNoise
	}
	v, err := w.study.view(list)
	if err != nil {
		t.Fatal(err)
	}
	y := v.predict(w.truth)
	for i := range list {
		for _, o := range v.of[i] {
			noisy := y[o] + v.seen[o].sigma*w.r.NormFloat64()
			switch v.seen[o].of {
			case ofLevel:
				list[i].DB = noisy
			case ofOhms:
				list[i].Amps = list[i].Volts / math.Exp(noisy)
			}
		}
	}
	return list
}

// settings are n tones between 27 and 75 Hz at random places.
func (w *world) settings(n int, sets []string) []Setting {
	places := w.study.Body.PlaceNames()
	list := make([]Setting, n)
	for i := range list {
		tone := (float64(i) + w.r.Float64()) / float64(n)
		list[i] = Setting{Place: places[w.r.IntN(len(places))], Openings: sets[w.r.IntN(len(sets))], Hz: 27 * math.Pow(75.0/27, tone)}
	}
	return list
}
