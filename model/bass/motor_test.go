package bass

import (
	"math"
	"testing"

	"loudfor/model/air"
	"loudfor/model/driver"
	"loudfor/model/enclosure"
)

// The laws of package driver at an instantaneous travel, in units of Xmax.
func forceFactorRatio(u float64) float64 { return 1 - driver.ForceFactorDrop*u*u }
func stiffnessRatio(u float64) float64   { return 1 + driver.StiffnessGrowth*u*u }

// The first-harmonic factors against Fourier integrals of the curves that they
// come from.
func TestDescribingFunctions(t *testing.T) {
	const steps = 20000
	for _, u := range []float64{0.01, 0.5, 1, 1.3, MostOverdrive} {
		var stiff, travel, motion, emf float64
		for i := range steps {
			q := 2 * math.Pi * (float64(i) + 0.5) / steps
			c, s := math.Cos(q), math.Sin(q)
			x := u * c
			bl := forceFactorRatio(x)
			stiff += stiffnessRatio(x) * x * c * 2 / steps / u
			travel += bl * c * c * 2 / steps // current in phase with the travel
			motion += bl * s * s * 2 / steps // current in quadrature
			emf += bl * s * s * 2 / steps    // velocity is in quadrature
		}
		u2 := u * u
		for _, c := range []struct {
			what      string
			got, want float64
		}{
			{"stiffness", 1 + stiffnessSquare*u2, stiff},
			{"force of the current with the travel", 1 - travelSquare*u2, travel},
			{"force of the current with the motion", 1 - motionSquare*u2, motion},
			{"EMF", 1 - motionSquare*u2, emf},
		} {
			if math.Abs(c.got/c.want-1) > 1e-9 {
				t.Errorf("u = %g, %s: %.9f, integral %.9f", u, c.what, c.got, c.want)
			}
		}
	}
}

// timeTolerance is how near the first-harmonic method must be to the true
// nonlinear motion: the method leaves out that the motion is not quite a sine.
const timeTolerance = 0.01

// The differential equations of a sealed box, stepped through time (classical
// Runge-Kutta), against the prediction: the same voltage must move the cone by
// the same fundamental travel and draw the same fundamental current.
func TestAgainstTimeDomain(t *testing.T) {
	d := twelve()
	d.L2, d.R2 = 0, 0
	a := air.At(20)
	c, err := sealedBox().Circuit(d, 0.0028, a)
	if err != nil {
		t.Fatal(err)
	}
	c.Leak, c.Absorption = 0, 0
	hz := []float64{22, 35, 50, 75, 110}
	var p Prepared
	p.fill(&d, &c, 1, openField(hz))
	l := Reading()
	l.Burst = 1e-9 // cold
	drive := modestDrive()
	drive.Source.Resistance, drive.Source.Current = 0, 100
	drive.Feed.CableResistance = 0
	for _, open := range []float64{5, 25, 35} {
		drive.Source.OpenVoltage = open
		for i := range hz {
			o := p.At(i, drive, l)
			travel, current := simulate(&d, &c, o)
			if math.Abs(travel/o.Travel-1) > timeTolerance || math.Abs(current/(o.Amps*math.Sqrt2)-1) > timeTolerance {
				t.Errorf("%g Hz, %.1f V, u %.2f: travel %.4f mm, in time %.4f; current %.3f A, in time %.3f", hz[i],
					o.Volts, o.Travel/d.Xmax, o.Travel*1e3, travel*1e3, o.Amps*math.Sqrt2, current)
			}
		}
	}
}

// simulate integrates travel, velocity and current of one coil until the motion
// has settled, and gives the fundamental amplitudes of travel and current.
func simulate(d *driver.Driver, c *enclosure.Circuit, o Operation) (travel, current float64) {
	const perCycle, cycles = 800, 60
	w := 2 * math.Pi * o.Hz
	loss := d.Rms * (1 + driver.LossGrowth*o.Travel/d.Xmax)
	air := d.Sd * d.Sd / c.Compliance
	slope := func(t float64, y [3]float64) [3]float64 {
		x, v, i := y[0], y[1], y[2]
		bl := d.Bl * forceFactorRatio(x/d.Xmax)
		k := stiffnessRatio(x/d.Xmax)/d.Cms + air
		return [3]float64{v, (bl*i - loss*v - k*x) / d.Mms,
			(o.Volts*math.Sqrt2*math.Cos(w*t) - d.Re*i - bl*v) / d.Le}
	}
	var y [3]float64
	h := 2 * math.Pi / w / perCycle
	var xc, xs, ic, is float64
	for n := range perCycle * cycles {
		t := float64(n) * h
		if n >= perCycle*(cycles-4) {
			cos, sin := math.Cos(w*t)/(2*perCycle), math.Sin(w*t)/(2*perCycle)
			xc, xs, ic, is = xc+y[0]*cos, xs+y[0]*sin, ic+y[2]*cos, is+y[2]*sin
		}
		k1 := slope(t, y)
		k2 := slope(t+h/2, along(y, k1, h/2))
		k3 := slope(t+h/2, along(y, k2, h/2))
		k4 := slope(t+h, along(y, k3, h))
		for j := range y {
			y[j] += h / 6 * (k1[j] + 2*k2[j] + 2*k3[j] + k4[j])
		}
	}
	return math.Hypot(xc, xs), math.Hypot(ic, is)
}

func along(y, k [3]float64, h float64) [3]float64 {
	for j := range y {
		y[j] += h * k[j]
	}
	return y
}

// The lattice ends on the end of the laws, with one point beyond.
func TestLatticeReachesTheEndOfTheLaws(t *testing.T) {
	if last := rungTravel[rungs-2]; math.Abs(last-MostOverdrive) > 1e-12 || rungTravel[rungs-1] != mostTravel || mostTravel <= last {
		t.Errorf("the last points are %g and %g Xmax, the laws end at %g", last, rungTravel[rungs-1], MostOverdrive)
	}
}
