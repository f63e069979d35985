package learning

import (
	"cmp"
	"math"
	"slices"
)

// Predicted beside measured, reading by reading, with what is known before the
// readings are used.

// Compared is one reading beside its prediction.
type Compared struct {
	Reading   int
	Expected  Estimate // level, impedance at the clamp's voltage, or at full output
	FullVolts float64  // V at one output that full output would give; 0: nothing was clamped
	FullWatts float64  // VA
	OffDB     float64  // measured less predicted
	Band      float64  // half-width of the 90 % interval of that difference, the meter's own error in it
	Outside   bool
}

// Curve is several tones of one build at one place with one set of openings.
type Curve struct {
	Case            int
	Place, Openings string
	Readings        []int   // by frequency
	Measured        float64 // Hz of the peak between the tones; 0: the loudest is at an end
	Predicted       float64 // the same, of the prediction at the same tones
	Off             float64 // mean of measured less predicted, dB
}

// fewestForPeak is how many tones a peak can be told from.
const fewestForPeak = 3

// Compare holds the readings against the fit's own prediction of them.
func (f *Fit) Compare() []Compared {
	v := f.view
	out := make([]Compared, len(v.readings))
	for i := range v.readings {
		r := &v.readings[i]
		c := Compared{Reading: i}
		for _, o := range v.of[i] {
			y := f.predicted[o]
			switch v.seen[o].of {
			case ofLevel:
				sigma := math.Sqrt(max(0, f.variance(f.slopes.RawRowView(o))))
				c.Expected.DB, c.Expected.Sigma = y, sigma
				c.OffDB = r.DB - y
				c.Band = ninety * math.Hypot(sigma, r.Tolerance)
			case ofOhms:
				c.Expected.Ohms = math.Exp(y)
				c.Expected.Volts, c.Expected.Watts = r.Volts, r.Volts*r.Volts/c.Expected.Ohms
			case ofVolts:
				c.FullVolts = math.Exp(y)
			}
		}
		if c.Expected.Ohms > 0 {
			c.FullWatts = c.FullVolts * c.FullVolts / c.Expected.Ohms
		}
		c.Outside = math.Abs(c.OffDB) > c.Band
		out[i] = c
	}
	return out
}

// Curves finds the response curves among the readings.
func (f *Fit) Curves() []Curve {
	var all []Curve
	for i, r := range f.view.readings {
		k := slices.IndexFunc(all, func(c Curve) bool { return c.Case == r.Case && c.Place == r.Place && c.Openings == r.Openings })
		if k < 0 {
			k = len(all)
			all = append(all, Curve{Case: r.Case, Place: r.Place, Openings: r.Openings})
		}
		all[k].Readings = append(all[k].Readings, i)
	}
	compared := f.Compare()
	all = slices.DeleteFunc(all, func(c Curve) bool { return len(c.Readings) < fewestForPeak })
	for k := range all {
		c := &all[k]
		slices.SortFunc(c.Readings, func(a, b int) int {
			return cmp.Or(cmp.Compare(f.view.readings[a].Hz, f.view.readings[b].Hz), cmp.Compare(a, b))
		})
		var hz, measured, predicted []float64
		for _, i := range c.Readings {
			r := &f.view.readings[i]
			hz, measured, predicted = append(hz, r.Hz), append(measured, r.DB), append(predicted, compared[i].Expected.DB)
			c.Off += compared[i].OffDB / float64(len(c.Readings))
		}
		c.Measured, c.Predicted = peak(hz, measured), peak(hz, predicted)
	}
	return all
}

// peak is the top of the parabola, over the logarithm of frequency, through
// the loudest tone and its neighbours; 0 where the loudest is at an end, for
// the peak may lie beyond it.
func peak(hz, db []float64) float64 {
	top := 0
	for i := range db {
		if db[i] > db[top] {
			top = i
		}
	}
	if top == 0 || top == len(db)-1 {
		return 0
	}
	x0, x1, x2 := math.Log(hz[top-1]), math.Log(hz[top]), math.Log(hz[top+1])
	d1 := (db[top] - db[top-1]) / (x1 - x0)
	d2 := (db[top+1] - db[top]) / (x2 - x1)
	bend := (d2 - d1) / (x2 - x0)
	if !(bend < 0) {
		return hz[top]
	}
	// Newton's form: slope d1 + bend (2 x - x0 - x1) is zero.
	return math.Exp((x0+x1)/2 - d1/(2*bend))
}
