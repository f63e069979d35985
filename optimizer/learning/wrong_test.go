package learning

import (
	"math"
	"math/cmplx"
	"testing"

	"loudfor/model/air"
	"loudfor/model/bass"
	"loudfor/model/cabin"
)

// twoCavities is a car that no box models: a boot and a cabin, each a tube in
// which sound runs along the car, with a seat back of mass and resistance
// between them, losses along the way, and a window that leaks. It is written
// for this test alone and shares nothing with package cabin.
type twoCavities struct {
	boot, cabin          float64 // m
	bootArea, cabinArea  float64 // m2
	seatMass, seatResist float64 // acoustic: kg/m4, Pa s/m3
	loss                 float64 // imaginary share of the wave number
	leak                 float64 // acoustic conductance of the front end, m3/(Pa s)
}

// response solves the tubes from the front (a leaking end) to the source at the
// rear wall of the boot; receivers stand in the cabin at x from the front.
func (c *twoCavities) response(hz []float64, x float64) cabin.Response {
	r := cabin.Response{Hz: hz}
	a := air.At(20)
	for _, f := range hz {
		w := 2 * math.Pi * f
		k := complex(w/a.SoundSpeed, -c.loss*w/a.SoundSpeed)
		tube := func(p, u complex128, length, area float64) (complex128, complex128) {
			z := complex(a.Density*a.SoundSpeed/area, 0)
			s, co := cmplx.Sin(k*complex(length, 0)), cmplx.Cos(k*complex(length, 0))
			// From the far end towards the source: u is the flow towards the front.
			return p*co + 1i*z*u*s, u*co + 1i*p/z*s
		}
		p, u := complex(1, 0), complex(c.leak, 0)
		at, _ := tube(p, u, x, c.cabinArea)
		p, u = tube(p, u, c.cabin, c.cabinArea)
		p += u * complex(c.seatResist, w*c.seatMass)
		p, u = tube(p, u, c.boot, c.bootArea)
		r.Transfer = append(r.Transfer, at/u)
		r.Back = append(r.Back, complex(max(0, real(p/u)), imag(p/u)))
	}
	return r
}

func (c *twoCavities) read(t *testing.T, w *world, places map[string]float64, settings []Setting) []Reading {
	t.Helper()
	list := asReadings(settings)
	k := w.study.Cases[0]
	for i := range list {
		r := c.response([]float64{list[i].Hz}, places[list[i].Place])
		p, err := bass.Prepare(k.Setup, &r)
		if err != nil {
			t.Fatal(err)
		}
		list[i].Tolerance = meterNoise
		list[i].DB = p.At(0, k.Drive, k.Limits).Level + meterNoise*w.r.NormFloat64()
	}
	return list
}

// In a car that is no box the error after eight readings is larger than in one
// that is, the bands know it, and they are wider than they would be.
func TestWrongModel(t *testing.T) {
	const learnt, held, mostRMS = 8, 6, 2.5
	cars := 12
	if !long() {
		cars = 4
	}
	square, blind, inside, count, widened := 0.0, 0.0, 0, 0, 0
	for seed := range cars {
		w := randomWorld(t, uint64(1000+seed))
		u := w.r.Float64
		car := twoCavities{boot: 0.7 + 0.4*u(), cabin: 1.6 + 0.6*u(), bootArea: 0.5 + 0.2*u(), cabinArea: 1.3 + 0.3*u(),
			seatMass: 0.5 + 2*u(), seatResist: 50 + 200*u(), loss: 0.05 + 0.1*u(), leak: 1e-4 + 2e-4*u()}
		body, _ := cabin.BodyNamed("sedan")
		places := map[string]float64{"dash": 0.3, "kick panel": 0.25, "headrest": 1.2}
		var err error
		if w.study, err = NewStudy(body, 20, w.study.Cases, nil); err != nil {
			t.Fatal(err)
		}
		shut := []string{"shut"}
		readings := car.read(t, w, places, w.settings(learnt, shut))
		asked := w.settings(held, shut)
		truth := car.read(t, w, places, asked)
		if w.study, err = NewStudy(body, 20, w.study.Cases, readings); err != nil {
			t.Fatal(err)
		}
		fit, err := w.study.Fit()
		if err != nil {
			t.Fatal(err)
		}
		prior, err := w.study.Prior()
		if err != nil {
			t.Fatal(err)
		}
		guess, err := fit.Predict(asked)
		if err != nil {
			t.Fatal(err)
		}
		before, err := prior.Predict(asked)
		if err != nil {
			t.Fatal(err)
		}
		if fit.Cross.Widened > 1 {
			widened++
		}
		for i, e := range guess {
			off := truth[i].DB - e.DB
			square += off * off
			blind += (truth[i].DB - before[i].DB) * (truth[i].DB - before[i].DB)
			count++
			if math.Abs(off) <= ninety*math.Hypot(e.Sigma, meterNoise) {
				inside++
			}
		}
	}
	n := float64(count)
	rms, share := math.Sqrt(square/n), float64(inside)/n
	t.Logf("two cavities, %d cars: %.2f dB rms (%.2f before any reading), %.0f %% in the bands, %d widened", cars, rms, math.Sqrt(blind/n), 100*share, widened)
	if rms > mostRMS || rms > math.Sqrt(blind/n)/2 {
		t.Errorf("held-out readings are %.2f dB off rms (%.2f before), want at most %g and half of that", rms, math.Sqrt(blind/n), mostRMS)
	}
	if share < 0.80 {
		t.Errorf("the bands hold only %.0f %% of the held-out readings: they lie", 100*share)
	}
	if widened == 0 {
		t.Error("no car was found to differ from the model")
	}
}
