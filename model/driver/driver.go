// Package driver completes the spec card of a moving-coil loudspeaker driver
// and says what the driver can stand.
//
// A store's card states six numbers out of twenty. They hang together by a few
// identities (A. N. Thiele, Loudspeakers in Vented Boxes, 1971; R. H. Small,
// Direct-Radiator Loudspeaker System Analysis, 1972), so most of the missing
// ones can be computed and some of the stated ones can be checked:
//
//	card := driver.Card{
//		Size: 0.3048, Coils: 2, CoilLoad: 4,
//		Fs: 31, Qts: 0.60, Vas: 0.058, Xmax: 0.009, Power: 250,
//	}
//	d, notes, err := driver.Complete(card, air.At(20))
//
// What no identity gives is filled from a prior by size class (prior.go), and
// each number so invented has a note of kind Assumed with its spread. Numbers
// that contradict each other have a note of kind Inconsistent; what no driver
// of that size has is drawn towards its class, with a note of kind Unlikely
// (temper.go); numbers that cannot be right at all are an *ImpossibleError that
// lists every one.
//
// Limits: one rigid piston, small-signal parameters that do not depend on
// frequency, two thermal bodies folded into one (heat.go), symmetric quadratic
// laws for large travel (travel.go). The priors are those of car subwoofers
// of 8 to 18 inches; they are poor for anything else.
package driver

// Card is what a spec card states, in SI units. A field that is zero is not
// stated; none of these quantities can really be zero.
//
// Electrical quantities are those of ONE voice coil; Qes and Qts are those of
// the driver with all its coils in use, as cards give them.
type Card struct {
	Size        float64 // nominal diameter, m
	Coils       int     // voice coils on the former
	CoilLoad    float64 // nominal impedance of one coil, ohm
	Re          float64 // direct-current resistance of one coil, ohm
	Le          float64 // inductance of one coil near 1 kHz, H
	Bl          float64 // force factor of one coil, N/A
	Fs          float64 // free-air resonance, Hz
	Qms         float64 // mechanical quality factor
	Qes         float64 // electrical quality factor
	Qts         float64 // total quality factor
	Vas         float64 // volume of equal compliance, m3
	Sd          float64 // piston area, m2
	Mms         float64 // moving mass with air load, kg
	Cms         float64 // suspension compliance, m/N
	Xmax        float64 // one-way linear travel, peak, m
	Power       float64 // rated continuous power of the whole driver, W
	Sensitivity float64 // level at 1 W, 1 m, half space, dB

	// PlainInductance says that Le is an inductance as in a circuit, the same at all
	// frequencies, not what a meter shows of a lossy coil near 1 kHz.
	PlainInductance bool
}

// Driver is a complete, self-consistent set of small-signal parameters with
// the large-signal limits, SI units, every value positive and finite.
// Electrical values are those of one coil, as on Card.
type Driver struct {
	Size     float64
	Coils    int
	CoilLoad float64

	Re float64 // one coil, 20 C, ohm
	Bl float64 // one coil, N/A

	// The lossy voice-coil inductance of one coil: Le in series with the
	// parallel pair of L2 and R2 (two-parameter extension); L2 and R2 are
	// zero where the data do not allow them.
	Le, L2, R2 float64

	Mms  float64 // moving mass with air load, kg
	Cms  float64 // compliance, m/N
	Rms  float64 // mechanical resistance, N s/m
	Sd   float64 // m2
	Xmax float64 // one way, peak, m
	// Power is the rated continuous power of the whole driver, W.
	Power float64

	Fs, Qms, Qes, Qts float64
	Vas               float64 // m3

	// How many times the usual growth of losses with travel, and the usual time of
	// the coil's heating, less one: 0 is the usual one (VaryLarge).
	MoreLoss, MoreHeatTime float64

	Spread Spread
}

// Spread is the relative standard deviation (0.1 is 10 %) of each parameter.
//
// Vas is an exception worth knowing: it is what is left of the spread of Vas
// once fs and Sd are known, that is, the spread of the moving mass. A stiffer
// suspension raises fs and lowers Vas together, and a driver whose fs and Vas
// were drawn independently would have a cone of absurd weight; see Vary.
type Spread struct {
	Re, Le, Fs, Qms, Qes, Vas, Sd, Xmax, Power float64
}

// Note is one thing that a reader of the result has to know about the card:
// a value that was assumed, or an identity that does not hold.
type Note struct {
	Kind     NoteKind
	Quantity string  // for example "Qms", or the identity "Qts = Qms Qes/(Qms+Qes)"
	Value    float64 // the value used, SI (Sensitivity in dB)
	Spread   float64 // relative standard deviation of an assumed value; for an identity the relative discrepancy; of what is unlikely how many spreads of its class off
	Source   string  // where the assumed value comes from, or what to mend

	// Fields names the fields of Card that the note is about, the least
	// believed first.
	Fields []string
}

// NoteKind tells the kinds of notes apart.
type NoteKind int

const (
	Assumed      NoteKind = iota // the value came from a prior
	Inconsistent                 // the card contradicts itself
	Derived                      // computed from an identity; nothing was assumed
	Follows                      // computed from an identity, but from a value that was assumed
	Unlikely                     // what the card implies is far from its size class, and not believed as it stands
)

// String is the kind in plain words.
func (k NoteKind) String() string {
	switch k {
	case Assumed:
		return "assumed"
	case Inconsistent:
		return "inconsistent"
	case Derived:
		return "derived"
	case Follows:
		return "follows from an assumed value"
	case Unlikely:
		return "unlikely for its size"
	}
	return "unknown kind of note"
}
