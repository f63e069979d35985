package supply

// Demand is the current, A, taken from RunningVolts for watts of audio.
func Demand(watts, efficiency float64) (amps float64) { return 0 }

// Resistance of a run of cable, go and return, ohm.
func Resistance(area, length float64, copperClad bool) float64 { return 0 }

// AreaOfGauge is the area, m2, of an American wire gauge; -1, -2, -3 are 2/0, 3/0, 4/0 (0 is 1/0).
func AreaOfGauge(awg int) float64 { return 0 }

// SmallestArea is the smallest area, m2, which keeps the drop (V, go and return) at a current over a length.
func SmallestArea(amps, length, drop float64, copperClad bool) float64 { return 0 }

// Ampacity is the continuous current, A, that a cable of that area, m2, may carry.
func Ampacity(area float64, copperClad bool) float64 { return 0 }

// LargestFuse is the largest standard fuse, A, not above the ampacity; 0: none.
func LargestFuse(ampacity float64) float64 { return 0 }

// Reserve is the current, A, that an alternator can spare with the car's standby load on.
func Reserve(rated, standby float64) float64 { return 0 }

// Kit is a wiring kit.
type Kit struct {
	Area       float64 // m2
	Length     float64 // m, one way
	CopperClad bool
	Fuse       float64 // A
}

// Verdict says whether a kit carries a demand.
type Verdict struct {
	OK      bool
	Reasons []string
}

// Carries checks a kit against a demand in A and the amplifier's own fuse in A.
func (k Kit) Carries(amps, amplifierFuse float64) Verdict { return Verdict{} }
