package learning

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/floats"
	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/stat/distuv"
)

// Leaving readings out. The prediction is nearly straight around the fit, so a
// reading is taken out of the sums without fitting again: with H the matrix of
// the normal equations and H' what is left of it, the unknowns without it are
//
//	x' = x + H'^-1 (minus its pull on the fit)
//
// and its level is foretold from x'. A repeat of a reading (same place, same
// openings, nearly the same tone) would give it away, so repeats are left out
// together.

// FewestForCross is how many readings leave-one-out errors say anything from.
const FewestForCross = 5

const (
	// repeatOctaves is how near two tones are one, octaves.
	repeatOctaves = 1.0 / 24

	// trust is how many readings the model is trusted like before any was
	// taken: the spreads are widened by what the errors say beyond that.
	trust = 3.0
)

// Left is one reading foretold by the others.
type Left struct {
	Error  float64 // measured less foretold, dB
	Sigma  float64 // that it should have, dB, the meter's tolerance in it
	Weight float64 // of the reading in the fit: 1, less for an outlier
}

// Cross is the result of leaving out each reading.
type Cross struct {
	Each []Left  // of each reading
	RMS  float64 // error over all, outliers counted by their weight, dB; 0: too few readings
	// Widened is the factor on all spreads where errors are larger than they
	// should be; 1 where they are not.
	Widened float64
}

// cross fills in f.Cross.
func (f *Fit) cross() {
	s := f.Study
	f.Cross = Cross{Widened: 1, Each: make([]Left, len(s.Readings))}
	for i := range s.Readings {
		f.Cross.Each[i] = f.leave(i)
	}
	if f.independent() < FewestForCross {
		return
	}
	square, chi, weight := 0.0, 0.0, 0.0
	for _, l := range f.Cross.Each {
		square += l.Weight * l.Error * l.Error
		chi += l.Weight * l.Error * l.Error / (l.Sigma * l.Sigma)
		weight += l.Weight
	}
	f.Cross.RMS = math.Sqrt(square / weight)
	if wide := math.Sqrt((trust + chi) / (trust + weight)); wide > 1 {
		f.Cross.Widened = wide * student(trust+weight)
	}
}

// student is how much wider a band is whose spread is itself known from so many
// errors alone: the 90 % interval of Student's t over that of a Gaussian, 9 % for
// eight readings and the trust. Spreads that the errors bear out stay as stated.
func student(freedom float64) float64 {
	return distuv.StudentsT{Sigma: 1, Nu: freedom}.Quantile(0.95) / ninety
}

// independent is how many readings are no repeats of others.
func (f *Fit) independent() int {
	n := 0
	for i := range f.Study.Readings {
		if f.repeats(i)[0] == i {
			n++
		}
	}
	return n
}

// repeats lists the readings of the same thing, the reading itself among them.
func (f *Fit) repeats(i int) (all []int) {
	a := f.Study.Readings[i]
	for k, b := range f.Study.Readings {
		if a.Place == b.Place && a.Openings == b.Openings && math.Abs(math.Log2(a.Hz/b.Hz)) < repeatOctaves {
			all = append(all, k)
		}
	}
	return all
}

// leave foretells a reading from the others.
func (f *Fit) leave(reading int) Left {
	v := f.view
	out := f.repeats(reading)
	h := identity(f.Study.unknowns)
	pull := make([]float64, f.Study.unknowns)
	for i, o := range v.seen {
		weight := f.weights[i] / (o.sigma * o.sigma)
		if slices.Contains(out, o.reading) {
			floats.AddScaled(pull, -f.weights[i]/o.sigma*v.residual(i, f.predicted[i]), f.slopes.RawRowView(i))
			continue
		}
		f.gather(h, i, weight)
	}
	level := v.of[reading][0]
	tolerance := v.seen[level].sigma
	l := Left{Error: tolerance * v.residual(level, f.predicted[level]), Sigma: tolerance, Weight: f.weights[level]}
	var c mat.Cholesky
	var moved mat.VecDense
	if !c.Factorize(h) || c.SolveVecTo(&moved, mat.NewVecDense(len(pull), pull)) != nil {
		return l
	}
	j := mat.NewVecDense(len(pull), f.slopes.RawRowView(level))
	l.Error -= mat.Dot(j, &moved)
	var spread mat.VecDense
	if c.SolveVecTo(&spread, j) == nil {
		l.Sigma = math.Sqrt(tolerance*tolerance + mat.Dot(j, &spread))
	}
	return l
}

// Outliers lists the readings that fit nothing: their weight in the fit is
// small, and so is what they did to it.
func (f *Fit) Outliers() (all []int) {
	for i, l := range f.Cross.Each {
		if l.Weight < outlierPull {
			all = append(all, i)
		}
	}
	return all
}
