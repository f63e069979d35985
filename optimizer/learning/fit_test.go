package learning

import (
	"math"
	"slices"
	"testing"

	"gonum.org/v1/gonum/floats"
	"gonum.org/v1/gonum/optimize"

	"loudfor/model/cabin"
)

// learned is a world with n readings taken, and the fit to them.
func learned(t *testing.T, seed uint64, n int, spoil func([]Reading)) (*world, *Fit) {
	t.Helper()
	w := randomWorld(t, seed)
	readings := w.read(t, w.settings(n, []string{"shut"}))
	if spoil != nil {
		spoil(readings)
	}
	var err error
	if w.study, err = NewStudy(w.study.Body, 20, w.study.Cases, readings); err != nil {
		t.Fatal(err)
	}
	f, err := w.study.Fit()
	if err != nil {
		t.Fatal(err)
	}
	return w, f
}

// The steps end where a general minimiser ends: gonum's BFGS from the fit, and
// from the start, finds nothing lower.
func TestAgainstMinimiser(t *testing.T) {
	if !long() {
		t.Skip("hundreds of predictions")
	}
	_, f := learned(t, 4, 6, nil)
	loss := func(x []float64) float64 { return f.loss(f.view.predict(x), x) }
	problem := optimize.Problem{Func: loss, Grad: func(g, x []float64) {
		y, j := f.view.slopes(x)
		for k := range g {
			g[k] = 2 * x[k]
		}
		for i, w := range f.pulls(y) {
			floats.AddScaled(g, -2*w/f.view.seen[i].sigma*f.view.residual(i, y[i]), j.RawRowView(i))
		}
	}}
	got := loss(f.X)
	for _, from := range [][]float64{make([]float64, len(f.X)), f.X} {
		result, err := optimize.Minimize(problem, slices.Clone(from), &optimize.Settings{MajorIterations: 60}, &optimize.BFGS{})
		if result == nil {
			t.Fatal(err)
		}
		// A hundredth of a unit of the sum of squares is a tenth of a
		// tolerance in one reading.
		if slack := 0.02 + 0.005*got; result.F < got-slack {
			t.Errorf("the minimiser reaches %.4f, the fit %.4f", result.F, got)
		}
	}
}

// A reading that fits nothing is named and pulls little; the others are
// foretold nearly as well as without it.
func TestOutlier(t *testing.T) {
	const slip = 12.0 // dB
	w, f := learned(t, 7, 9, func(r []Reading) { r[4].DB += slip })
	if out := f.Outliers(); !slices.Equal(out, []int{4}) {
		t.Errorf("outliers %v, weights %+v; want reading 5 alone", out, f.Cross.Each)
	}
	asked := w.settings(6, []string{"shut"})
	truth := w.read(t, asked)
	guess, err := f.Predict(asked)
	if err != nil {
		t.Fatal(err)
	}
	square := 0.0
	for i := range guess {
		square += math.Pow(truth[i].DB-guess[i].DB, 2)
	}
	if rms := math.Sqrt(square / float64(len(guess))); rms > slip/4 {
		t.Errorf("with one slip of %g dB the others are %.1f dB off", slip, rms)
	}
}

// A reading with volts and amperes is three observations: the level as well as the meter
// is known to, the impedance to 4 % (a clamp hangs around its wire anyhow) and the voltage
// to 2 %, unless the gain was turned down (common practice, no source).
func TestWhatAReadingIs(t *testing.T) {
	w := randomWorld(t, 3)
	open := w.study.Cases[0].Drive.Source.OpenVoltage
	got := w.study.observations([]Reading{{DB: 120, Tolerance: 0.5, Volts: 0.9 * open, Amps: 3}, {DB: 110, Tolerance: 1, Volts: 0.4 * open, Amps: 1}, {DB: 100, Tolerance: 2}})
	want := []observation{{0, ofLevel, 120, 0.5}, {0, ofOhms, math.Log(0.9 * open / 3), 0.04}, {0, ofVolts, math.Log(0.9 * open), 0.02},
		{1, ofLevel, 110, 1}, {1, ofOhms, math.Log(0.4 * open), 0.04}, {2, ofLevel, 100, 2}}
	if !slices.Equal(got, want) {
		t.Errorf("%v, want %v", got, want)
	}
}

// Without readings near it a parameter stays where it was: nothing is claimed.
func TestNothingClaimed(t *testing.T) {
	_, f := learned(t, 3, 1, nil)
	var names []string
	for _, p := range f.Parameters() {
		names = append(names, p.Name)
		if p.Name == "area of what stands open" && (p.Verdict != Stayed || math.Abs(p.After-p.Before) > 1e-6) {
			t.Errorf("one reading in a shut car is said to tell the area of its openings: %+v", p)
		}
		if p.Left > 1+1e-9 || p.SpreadAfter < 0 {
			t.Errorf("%+v", p)
		}
	}
	for _, name := range []string{"box volume", "box leakage QL", "amplifier voltage", "amplifier resistance"} {
		if !slices.Contains(names, name) {
			t.Errorf("nothing is said of the %s: %v", name, names)
		}
	}
	if f.Cross.RMS != 0 || f.Cross.Widened != 1 {
		t.Errorf("leave-one-out of one reading: %+v", f.Cross)
	}
}

// Readings never widen the covariance, and repeats are left out together: the
// same reading six times is one reading.
func TestRepeats(t *testing.T) {
	w := randomWorld(t, 5)
	one := w.settings(1, []string{"shut"})
	readings := w.read(t, slices.Repeat(one, 6))
	s, err := NewStudy(w.study.Body, 20, w.study.Cases, readings)
	if err != nil {
		t.Fatal(err)
	}
	f, err := s.Fit()
	if err != nil {
		t.Fatal(err)
	}
	if f.Cross.RMS != 0 {
		t.Errorf("six repeats of one reading pass for a cross-validation of %.2f dB", f.Cross.RMS)
	}
	for k := range s.unknowns {
		if f.Cov.At(k, k) > 1+1e-9 {
			t.Errorf("unknown %d is less known after reading: %g", k, f.Cov.At(k, k))
		}
	}
}

// Student's t for 11 degrees of freedom is 1.796 at 95 %, and a Gaussian's 1.645
// (tables of any handbook of statistics, from memory).
func TestWidenedLikeStudent(t *testing.T) {
	if got, want := student(11), 1.796/1.645; math.Abs(got-want) > 1e-3 {
		t.Errorf("%.4f, want %.4f", got, want)
	}
	if many := student(1e6); math.Abs(many-1) > 1e-3 {
		t.Errorf("from a million errors the spread is known, and yet widened by %.4f", many)
	}
}

// The vehicle's knowledge (directions) foretells as the fit does, where the
// build is known.
func TestLearnedIsTheFit(t *testing.T) {
	w, f := learned(t, 11, 7, nil)
	l := f.Learned()
	body := w.study.Body
	body.Learned = l
	if err := body.Check(); err != nil {
		t.Fatal(err)
	}
	s, err := NewStudy(body, 20, w.study.Cases, nil)
	if err != nil {
		t.Fatal(err)
	}
	p, err := s.Prior()
	if err != nil {
		t.Fatal(err)
	}
	n := s.cabins
	for i := range n {
		if math.Abs(p.X[i]-f.X[i]) > 1e-9 {
			t.Errorf("unknown %d: %g, want %g", i, p.X[i], f.X[i])
		}
		for k := range n {
			want := f.Cov.At(i, k) * f.Cross.Widened * f.Cross.Widened
			// What the dropped directions would narrow further.
			if got := p.Cov.At(i, k); math.Abs(got-want) > 0.05*f.Cross.Widened*f.Cross.Widened {
				t.Errorf("covariance %d, %d: %.3f, want %.3f", i, k, got, want)
			}
		}
	}
}

// What the trade knows: in a shut car dash and kick panel agree within about
// half a decibel below 50 Hz, and with the doors open the peaks of dash and
// headrest lie within a few hertz (common practice, no source). With the doors
// open the kick panel, beside the opening, is computed 1.8 dB lower.
func TestTradeFacts(t *testing.T) {
	const alike, hertz = 0.5, 8.0
	body, _ := cabin.BodyNamed("small sedan")
	w := randomWorld(t, 2)
	s, err := NewStudy(body, 20, w.study.Cases[:1], nil)
	if err != nil {
		t.Fatal(err)
	}
	f, err := s.Prior()
	if err != nil {
		t.Fatal(err)
	}
	var settings []Setting
	for hz := 30.0; hz <= 70; hz += 2 {
		for _, at := range [][2]string{{"dash", "shut"}, {"kick panel", "shut"}, {"dash", "doors open"}, {"headrest", "doors open"}} {
			settings = append(settings, Setting{Place: at[0], Openings: at[1], Hz: hz, Volts: 5})
		}
	}
	e, err := f.Predict(settings)
	if err != nil {
		t.Fatal(err)
	}
	var hz, dash, rest []float64
	for i := 0; i < len(e); i += 4 {
		if off := math.Abs(e[i].DB - e[i+1].DB); settings[i].Hz < 50 && off > alike {
			t.Errorf("%g Hz: dash and kick panel differ by %.1f dB", settings[i].Hz, off)
		}
		hz, dash, rest = append(hz, settings[i].Hz), append(dash, e[i+2].DB), append(rest, e[i+3].DB)
	}
	if a, b := peak(hz, dash), peak(hz, rest); a == 0 || b == 0 || math.Abs(a-b) > hertz {
		t.Errorf("the peak is at %.1f Hz at the dash and %.1f Hz at the headrest", a, b)
	}
}

// Four readings say nothing of how far off the model is; five do.
func TestFewestForCross(t *testing.T) {
	for _, n := range []int{FewestForCross - 1, FewestForCross} {
		if _, f := learned(t, 3, n, nil); (f.Cross.RMS > 0) != (n == FewestForCross) {
			t.Errorf("%d readings: %+v", n, f.Cross)
		}
	}
}
