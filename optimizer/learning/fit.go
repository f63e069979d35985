package learning

import (
	"errors"
	"math"
	"slices"

	"gonum.org/v1/gonum/floats"
	"gonum.org/v1/gonum/mat"

	"loudfor/model/cabin"
)

// Gauss and Newton's steps on the sum of squares with the prior in it. The
// problem is a few dozen unknowns with a nearly straight model and a prior that
// keeps every step sane, so that this takes three or four linearisations where
// a general minimiser takes hundreds of predictions; a test holds the result
// against one.

const (
	// huber is where a residual, in tolerances, stops pulling harder: 2
	// keeps nearly all of the efficiency for honest errors.
	huber = 2.0

	mostSteps   = 10
	mostHalves  = 6
	smallStep   = 0.02 // standard deviations: nothing that a band would show
	outlierPull = 0.3  // weight under which a reading is called an outlier
)

// Fit is a state of knowledge about a car and the builds in it: before
// (Prior) or after (Study.Fit) the readings.
type Fit struct {
	Study  *Study
	X      []float64     // most likely unknowns, standard deviations from what was stated
	Cov    *mat.SymDense // of the unknowns, not widened
	Cross  Cross         // how well each reading is foretold by the others
	learnt bool

	view      *view
	predicted []float64 // at X
	slopes    *mat.Dense
	weights   []float64 // of observations, 1 or less
}

// Prior is what is known without these readings: the car as stated, or as it
// was learned before.
func (s *Study) Prior() (*Fit, error) {
	v, err := s.view(s.Readings)
	if err != nil {
		return nil, err
	}
	f := &Fit{Study: s, view: v, X: make([]float64, s.unknowns), Cov: identity(s.unknowns)}
	if l := s.Body.Learned; l != nil {
		copy(f.X[:s.cabins], l.Shift.Vector())
		for i := range s.cabins {
			for k := range i + 1 {
				c := f.Cov.At(i, k)
				for _, d := range l.Determined {
					c -= (1 - d.Spread*d.Spread) * d.Along[i] * d.Along[k]
				}
				f.Cov.SetSym(i, k, c*l.Widened*l.Widened)
			}
		}
	}
	f.predicted, f.slopes = v.slopes(f.X)
	f.weights = ones(len(v.seen))
	f.Cross.Widened = 1
	return f, nil
}

// Fit learns from the readings. What was learned before is left aside, since
// its readings are among these.
func (s *Study) Fit() (*Fit, error) {
	if len(s.Readings) == 0 {
		return nil, errors.New("there is no reading to learn from")
	}
	v, err := s.view(s.Readings)
	if err != nil {
		return nil, err
	}
	f := &Fit{Study: s, view: v, X: make([]float64, s.unknowns), learnt: true}
	if err := f.descend(); err != nil {
		return nil, err
	}
	f.cross()
	return f, nil
}

// descend finds the most likely unknowns.
func (f *Fit) descend() error {
	at := f.loss(f.view.predict(f.X), f.X)
	for range mostSteps {
		f.predicted, f.slopes = f.view.slopes(f.X)
		f.weights = f.pulls(f.predicted)
		way, cov, err := f.newton()
		if err != nil {
			return err
		}
		f.Cov = cov
		moved, lower := false, 0.0
		for range mostHalves {
			to := slices.Clone(f.X)
			floats.Add(to, way)
			hold(to)
			if lower = f.loss(f.view.predict(to), to); lower < at {
				f.X, at, moved = to, lower, true
				break
			}
			floats.Scale(0.5, way)
		}
		if !moved || floats.Norm(way, math.Inf(1)) < smallStep {
			break
		}
	}
	f.predicted, f.slopes = f.view.slopes(f.X)
	f.weights = f.pulls(f.predicted)
	_, cov, err := f.newton()
	f.Cov = cov
	return err
}

// farthest keeps an unknown among things that exist, standard deviations.
const farthest = 5

func hold(x []float64) {
	for i := range x {
		x[i] = max(-farthest, min(farthest, x[i]))
	}
}

// residual is an observation's distance from a prediction in tolerances.
func (v *view) residual(i int, predicted float64) float64 {
	return (v.seen[i].value - predicted) / v.seen[i].sigma
}

// loss is what Fit makes smallest.
func (f *Fit) loss(predicted, x []float64) float64 {
	sum := 0.0
	for i, p := range predicted {
		r := math.Abs(f.view.residual(i, p))
		if r > huber {
			sum += huber * (2*r - huber)
		} else {
			sum += r * r
		}
	}
	for _, z := range x {
		sum += z * z
	}
	return sum
}

// pulls are the weights of the observations: 1, or less beyond Huber's limit.
func (f *Fit) pulls(predicted []float64) []float64 {
	w := ones(len(predicted))
	for i, p := range predicted {
		if r := math.Abs(f.view.residual(i, p)); r > huber {
			w[i] = huber / r
		}
	}
	return w
}

// newton solves (J'WJ + I) d = J'W r - x, and gives the covariance.
func (f *Fit) newton() (way []float64, cov *mat.SymDense, err error) {
	n := f.Study.unknowns
	h := identity(n)
	g := make([]float64, n)
	for i, o := range f.view.seen {
		f.gather(h, i, f.weights[i]/(o.sigma*o.sigma))
		floats.AddScaled(g, f.weights[i]/o.sigma*f.view.residual(i, f.predicted[i]), f.slopes.RawRowView(i))
	}
	floats.Sub(g, f.X)
	var c mat.Cholesky
	if !c.Factorize(h) {
		return nil, nil, errors.New("the readings cannot be brought together: a prediction is not a number")
	}
	var d mat.VecDense
	if err := c.SolveVecTo(&d, mat.NewVecDense(n, g)); err != nil {
		return nil, nil, err
	}
	cov = mat.NewSymDense(n, nil)
	return d.RawVector().Data, cov, c.InverseTo(cov)
}

// gather adds weight times the outer product of an observation's slopes.
func (f *Fit) gather(h *mat.SymDense, i int, weight float64) {
	h.SymRankOne(h, weight, mat.NewVecDense(f.Study.unknowns, f.slopes.RawRowView(i)))
}

// variance is j' Cov j, widened.
func (f *Fit) variance(j []float64) float64 {
	v := mat.NewVecDense(len(j), j)
	return mat.Inner(v, f.Cov, v) * f.Cross.Widened * f.Cross.Widened
}

// mostDirections is how many directions are kept: as many as readings can
// determine before the rest is small.
const (
	mostDirections  = 12
	worthADirection = 0.98 // what is left of the spread along one that is kept
)

// Learned is what the readings have taught about the car alone, for its
// vehicle file: the fitted car, and in which directions it is known better.
func (f *Fit) Learned() *cabin.Learned {
	n := f.Study.cabins
	l := &cabin.Learned{Shift: cabin.DeviationOf(slices.Clone(f.X[:n])), Widened: f.Cross.Widened,
		LeaveOneOut: f.Cross.RMS, Readings: len(f.Study.Readings)}
	own := mat.NewSymDense(n, nil)
	for i := range n {
		for k := range i + 1 {
			own.SetSym(i, k, f.Cov.At(i, k))
		}
	}
	var e mat.EigenSym
	if !e.Factorize(own, true) {
		return l
	}
	values := e.Values(nil) // rising
	var vectors mat.Dense
	e.VectorsTo(&vectors)
	for i, value := range values {
		spread := math.Sqrt(max(0, value))
		if spread > worthADirection || i == mostDirections {
			break
		}
		along := mat.Col(nil, i, &vectors)
		// A direction and its opposite are one; the largest term is written
		// as positive.
		if k := largest(along); along[k] < 0 {
			floats.Scale(-1, along)
		}
		l.Determined = append(l.Determined, cabin.Direction{Spread: spread, Along: along})
	}
	return l
}

func largest(v []float64) int {
	best := 0
	for i := range v {
		if math.Abs(v[i]) > math.Abs(v[best])+1e-9 {
			best = i
		}
	}
	return best
}

func identity(n int) *mat.SymDense {
	m := mat.NewSymDense(n, nil)
	for i := range n {
		m.SetSym(i, i, 1)
	}
	return m
}

func ones(n int) []float64 {
	w := make([]float64, n)
	for i := range w {
		w[i] = 1
	}
	return w
}
