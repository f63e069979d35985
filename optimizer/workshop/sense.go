package workshop

import (
	"cmp"
	"fmt"

	"loudfor/catalog"
	"loudfor/model/joinery"
)

// Boxes that one would build. For a meter at any price a box may be tuned to 70 Hz
// with a slot as large as its chamber; nobody would drive with it. So the brief's
// lowest note bounds the tuning from above, and a port is no larger than it has to be:
// its area is what the airspeed needs, its air at most a share of the box. What
// somebody describes is made as described; this is for boxes that the search thinks of.

const (
	// areaFactor: a port of an area of 0.8 f V, f its tuning and V the peak volume
	// that the cones displace, keeps the air below 5 % of the speed of sound, where it
	// is about to be heard (Small, "Vented-box loudspeaker systems", J. Audio Eng. Soc.
	// 21 (1973), from memory). SI units: the factor is in s/m.
	areaFactor = 0.8

	// mostPort is the air of a port in shares of the inside of its box (common
	// practice, no source).
	mostPort = 1.0 / 3
)

// lowestNote is the highest tuning, Hz.
func (b *bench) lowestNote() float64 {
	return cmp.Or(b.p.Brief.LowestNote, catalog.DefaultBrief().LowestNote)
}

// mostArea is the area that a port needs at most, m2, tuned to hz.
func (b *bench) mostArea(of pair, hz float64) float64 {
	travel := of.driver.Xmax * max(1, b.limits.Overdrive)
	return areaFactor * hz * float64(of.n) * of.driver.Sd * travel
}

// sensible refuses what nobody would build. A slot of the least width that is built
// is none too large, whatever the driver.
func (b *bench) sensible(of pair, made *joinery.Box) error {
	if !made.Design.Vented() {
		return nil
	}
	port := made.Enclosure.Port
	hz := port.Tuning(made.Net(made.Displacement()), b.air)
	if most := b.lowestNote(); hz > most {
		return fmt.Errorf("a port tuned to %.1f Hz: the lowest note of the brief is %.4g Hz", hz, most)
	}
	if most := b.mostArea(of, hz); port.Area() > most && made.Design.Slot > gridSlotLow {
		return fmt.Errorf("a port of %.0f cm2: %.0f cm2 keep its air quiet", 1e4*port.Area(), 1e4*most)
	}
	if share := made.PortAir / made.Gross; share > mostPort {
		return fmt.Errorf("a port that takes %.0f %% of the inside of the box", 100*share)
	}
	return nil
}
