package learning

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/mat"
)

// Which readings to take. On the linearisation a reading's worth is known
// before it is taken: with C the covariance of the unknowns, a reading whose
// slopes are j and whose meter scatters by s turns C into
//
//	C - C j j' C / (j' C j + s^2)
//
// whatever it will show. So the reading is chosen that narrows the bands of
// what is to be foretold most, then the next with that one taken as done, and
// so on (a greedy design; D. Lindley, On a measure of the information provided
// by an experiment, from memory).

// Step is one reading worth taking.
type Step struct {
	Setting Setting
	Band    float64 // mean half-width of the 90 % bands of the targets once it is taken, dB
}

// Plan chooses so many readings out of candidates, for the sake of what is to
// be foretold at the targets. before is the mean band without any. A reading
// is not chosen twice.
func (f *Fit) Plan(candidates, targets []Setting, steps int, tolerance float64) (before float64, chosen []Step, err error) {
	if len(candidates) == 0 || len(targets) == 0 {
		return 0, nil, fmt.Errorf("there is nothing to choose from, or nothing to foretell")
	}
	if tolerance <= 0 {
		tolerance = UsualTolerance
	}
	from, err := f.levelSlopes(candidates)
	if err != nil {
		return 0, nil, err
	}
	to, err := f.levelSlopes(targets)
	if err != nil {
		return 0, nil, err
	}
	// All that matters is the covariance among candidates and targets.
	n, m := len(candidates), len(targets)
	var all, spread, c mat.Dense
	all.Stack(from, to)
	spread.Mul(&all, f.Cov)
	c.Mul(&spread, all.T())
	c.Scale(f.Cross.Widened*f.Cross.Widened, &c)
	band := func() float64 {
		sum := 0.0
		for i := n; i < n+m; i++ {
			sum += ninety * math.Sqrt(max(0, c.At(i, i)))
		}
		return sum / float64(m)
	}
	before = band()
	taken := make([]bool, n)
	for range min(steps, n) {
		best, gain := -1, 0.0
		for i := range n {
			if taken[i] {
				continue
			}
			sum := 0.0
			for k := n; k < n+m; k++ {
				// The fall of the band, not of the variance: what is known
				// well already gains little.
				v := max(0, c.At(k, k))
				left := max(0, v-c.At(k, i)*c.At(k, i)/(c.At(i, i)+tolerance*tolerance))
				sum += math.Sqrt(v) - math.Sqrt(left)
			}
			if sum > gain*(1+sameGain) {
				best, gain = i, sum
			}
		}
		if best < 0 {
			break
		}
		taken[best] = true
		column := mat.Col(nil, best, &c)
		over := 1 / (c.At(best, best) + tolerance*tolerance)
		c.RankOne(&c, -over, mat.NewVecDense(n+m, column), mat.NewVecDense(n+m, column))
		chosen = append(chosen, Step{candidates[best], band()})
	}
	return before, chosen, nil
}

// sameGain keeps the rounding of sums from deciding between equals: the first
// in the list wins.
const sameGain = 1e-9

// levelSlopes are the slopes of the levels at settings.
func (f *Fit) levelSlopes(settings []Setting) (*mat.Dense, error) {
	v, err := f.Study.view(asReadings(settings))
	if err != nil {
		return nil, err
	}
	_, j := v.slopes(f.X)
	out := mat.NewDense(len(settings), f.Study.unknowns, nil)
	for i := range settings {
		for _, o := range v.of[i] {
			if v.seen[o].of == ofLevel {
				out.SetRow(i, j.RawRowView(o))
			}
		}
	}
	return out, nil
}
