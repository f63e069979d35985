package learning

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"
)

// Diagnose ranks what could have made the readings as they are, the likeliest
// first; Ordinary, the hypothesis that nothing is wrong beyond the spreads, is
// always among them. Call it on a Prior: a fit has explained the residuals away.
func (f *Fit) Diagnose() ([]Cause, error) {
	v := f.view
	if len(v.seen) == 0 {
		return nil, fmt.Errorf("there is no reading to explain")
	}
	w, err := f.weigher()
	if err != nil {
		return nil, err
	}
	base := w.likelihood(f.predicted)
	causes := []Cause{{Kind: Ordinary, Words: "ordinary errors of the stated and assumed values; nothing is wrong", Check: "learn the car from the readings", Figures: f.misfit(w, f.predicted)}}
	for _, h := range f.hypotheses() {
		best := Cause{Kind: h.kind, Gain: math.Inf(-1)}
		var at []float64
		for _, value := range h.values {
			y, ok := f.moved(&h, value)
			if !ok {
				continue
			}
			if gain := w.likelihood(y) - base - penalty; gain > best.Gain {
				best.Gain, best.Value, at = gain, value, y
			}
		}
		if at == nil {
			continue
		}
		best.Words, best.Check = h.words(best.Value), h.check
		best.Figures = f.evidence(f.predicted, at)
		causes = append(causes, best)
	}
	elsewhere, err := f.elsewhere(w, base)
	if err != nil {
		return nil, err
	}
	causes = append(causes, elsewhere...)
	causes = append(causes, f.meter(w, base))
	slices.SortStableFunc(causes, func(a, b Cause) int { return cmp.Or(cmp.Compare(b.Gain, a.Gain), cmp.Compare(a.Kind, b.Kind)) })
	return causes, nil
}

// Told are the causes that are worth telling: ordinary errors, and those that
// explain the readings clearly better.
func Told(causes []Cause) (told []Cause) {
	for _, c := range causes {
		if c.Kind == Ordinary || c.Gain > worthTelling {
			told = append(told, c)
		}
	}
	return told
}

// hypotheses are those of the first case: the causes of a build that was
// metered are sought in all builds alike, since the readings of one car are
// mostly of one.
func (f *Fit) hypotheses() []hypothesis {
	return hypotheses(&f.Study.Cases[0])
}

// weigher is the covariance of the residuals as ordinary errors make them.
type weigher struct {
	v *view
	c mat.Cholesky
}

func (f *Fit) weigher() (*weigher, error) {
	n := len(f.view.seen)
	var spread mat.Dense
	spread.Mul(f.slopes.Slice(0, n, 0, f.Study.unknowns), f.Cov)
	s := mat.NewSymDense(n, nil)
	for i := range n {
		for k := range i + 1 {
			sum := mat.Dot(mat.NewVecDense(f.Study.unknowns, spread.RawRowView(i)), mat.NewVecDense(f.Study.unknowns, f.slopes.RawRowView(k)))
			if i == k {
				sum += f.view.seen[i].sigma * f.view.seen[i].sigma
			}
			s.SetSym(i, k, sum)
		}
	}
	w := &weigher{v: f.view}
	if !w.c.Factorize(s) {
		return nil, fmt.Errorf("the readings cannot be weighed: a prediction is not a number")
	}
	return w, nil
}

// farthestOff bounds a residual, standard deviations: past it a slip of the
// pen, which no cause shall be bent to explain.
const farthestOff = 1e3

// likelihood is the logarithm of that of the readings, given a prediction.
func (w *weigher) likelihood(predicted []float64) float64 {
	n := len(predicted)
	r := mat.NewVecDense(n, nil)
	for i, p := range predicted {
		r.SetVec(i, max(-farthestOff, min(farthestOff, w.v.seen[i].value-p)))
	}
	var x mat.VecDense
	if w.c.SolveVecTo(&x, r) != nil {
		return math.Inf(-1)
	}
	return -mat.Dot(r, &x) / 2
}

// Aspects of the readings, for the evidence of a cause.
var aspects = []struct {
	of   quantity
	name string
	say  func(mean float64) string
}{
	{ofLevel, "level", func(m float64) string { return fmt.Sprintf("%+.1f dB", m) }},
	{ofOhms, "impedance", func(m float64) string { return fmt.Sprintf("%+.0f %%", 100*math.Expm1(m)) }},
	{ofVolts, "voltage", func(m float64) string { return fmt.Sprintf("%+.1f dB", 20*m/math.Ln10) }},
}

// evidence says what a cause would change, beside what the readings show.
func (f *Fit) evidence(before, after []float64) []string {
	var lines []string
	for _, a := range aspects {
		seen, would, n := 0.0, 0.0, 0.0
		for i, o := range f.view.seen {
			if o.of == a.of {
				seen, would, n = seen+o.value-before[i], would+after[i]-before[i], n+1
			}
		}
		if n > 0 {
			lines = append(lines, fmt.Sprintf("%s: measured %s against the prediction on average; this cause alone would make it %s", a.name, a.say(seen/n), a.say(would/n)))
		}
	}
	return lines
}

// misfit says how far the readings are from what ordinary errors make likely.
func (f *Fit) misfit(w *weigher, predicted []float64) []string {
	n := float64(len(predicted))
	chi := -2 * w.likelihood(predicted)
	// A sum of n squares is n with a standard deviation of sqrt(2 n).
	words := "as far from the prediction as ordinary errors make likely"
	if far := (chi - n) / math.Sqrt(2*n); far > 2 {
		words = "further from the prediction than ordinary errors make likely"
	}
	return []string{fmt.Sprintf("%.0f observations, weighed sum of squares %.1f: %s", n, chi, words)}
}

// elsewhere tries whether the meter stood at another place, or other things
// were open, than was written down: for all readings alike.
func (f *Fit) elsewhere(w *weigher, base float64) ([]Cause, error) {
	places, sets := Cause{Kind: OtherPlace, Gain: math.Inf(-1)}, Cause{Kind: OtherOpenings, Gain: math.Inf(-1)}
	try := func(best *Cause, change func(*Reading), words, check string) error {
		list := slices.Clone(f.view.readings)
		same := true
		for i := range list {
			was := list[i]
			change(&list[i])
			same = same && was.Place == list[i].Place && was.Openings == list[i].Openings
		}
		if same {
			return nil
		}
		v, err := f.Study.view(list)
		if err != nil {
			return err
		}
		y := v.predict(f.X)
		if gain := w.likelihood(y) - base - penalty; gain > best.Gain {
			best.Gain, best.Words, best.Check, best.Figures = gain, words, check, f.evidence(f.predicted, y)
		}
		return nil
	}
	for _, p := range f.Study.Body.PlaceNames() {
		if err := try(&places, func(r *Reading) { r.Place = p }, "the meter stood at the "+p, "where the meter stood"); err != nil {
			return nil, err
		}
	}
	for _, o := range f.Study.Body.OpeningNames() {
		if err := try(&sets, func(r *Reading) { r.Openings = o }, "the car was in the state \""+o+"\"", "what stood open"); err != nil {
			return nil, err
		}
	}
	var out []Cause
	for _, c := range []Cause{places, sets} {
		if !math.IsInf(c.Gain, 0) {
			out = append(out, c)
		}
	}
	return out, nil
}

// meter is a meter that shows all levels too high or too low.
func (f *Fit) meter(w *weigher, base float64) Cause {
	best := Cause{Kind: MeterOff, Gain: math.Inf(-1), Check: "the meter against a calibrator or another meter; its range and weighting (C or Z, not A)"}
	var at []float64
	for off := -30.0; off <= 30; off++ {
		if off == 0 {
			continue
		}
		y := slices.Clone(f.predicted)
		for i, o := range f.view.seen {
			if o.of == ofLevel {
				y[i] += off
			}
		}
		if gain := w.likelihood(y) - base - penalty; gain > best.Gain {
			best.Gain, best.Value, at = gain, off, y
		}
	}
	best.Words = fmt.Sprintf("the meter shows %+.0f dB at all tones alike", best.Value)
	best.Figures = f.evidence(f.predicted, at)
	return best
}
