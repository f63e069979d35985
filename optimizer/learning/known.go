package learning

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/mat"

	"loudfor/model/cabin"
	"loudfor/model/enclosure"
)

// What was learned, parameter by parameter, in the units of a builder: value
// and uncertainty before and after, how much of the prior's uncertainty is
// left, and which readings took it away.

// Verdict is how far the readings determined a parameter.
type Verdict int

// The verdicts.
const (
	Stayed     Verdict = iota // at the prior: the readings say nothing of it
	Narrowed                  // somewhat better known
	Determined                // mostly known from the readings
)

func (v Verdict) String() string {
	return [...]string{"stays as assumed", "narrowed", "determined"}[v]
}

// What is left of the prior's spread for a verdict.
const (
	determinedLeft = 0.5
	narrowedLeft   = 0.85
)

// Parameter is one thing that was fitted.
type Parameter struct {
	Name   string
	Unit   string
	Before float64
	After  float64
	// Spreads are one standard deviation, in the unit (relative ones are
	// turned into it at the value).
	SpreadBefore, SpreadAfter float64
	Left                      float64 // share of the prior's standard deviation that is left
	Verdict                   Verdict
	By                        string // what determined it most; empty: nothing did
	// Box says that it belongs to a build and not to the car.
	Build bool
}

// Parameters lists what a builder can make use of: the car's length, damping,
// openings and level, then box and amplifier of each build.
func (f *Fit) Parameters() []Parameter {
	s, b := f.Study, f.Study.Body
	moved := func(k int, spread float64) float64 { return math.Exp(spread * f.X[k]) }
	car := func(k int, name, unit string, value, spread float64) Parameter {
		return f.parameter(k, Parameter{Name: name, Unit: unit, Before: value, After: value * moved(k, spread), SpreadBefore: value * spread, SpreadAfter: value * spread * moved(k, spread)})
	}
	q := b.Cavity.FirstModeQ()
	damping := car(3, "damping: Q of the first mode", "", q, b.Spread.Admittance)
	// More admittance is less Q.
	by := moved(3, b.Spread.Admittance)
	damping.After, damping.SpreadAfter = q/by, damping.SpreadAfter/(by*by)
	zone := math.Exp(b.Cavity.Zone)
	all := []Parameter{
		car(0, "effective length", "m", b.Cavity.Length, b.Spread.Length),
		damping,
		f.sum(4, Parameter{Name: "damping: power of frequency", Before: b.Cavity.Exponent, SpreadBefore: b.Spread.Exponent}),
		car(5, "damping: pressure zone, times", "", zone, b.Spread.Zone),
		car(6, "area of what stands open", "%", 100, b.Spread.Area),
		f.level(),
	}
	for c := range s.Cases {
		all = append(all, f.caseParameters(c)...)
	}
	return all
}

// sum is a parameter to which its unknown adds.
func (f *Fit) sum(k int, p Parameter) Parameter {
	p.After, p.SpreadAfter = p.Before+p.SpreadBefore*f.X[k], p.SpreadBefore
	return f.parameter(k, p)
}

func (f *Fit) parameter(k int, p Parameter) Parameter {
	// Widening is for what is foretold; it makes nothing less known than it
	// was before the readings.
	p.Left = min(1, math.Sqrt(max(0, f.Cov.At(k, k)))*f.Cross.Widened)
	p.SpreadAfter *= p.Left
	p.judge()
	if p.Verdict != Stayed {
		row := make([]float64, f.Study.unknowns)
		row[k] = 1
		p.By = f.by(row)
	}
	return p
}

func (p *Parameter) judge() {
	switch {
	case p.Left <= determinedLeft:
		p.Verdict = Determined
	case p.Left <= narrowedLeft:
		p.Verdict = Narrowed
	}
}

// levelTones are where the level of a car is told, Hz: the middle of the range
// in which cars are metered.
var levelTones = []float64{30, 35, 40, 45, 50, 55, 60}

// level is the mean of the smooth error over the usual tones: what the car
// adds that no box explains.
func (f *Fit) level() Parameter {
	row := make([]float64, f.Study.unknowns)
	var d cabin.Deviation
	for term := range d.Shape {
		d.Shape[term] = 1
		for _, hz := range levelTones {
			row[cabin.ShapeFrom+term] += d.SmoothGain(hz, f.Study.Body.Spread) / float64(len(levelTones))
		}
		d.Shape[term] = 0
	}
	after, prior := 0.0, 0.0
	for i, v := range row {
		after += v * f.X[i]
		prior += v * v
	}
	p := Parameter{Name: "level, 30 to 60 Hz", Unit: "dB", After: after, SpreadBefore: math.Sqrt(prior), SpreadAfter: math.Sqrt(min(prior, f.variance(row)))}
	p.Left = p.SpreadAfter / p.SpreadBefore
	p.judge()
	if p.Verdict != Stayed {
		p.By = f.by(row)
	}
	return p
}

func (f *Fit) caseParameters(c int) []Parameter {
	k := &f.Study.Cases[c]
	from := f.Study.cabins + c*caseUnknowns
	one := func(u int, unit string, value, spread float64) Parameter {
		if value == 0 || spread == 0 {
			return Parameter{}
		}
		name := caseNames[u]
		if len(f.Study.Cases) > 1 {
			name += ", build " + fmt.Sprint(c+1)
		}
		by := math.Exp(spread * f.X[from+u])
		return f.parameter(from+u, Parameter{Name: name, Unit: unit, Before: value, After: value * by, SpreadBefore: value * spread, SpreadAfter: value * by * spread, Build: true})
	}
	leak, leakSpread := k.Setup.Box.LeakQ, statedLossSpread
	if leak == 0 {
		leak, leakSpread = k.Setup.Box.Kind.LeakPrior(), enclosure.LossSpread
	}
	var all []Parameter
	for _, p := range []Parameter{
		one(boxVolume, "L", 1e3*k.Setup.Box.Volume, volumeSpread),
		one(boxLeak, "", leak, leakSpread),
		one(ampVolts, "V", k.Drive.Source.OpenVoltage, k.AmplifierSpread),
		one(ampResistance, "ohm", k.Drive.Source.Resistance, resistanceSpread),
	} {
		if p.Name != "" {
			all = append(all, p)
		}
	}
	return all
}

// by names the observations that did most to determine a sum of unknowns: each
// kind is left out in turn, and the one without which the spread grows most is
// it.
func (f *Fit) by(row []float64) string {
	v := f.view
	type kind struct {
		of              quantity
		place, openings string
	}
	var kinds []kind
	count := map[kind]int{}
	of := func(o observation) kind {
		if o.of != ofLevel {
			return kind{of: o.of}
		}
		return kind{o.of, v.readings[o.reading].Place, v.readings[o.reading].Openings}
	}
	for _, o := range v.seen {
		if count[of(o)]++; count[of(o)] == 1 {
			kinds = append(kinds, of(o))
		}
	}
	j := mat.NewVecDense(len(row), row)
	best, most := kind{}, 0.0
	for _, k := range kinds {
		h := identity(f.Study.unknowns)
		for i, o := range v.seen {
			if of(o) != k {
				f.gather(h, i, f.weights[i]/(o.sigma*o.sigma))
			}
		}
		var c mat.Cholesky
		var x mat.VecDense
		if !c.Factorize(h) || c.SolveVecTo(&x, j) != nil {
			continue
		}
		if without := mat.Dot(j, &x); without > most*(1+sameGain) {
			best, most = k, without
		}
	}
	switch best.of {
	case ofOhms:
		return fmt.Sprintf("impedance (%d)", count[best])
	case ofVolts:
		return fmt.Sprintf("clamp volts (%d)", count[best])
	}
	return fmt.Sprintf("levels at the %s, %s (%d)", best.place, best.openings, count[best])
}
