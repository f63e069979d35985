// Package enclosure turns a box and its drivers into an acoustical circuit,
// and solves it at one frequency.
//
// Purpose: how stiff the box is to the cone, and how much air comes out of it
// altogether (cone, port and leaks), for a given movement of the cone. What
// moves the cone is the business of package bass.
//
//	box := enclosure.Box{Kind: enclosure.Sealed, Drivers: 1, Volume: 0.024}
//	c, err := box.Circuit(d, 0, air.At(20)) // d: a driver.Driver; 0: usual displacement
//	if err != nil {
//		return err // names the number that cannot be right
//	}
//	c.Resonance(d) // Hz: where the cone resonates on the box
//
// The circuit is that of Small ("Closed-box loudspeaker systems", J. Audio
// Eng. Soc. 20, 1972; "Vented-box loudspeaker systems", 21, 1973) for ONE
// driver with its share of the box: volume, port and leak divided by the
// number of drivers, which by symmetry all do the same. All boxes stand in one
// cabin, and the pressure that they raise there together acts back on cone
// fronts, port mouths and leaks.
//
// Limits: the air in each chamber moves as a lump (good below about 200 Hz for
// boxes of this trade), stuffing does not enlarge the volume, walls do not
// flex, a port is a lump of mass without pipe resonances, and several ports do
// not feel each other's mouths.
package enclosure

// Kind is the principle on which a box works.
type Kind int

const (
	Sealed   Kind = iota
	Vented        // one chamber with a port
	BandPass      // fourth order: sealed rear chamber, vented front chamber
)

func (k Kind) String() string {
	switch k {
	case Sealed:
		return "sealed"
	case Vented:
		return "vented"
	case BandPass:
		return "band-pass"
	}
	return "unknown kind of box"
}

// Port is the opening of a vented chamber. All Count ports are alike. A port
// is round (Diameter) or a slot (Width, Height).
type Port struct {
	Count         int
	Diameter      float64 // m
	Width, Height float64 // m
	Length        float64 // m, physical, without end corrections
	FlangedEnds   int     // 0, 1 or 2 of its ends end in a wall
}

// Lossless is a quality factor that loses nothing, and nothing to any reader of
// figures that infinity would break.
const Lossless = 1e9

// Box is one enclosure as the carpenter sees it, SI units.
type Box struct {
	Kind        Kind
	Drivers     int     // holes
	Volume      float64 // inside volume of the (rear) chamber before the drivers go in, m3
	FrontVolume float64 // band-pass: vented chamber, m3
	Port        Port
	Tuning      float64 // Hz: stated tuning, used where the port's size is not stated
	// Quality factors, Lossless where there is no such loss: QL of the leaks, QA of
	// what absorbs in each chamber (0: the priors; the front one's as AbsorptionQ), and
	// QP of the port at its tuning and vanishing level (0: by the drag of its walls).
	LeakQ, AbsorptionQ, FrontAbsorptionQ, PortQ float64
}
