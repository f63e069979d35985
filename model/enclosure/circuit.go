package enclosure

import (
	"fmt"
	"math"

	"loudfor/model/air"
	"loudfor/model/driver"
)

// The circuit of one driver with its share of the box. Shares keep the number
// of drivers out of everything that follows: a box of N drivers is N boxes of
// one, joined without any flow across the joint.

const (
	// ventedLeak and sealedLeak are QL where it is not stated. Small (1973) found
	// leakage to be the largest loss of a vented box, QL between 5 and 20, and drew
	// his alignments for 7 (from memory): it takes in whatever the port loses. A
	// closed box has no port: Small (1972) reports a mechanical Q of 5 to 10 for
	// closed boxes without filling (from memory). Of its losses a driver on such a
	// box, whose Qms there is about 10, has 1/10, the walls 1/50; a QL of 20 leaves
	// a Q of 6 in all.
	ventedLeak, sealedLeak = 7.0, 20.0

	// AbsorptionPrior is QA where it is not stated: above 100 unlined, 30 to
	// 80 with a lining (Small 1973, from memory); car boxes have a thin one
	// at most.
	AbsorptionPrior = 50.0

	// LossSpread is the relative standard deviation of either prior.
	LossSpread = 0.4

	// displacementPrior is the volume of a driver's frame and magnet over
	// the cube of its nominal diameter: 2.8 litres for 12 inches, 1.6 for 10
	// (common practice, no source).
	displacementPrior = 0.1
)

// Circuit holds the elements of one driver's share. Acoustic impedances are in
// Pa s/m3. Of a vented box, Compliance is its only chamber; of a band-pass box
// the rear chamber, which is behind the cone.
type Circuit struct {
	Kind Kind

	Volume     float64 // net, of the chamber behind the cone, m3
	Compliance float64 // m3/Pa
	Absorption float64 // in series with Compliance

	FrontVolume     float64 // net, band-pass
	FrontCompliance float64
	FrontAbsorption float64

	// Leak is the conductance between the inside and the cabin; of a
	// band-pass box that of both chambers, at the front one.
	Leak float64

	Tuning         float64 // Hz, of the ported chamber; 0 where there is none
	PortMass       float64 // kg/m4
	PortDrag       float64 // resistance at low speed
	PortTurbulence float64 // growth of the resistance with the peak volume velocity, Pa s2/m6
	PortArea       float64 // m2

	LeakQ, AbsorptionQ float64 // that the losses come from, stated or assumed

	Assumed Assumption
}

// Assumption is a set of things about the box that nobody stated.
type Assumption uint8

const (
	AssumedLeak Assumption = 1 << iota
	AssumedAbsorption
	AssumedDisplacement
	AssumedPort // tuning stated, size of the port not
	AssumedSealedLeak
)

// LeakPrior is the QL of a kind of box where it is not stated.
func (k Kind) LeakPrior() float64 {
	if k == Sealed {
		return sealedLeak
	}
	return ventedLeak
}

// Words says what was assumed, in plain words.
func (s Assumption) Words() []string {
	var words []string
	for _, a := range []struct {
		bit  Assumption
		word string
	}{
		{AssumedLeak, fmt.Sprintf("box leakage QL %g (Small 1973), give or take %.0f %%", ventedLeak, LossSpread*100)},
		{AssumedSealedLeak, fmt.Sprintf("box leakage QL %g (worked out from Small 1972, from memory), give or take %.0f %%", sealedLeak, LossSpread*100)},
		{AssumedAbsorption, fmt.Sprintf("box absorption QA %g (Small 1973), give or take %.0f %%", AbsorptionPrior, LossSpread*100)},
		{AssumedDisplacement, "room that the driver takes up in the box, by its size (common practice, no source)"},
		{AssumedPort, "area of the port, by the volume of the box (12 square inches a cubic foot: common practice, no source)"},
	} {
		if s&a.bit != 0 {
			words = append(words, a.word)
		}
	}
	return words
}

// Displacement is the usual volume, m3, that a driver of a nominal diameter in
// m takes up in a box.
func Displacement(size float64) float64 { return displacementPrior * size * size * size }

// Circuit gives the circuit of one driver d with its share of the box.
// displacement is the volume in m3 that one driver takes up inside; 0: the
// usual one for its size. The error is an *Error and names the number that
// cannot be right.
func (b Box) Circuit(d driver.Driver, displacement float64, a air.Air) (Circuit, error) {
	if err := b.Check(); err != nil {
		return Circuit{}, err
	}
	if err := checkAir(a); err != nil {
		return Circuit{}, err
	}
	if !(displacement >= 0) {
		return Circuit{}, &Error{"displacement", displacement, "m3", "must not be negative"}
	}
	c := Circuit{Kind: b.Kind}
	if displacement == 0 {
		displacement = Displacement(d.Size)
		c.Assumed |= AssumedDisplacement
	}
	share := 1 / float64(b.Drivers)
	c.Volume = b.Volume*share - displacement
	c.FrontVolume = b.FrontVolume * share
	if b.Kind != Sealed && b.Port.Stated() {
		air := b.Port.Air() * share
		if b.Kind == BandPass {
			c.FrontVolume -= air
		} else {
			c.Volume -= air
		}
	}
	// The cone's own sweep is the least that must be left.
	if sweep := d.Sd * d.Xmax; !(c.Volume > sweep) {
		return Circuit{}, &Error{"net volume for each driver", c.Volume, "m3", fmt.Sprintf(
			"of %.4g m3 the driver takes %.4g and the port its part; the cone alone sweeps %.4g", b.Volume*share, displacement, sweep)}
	}
	if b.Kind == BandPass && !(c.FrontVolume > d.Sd*d.Xmax) {
		return Circuit{}, &Error{"net front volume for each driver", c.FrontVolume, "m3", "the port and the cone's sweep leave nothing"}
	}
	stiffness := a.Density * a.SoundSpeed * a.SoundSpeed
	c.Compliance = c.Volume / stiffness
	c.FrontCompliance = c.FrontVolume / stiffness
	if b.Kind != Sealed {
		b.port(&c, share, a)
	}
	b.losses(&c, d)
	return c, nil
}

// port fills in the port's elements.
func (b Box) port(c *Circuit, share float64, a air.Air) {
	volume := c.portedVolume() / share // of the whole box
	p := b.Port
	compliance := volume / (a.Density * a.SoundSpeed * a.SoundSpeed)
	var mass float64
	if p.Stated() {
		mass = p.Mass(a)
		c.Tuning = resonance(mass, compliance)
	} else {
		p = assumedPort(volume, b.Tuning, a)
		c.Tuning = b.Tuning
		w := 2 * math.Pi * b.Tuning
		mass = 1 / (w * w * compliance)
		c.Assumed |= AssumedPort
	}
	c.PortMass = mass / share
	c.PortDrag = p.drag(c.Tuning, a) / share
	if b.PortQ > 0 { // Small 1973: QP = 1/(w C R), at w that of the mass and C of the chamber
		c.PortDrag = 2 * math.Pi * c.Tuning * c.PortMass / b.PortQ
	}
	c.PortArea = p.Area() * share
	c.PortTurbulence = p.turbulence(a) / (share * share)
}

// losses sets leakage and absorption from their Q: at the tuning of a ported
// chamber (Small 1973), else at the resonance of the cone on the box (Small
// 1972): QL = w C R of the leak across the box, QA = 1/(w C R) of the
// absorption in series with it.
func (b Box) losses(c *Circuit, d driver.Driver) {
	ql, qa := b.LeakQ, b.AbsorptionQ
	if ql == 0 {
		ql = b.Kind.LeakPrior()
		if b.Kind == Sealed {
			c.Assumed |= AssumedSealedLeak
		} else {
			c.Assumed |= AssumedLeak
		}
	}
	if qa == 0 {
		qa = AbsorptionPrior
		c.Assumed |= AssumedAbsorption
	}
	c.LeakQ, c.AbsorptionQ = ql, qa
	cone := 2 * math.Pi * c.Resonance(d)
	port := 2 * math.Pi * c.Tuning
	switch c.Kind {
	case Sealed:
		c.Leak = cone * c.Compliance / ql
		c.Absorption = 1 / (cone * c.Compliance * qa)
	case Vented:
		c.Leak = port * c.Compliance / ql
		c.Absorption = 1 / (port * c.Compliance * qa)
	case BandPass:
		c.Leak = port * c.FrontCompliance / ql
		front := qa
		if b.FrontAbsorptionQ > 0 {
			front = b.FrontAbsorptionQ
		}
		c.FrontAbsorption = 1 / (port * c.FrontCompliance * front)
		c.Absorption = 1 / (cone * c.Compliance * qa)
	}
}

func (c *Circuit) portedVolume() float64 {
	if c.Kind == BandPass {
		return c.FrontVolume
	}
	return c.Volume
}

// Resonance is where the cone's mass resonates on its suspension and the
// chamber behind it together, Hz, ports shut: fs sqrt(1 + Vas/V) (Small 1972).
func (c *Circuit) Resonance(d driver.Driver) float64 {
	k := 1/d.Cms + d.Sd*d.Sd/c.Compliance
	return math.Sqrt(k/d.Mms) / (2 * math.Pi)
}

// Leaking is the box with what nobody stated of its losses moved by z standard
// deviations: the leaks, and what the walls absorb.
func (b Box) Leaking(z [2]float64) Box {
	if b.LeakQ == 0 {
		b.LeakQ = b.Kind.LeakPrior() * math.Exp(LossSpread*z[0])
	}
	if b.AbsorptionQ == 0 {
		b.AbsorptionQ = AbsorptionPrior * math.Exp(LossSpread*z[1])
	}
	return b
}
