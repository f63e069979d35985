package bass

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"loudfor/model/driver"
)

// Energy in is energy out: what the amplifier gives all coils is what heats
// them and the pole pieces, what the suspensions lose and what the cones do on
// the air. The parts are put together here from travel and current alone.
func TestPowerBalance(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := drawPrepared(t)
		d, l := drawDrive(t, p), drawLimits(t)
		dr := &p.driver
		for i, o := range p.Curve(d, l) {
			if o.Travel < 1e-9 {
				continue
			}
			w := 2 * math.Pi * o.Hz
			current := o.Amps / float64(d.Parallel) // rms, of each coil
			heat := p.coils * current * current * real(dr.CoilImpedance(w, o.CoilRise))
			if l.Crest != 0 {
				// The rise is that of the programme, at its crest.
				heat = p.coils * current * current * (dr.Re*(1+driver.TemperatureCoefficient*o.CoilRise) + p.points[i].zr)
			}
			velocity := w * o.Travel / math.Sqrt2
			motion := p.drivers * velocity * velocity * dr.Rms * (1 + driver.LossGrowth*o.Travel/dr.Xmax)
			load := p.load(i)
			reaction, _ := load.At(load.Flow(velocity * math.Sqrt2 * dr.Sd))
			sound := p.drivers * velocity * velocity * dr.Sd * dr.Sd * real(reaction)
			if sum := heat + motion + sound; math.Abs(o.Watts/sum-1) > 1e-6 {
				t.Fatalf("%g W in; heat %g, suspension %g, air %g", o.Watts, heat, motion, sound)
			}
			if want := o.Apparent * math.Cos(o.Phase); math.Abs(want/o.Watts-1) > 1e-6 {
				t.Fatalf("%g W, %g VA at %g rad make %g", o.Watts, o.Apparent, o.Phase, want)
			}
			if want := o.Volts / o.Amps; math.Abs(o.Load/want-1) > 1e-9 {
				t.Fatalf("load %g, volts over amps %g", o.Load, want)
			}
		}
	})
}

// The heat's closed form against plain iteration of its two equations.
func TestHeatFixedPoint(t *testing.T) {
	p := prepare(t, setup(sealedBox()), car(Grid()))
	d, l := modestDrive(), Reading()
	d.Source.OpenVoltage, d.Source.Current = 45, 20
	for _, burst := range []float64{0.5, 3, math.Inf(1)} {
		l.Burst = burst
		share := 1 - math.Exp(-burst/p.driver.HeatTime())
		for i := range p.hz {
			o := p.At(i, d, l)
			rise := 0.0
			for range 200 {
				rise = p.driver.HeatResistance() * share * o.Amps * o.Amps * p.driver.HotResistance(rise)
			}
			if math.Abs(rise-o.CoilRise) > 1e-6*(1+rise) {
				t.Fatalf("%g s, %g Hz: rise %g K, iterated %g", burst, o.Hz, o.CoilRise, rise)
			}
			if o.CoilRise > l.CoilRise*(1+1e-6) {
				t.Fatalf("rise %g K passes the limit", o.CoilRise)
			}
		}
	}
}
