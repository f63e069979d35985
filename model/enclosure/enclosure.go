// Package enclosure turns a box and its drivers into the equivalent circuit.
package enclosure

// Kind is the principle on which a box works.
type Kind int

const (
	Sealed   Kind = iota
	Vented        // one chamber with a port
	BandPass      // fourth order: sealed rear chamber, vented front chamber
)

// Port is the opening of a vented chamber. All Count ports are alike. A port
// is round (Diameter) or a slot (Width, Height).
type Port struct {
	Count         int
	Diameter      float64 // m
	Width, Height float64 // m
	Length        float64 // m, physical, without end corrections
	FlangedEnds   int     // 0, 1 or 2 of its ends end in a wall
}

// Box is one enclosure as the carpenter sees it, SI units.
type Box struct {
	Kind        Kind
	Drivers     int     // holes
	Volume      float64 // inside volume of the (rear) chamber before the drivers go in, m3
	FrontVolume float64 // band-pass: vented chamber, m3
	Port        Port
	Tuning      float64 // Hz: stated tuning, used where the port's size is not stated
	LeakQ       float64 // QL, 0: the prior
	AbsorptionQ float64 // QA, 0: the prior
}
