package supply

import (
	"fmt"
	"math"
)

// Which cable to lay and which fuse to put before it. A cable has to stand
// three things at once: the current for good (ampacity), a standard fuse that
// both carries the current and protects the cable, and the voltage that may be
// lost on the way. The thinnest gauge of the ampacity table that stands all
// three is the one to lay; there is nothing to weigh.

// Need is what a run of cable has to do.
type Need struct {
	Amps       float64 // steady
	Length     float64 // m, one way; the return counts as alike
	Drop       float64 // V that may be lost, go and return
	CopperClad bool
}

// Choice is the thinnest gauge that does it.
type Choice struct {
	Gauge    int     // as AreaOfGauge counts
	Area     float64 // m2
	Ampacity float64 // A
	Drop     float64 // V at the current
	Fuse     float64 // A, the largest standard fuse that protects it
	ByDrop   bool    // heat alone would have allowed a thinner one
}

// Refusal is a cable or a fuse that cannot be, with the number that fails.
type Refusal struct {
	Quantity string
	Value    float64
	Unit     string
	Reason   string
}

func (r *Refusal) Error() string {
	return fmt.Sprintf("%s %.4g %s: %s", r.Quantity, r.Value, r.Unit, r.Reason)
}

// Choose finds the cable. The error is a *Refusal.
func Choose(n Need) (Choice, error) {
	if err := n.check(); err != nil {
		return Choice{}, err
	}
	byDrop := false
	for _, row := range allowed {
		area := AreaOfGauge(row.awg)
		c := Choice{Gauge: row.awg, Area: area, Ampacity: Ampacity(area, n.CopperClad), ByDrop: byDrop}
		c.Fuse = LargestFuse(c.Ampacity)
		c.Drop = n.Amps * Resistance(area, n.Length, n.CopperClad)
		switch {
		case c.Ampacity < n.Amps || c.Fuse < n.Amps:
		case c.Drop > n.Drop:
			byDrop = true
		default:
			return c, nil
		}
	}
	thick := AreaOfGauge(thickest)
	return Choice{}, &Refusal{"current", n.Amps, "A", fmt.Sprintf("over %.3g m even %s is not enough: it may carry %.0f A and loses %.2f V of the %.2f V allowed; lay several cables, each with its fuse",
		n.Length, GaugeName(thickest), Ampacity(thick, n.CopperClad), n.Amps*Resistance(thick, n.Length, n.CopperClad), n.Drop)}
}

func (n Need) check() error {
	switch {
	case !(n.Amps > 0) || math.IsInf(n.Amps, 0):
		return &Refusal{"current", n.Amps, "A", "a cable is chosen for a current above zero"}
	case !(n.Length > 0) || math.IsInf(n.Length, 0):
		return &Refusal{"cable run", n.Length, "m", "the way from the battery to the amplifier has a length above zero: measure it along the car"}
	case !(n.Drop > 0) || n.Drop >= RunningVolts-DropoutVolts:
		return &Refusal{"allowed drop", n.Drop, "V", fmt.Sprintf("must be above 0 and below %.3g V, where amplifiers turn themselves off", RunningVolts-DropoutVolts)}
	}
	return nil
}

// Thinnest is the smallest cross-section, m2, of the ampacity table.
func Thinnest() float64 { return AreaOfGauge(allowed[0].awg) }

// FuseFor is the fuse, A, to put before the kit's cable for a steady current:
// the kit's own if it is right, else the largest standard one that protects
// the cable. It never exceeds what the cable may carry; where no fuse can be
// right, the error is a *Refusal.
func (k Kit) FuseFor(amps float64) (float64, error) {
	square := k.Area * 1e6 // mm2
	if !(k.Area >= Thinnest()*(1-FuseTolerance)) {
		return 0, &Refusal{"cable of", square, "mm2", fmt.Sprintf("thinner than %s (%.3g mm2), the thinnest of the ampacity table (ABYC E-11): no fuse can be named for it", GaugeName(allowed[0].awg), Thinnest()*1e6)}
	}
	v := k.Carries(amps, 0)
	if amps > v.Ampacity || LargestFuse(v.Ampacity) < amps {
		return 0, &Refusal{"current", amps, "A", fmt.Sprintf("a cable of %.3g mm2 may carry %.0f A, and the largest fuse that protects it is %g A", square, v.Ampacity, LargestFuse(v.Ampacity))}
	}
	return v.Fuse, nil
}

// CheckFuse refuses a fuse, A, that does not protect the kit's cable.
func (k Kit) CheckFuse(fuse float64) error {
	ampacity := Ampacity(k.Area, k.CopperClad)
	if fuse > ampacity*(1+FuseTolerance) {
		return &Refusal{"fuse of", fuse, "A", fmt.Sprintf("the cable of %.3g mm2 may carry %.0f A: at most a fuse of %g A protects it", k.Area*1e6, ampacity, LargestFuse(ampacity))}
	}
	return nil
}

// AlternatorFor is the rated current, A, of an alternator that feeds amplifiers
// of a steady current at idle beside the car's own load: the inverse of
// Reserve.
func AlternatorFor(amps, standby float64) float64 {
	return (max(amps, 0) + max(standby, 0)) / IdleShare
}
