package supply

import "fmt"

// DropAdvised is the loss in the cable, V, above which a thicker cable is
// worth its money: half a volt of 14.4 V is 0.3 dB (common practice, no
// source).
const DropAdvised = 0.5

// Kit is a wiring kit: the supply cable with the fuse near the battery.
type Kit struct {
	Area       float64 // m2 of the conductor; by gauge: AreaOfGauge
	Length     float64 // m one way; 0: not known
	CopperClad bool    // copper-clad aluminium instead of copper
	Fuse       float64 // A; 0: without a fuse
}

// Verdict says whether a kit carries a demand.
type Verdict struct {
	OK       bool
	Reasons  []string // why not; empty when OK
	Remarks  []string // what to know all the same
	Ampacity float64  // A
	Fuse     float64  // A: the fuse to put in, the kit's own if that is right; 0: none fits
	Drop     float64  // V lost in the cable at the demand, go and return
}

// Carries checks a kit against a steady demand in A. amplifierFuse is the sum
// of the amplifier's own fuses in A, 0 when not known.
func (k Kit) Carries(amps, amplifierFuse float64) Verdict {
	v := Verdict{Ampacity: Ampacity(k.Area, k.CopperClad)}
	v.Drop = max(amps, 0) * Resistance(k.Area, k.Length, k.CopperClad)
	fault := func(format string, values ...any) { v.Reasons = append(v.Reasons, fmt.Sprintf(format, values...)) }
	remark := func(format string, values ...any) { v.Remarks = append(v.Remarks, fmt.Sprintf(format, values...)) }

	largest := LargestFuse(v.Ampacity)
	switch {
	case !(amps <= v.Ampacity):
		fault("%.0f A is more than the %.0f A that the cable may carry", amps, v.Ampacity)
	case largest < amps:
		fault("no standard fuse carries %.0f A and still protects a cable for %.0f A", amps, v.Ampacity)
	}
	switch {
	case k.Fuse <= 0:
		v.Fuse = largest
		if largest > 0 {
			remark("the kit has no fuse: add one of at most %g A near the battery", largest)
		}
	case k.Fuse > v.Ampacity*(1+FuseTolerance):
		v.Fuse = largest
		fault("the kit's %g A fuse does not protect a cable for %.0f A: at most %g A", k.Fuse, v.Ampacity, largest)
	case k.Fuse < amps:
		fault("the kit's %g A fuse melts at %.0f A", k.Fuse, amps)
		if largest >= amps {
			v.Fuse = SmallestFuse(amps)
		}
	default:
		v.Fuse = k.Fuse
	}
	if amplifierFuse > 0 && v.Fuse > 0 && v.Fuse < amplifierFuse {
		remark("the fuse at the battery (%g A) is smaller than the amplifier's own (%g A) and will go first", v.Fuse, amplifierFuse)
	}
	if v.Drop > DropAdvised {
		remark("the cable loses %.1f V at %.0f A: a thicker one is louder", v.Drop, amps)
	}
	v.OK = len(v.Reasons) == 0
	return v
}
