package learning

import (
	"math"
	"math/cmplx"
	"slices"
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

// In a car that is no box the error after eight readings is larger than in one that
// is, the bands know it, and they are wider than they would be.
func TestWrongModel(t *testing.T) {
	const learnt, held, mostRMS = 8, 6, 2.5
	cars := max(4, worlds(t))
	var c score
	for seed := range cars {
		w := randomWorld(t, uint64(1000+seed))
		u := w.r.Float64
		car := twoCavities{boot: 0.7 + 0.4*u(), cabin: 1.6 + 0.6*u(), bootArea: 0.5 + 0.2*u(), cabinArea: 1.3 + 0.3*u(),
			seatMass: 0.5 + 2*u(), seatResist: 50 + 200*u(), loss: 0.05 + 0.1*u(), leak: 1e-4 + 2e-4*u()}
		w.study.Body, _ = cabin.BodyNamed("sedan")
		places, shut := map[string]float64{"dash": 0.3, "kick panel": 0.25, "headrest": 1.2}, []string{"shut"}
		taken := car.read(t, w, places, w.settings(learnt, shut))
		asked := w.settings(held, shut)
		c.add(t, w.study, taken, asked, car.read(t, w, places, asked))
	}
	c.lies(t, "two cavities", mostRMS)
	if after, before := c.rms(); after > before/2 {
		t.Errorf("readings help little: %.2f dB off rms, %.2f before", after, before)
	}
}

// flat is the car of a plainer model: doors are flat holes in an endless wall,
// and one admittance holds at all frequencies, for the pressure zone too.
func flat(b cabin.Body) cabin.Body {
	b.Cavity.Exponent, b.Cavity.Zone = 0, 0
	b.Spread.Exponent, b.Spread.Zone, b.Spread.Hinge, b.Spread.Inside = 0, 0, 0, 0
	sets := slices.Clone(b.Sets)
	for i := range sets {
		sets[i].Openings = slices.Clone(sets[i].Openings)
		for k := range sets[i].Openings {
			sets[i].Openings[k].Leaf = cabin.Leaf{}
		}
	}
	b.Sets = sets
	return b
}

// In worlds of the plainer model the bands still hold what they say: where they
// are too narrow they widen.
func TestPlainerWorlds(t *testing.T) {
	const learnt, held, mostRMS = 8, 6, 1.6
	var c score
	for seed := range worlds(t) {
		w := randomWorld(t, uint64(7000+seed))
		body := w.study.Body
		set := []string{"doors open"}
		if seed%3 == 2 {
			set = []string{"shut"}
		}
		w.study.Body = flat(body)
		taken := w.read(t, w.settings(learnt, set))
		asked := w.settings(held, set)
		truth := w.read(t, asked)
		w.study.Body = body
		c.add(t, w.study, taken, asked, truth)
	}
	c.lies(t, "plainer cars", mostRMS)
}

// lies fails where bands in cars of another model than is fitted are too narrow, the
// errors are larger than they may be, or no car was found to differ.
func (c *score) lies(t *testing.T, name string, most float64) {
	t.Helper()
	after, before := c.rms()
	share, slack := c.share()
	t.Logf("%s, %d cars: %.2f dB rms (%.2f before), %.1f %% in the bands, %d widened", name, c.cars, after, before, 100*share, c.widened)
	if share < 0.85-slack {
		t.Errorf("%s: the bands hold only %.1f %% of the others: they lie", name, 100*share)
	}
	if after > most {
		t.Errorf("%s: others are %.2f dB off rms, want at most %g", name, after, most)
	}
	if c.widened == 0 {
		t.Errorf("%s: no car was found to differ from the model", name)
	}
}
