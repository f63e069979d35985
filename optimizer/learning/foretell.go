package learning

import (
	"math"
)

// Setting is a reading that nobody has taken yet.
type Setting struct {
	Case     int
	Place    string
	Openings string
	Hz       float64
	Volts    float64 // V rms at one output; 0: full output
}

// Estimate is what is foretold of a reading.
type Estimate struct {
	DB    float64
	Sigma float64 // one standard deviation, dB, without the meter's own error
	Ohms  float64
	Watts float64 // apparent, of one output
	Volts float64 // at one output
}

// ninety is how many standard deviations hold 90 % of a Gaussian on either side.
const ninety = 1.645

// Band is the half-width of the 90 % interval, dB.
func (e Estimate) Band() float64 { return ninety * e.Sigma }

// Predict foretells readings.
func (f *Fit) Predict(settings []Setting) ([]Estimate, error) {
	v, err := f.Study.view(asReadings(settings))
	if err != nil {
		return nil, err
	}
	y, j := v.slopes(f.X)
	out := make([]Estimate, len(settings))
	for i := range settings {
		e := &out[i]
		for _, o := range v.of[i] {
			switch v.seen[o].of {
			case ofLevel:
				e.DB, e.Sigma = y[o], math.Sqrt(max(0, f.variance(j.RawRowView(o))))
			case ofOhms:
				e.Ohms = math.Exp(y[o])
			}
		}
	}
	return out, nil
}

func asReadings(settings []Setting) []Reading {
	list := make([]Reading, len(settings))
	for i, t := range settings {
		list[i] = Reading{Case: t.Case, Place: t.Place, Openings: t.Openings, Hz: t.Hz, Volts: t.Volts, Tolerance: UsualTolerance}
		if t.Volts > 0 {
			list[i].Amps = 1 // so that the impedance is computed
		}
	}
	return list
}
