package enclosure

import (
	"fmt"
	"math"

	"loudfor/model/air"
)

// What cannot be: a box is refused with the number that cannot be right, since
// a wrong volume or port goes straight into a wrong level.

// Error says which number of a box cannot be right.
type Error struct {
	Quantity string  // for example "port length"
	Value    float64 // SI units
	Unit     string
	Reason   string
}

func (e *Error) Error() string {
	return fmt.Sprintf("%s %.4g %s: %s", e.Quantity, e.Value, e.Unit, e.Reason)
}

const (
	// straightPort and foldedPort are the most that a port can be long, in
	// edges of the cube of its chamber's volume. A straight tube fits the
	// diagonal of a chamber (2.3 edges where it is three times as long as it
	// is wide); a slot may be folded along the walls.
	straightPort = 2.5
	foldedPort   = 5

	largestVolume = 10 // m3, no box in a car is larger; guards against litres given as m3
)

// Check finds a number of the box that is impossible by itself, without
// regard to a driver. A nil error does not mean that a driver fits.
func (b Box) Check() error {
	if b.Kind < Sealed || b.Kind > BandPass {
		return &Error{"kind", float64(b.Kind), "", "there is no such kind of box"}
	}
	if b.Drivers < 1 {
		return &Error{"number of drivers", float64(b.Drivers), "", "a box has at least one"}
	}
	if err := volumeIn("volume", b.Volume); err != nil {
		return err
	}
	if b.Kind == BandPass {
		if err := volumeIn("front volume", b.FrontVolume); err != nil {
			return err
		}
	}
	if err := losses("leakage QL", b.LeakQ); err != nil {
		return err
	}
	if err := losses("absorption QA", b.AbsorptionQ); err != nil {
		return err
	}
	if err := losses("front absorption QA", b.FrontAbsorptionQ); err != nil {
		return err
	}
	if err := losses("port QP", b.PortQ); err != nil {
		return err
	}
	if b.Kind == Sealed {
		return nil
	}
	return b.checkPort()
}

func volumeIn(name string, v float64) error {
	if !(v > 0) || v > largestVolume {
		return &Error{name, v, "m3", fmt.Sprintf("must be above 0 and at most %d", largestVolume)}
	}
	return nil
}

func losses(name string, q float64) error {
	if !(q >= 0) || math.IsInf(q, 0) {
		return &Error{name, q, "", "must be a positive number, or 0 for the usual value"}
	}
	return nil
}

func (b Box) checkPort() error {
	p := b.Port
	for _, v := range []struct {
		name  string
		value float64
	}{{"port diameter", p.Diameter}, {"port width", p.Width}, {"port height", p.Height}, {"port length", p.Length}} {
		if !(v.value >= 0) || v.value > largestVolume {
			return &Error{v.name, v.value, "m", "cannot be"}
		}
	}
	if !p.Stated() {
		if !(b.Tuning > 0) || b.Tuning > 1000 {
			return &Error{"tuning", b.Tuning, "Hz", "neither the port's size nor a possible tuning is stated"}
		}
		return nil
	}
	if p.Count < 1 {
		return &Error{"number of ports", float64(p.Count), "", "a port with a size is there at least once"}
	}
	if p.FlangedEnds < 0 || p.FlangedEnds > 2 {
		return &Error{"flanged ends", float64(p.FlangedEnds), "", "a port has two ends"}
	}
	edge, most, fits := math.Cbrt(b.ported()), straightPort, "a straight port that long does not fit into the box"
	if p.Diameter == 0 {
		most, fits = foldedPort, "even folded, a port that long does not fit into the box"
	}
	if p.Length > most*edge {
		return &Error{"port length", p.Length, "m", fits}
	}
	if across := math.Sqrt(p.single()); across > edge {
		return &Error{"port area", p.Area(), "m2", "the port is wider than the box"}
	}
	if p.Air() >= b.ported() {
		return &Error{"volume of the ports", p.Air(), "m3", fmt.Sprintf("leaves nothing of the chamber's %.4g m3", b.ported())}
	}
	return nil
}

// ported is the volume of the chamber that has the port, m3, as built.
func (b Box) ported() float64 {
	if b.Kind == BandPass {
		return b.FrontVolume
	}
	return b.Volume
}

func checkAir(a air.Air) error {
	if !(a.Density > 0) || math.IsInf(a.Density, 0) {
		return &Error{"density of air", a.Density, "kg/m3", "must be above 0"}
	}
	if !(a.SoundSpeed > 0) || math.IsInf(a.SoundSpeed, 0) {
		return &Error{"speed of sound", a.SoundSpeed, "m/s", "must be above 0"}
	}
	return nil
}
