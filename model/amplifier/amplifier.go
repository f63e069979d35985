// Package amplifier turns a power amplifier's ratings into the source that the
// box meets: an open-circuit voltage behind a resistance, with a current limit.
//
//	spec := amplifier.Spec{
//		Channels: 2, Class: amplifier.ClassAB, Fuse: 40,
//		Ratings: []amplifier.Rating{
//			{Mode: amplifier.Bridged, Load: 4, Watts: 200, Basis: amplifier.Standard},
//			{Mode: amplifier.Bridged, Load: 8, Watts: 120, Basis: amplifier.Standard},
//		},
//	}
//	src, minimum, notes, ok := spec.Source(amplifier.Bridged)
//	// src: 31.9 V behind 0.12 ohm, at most 7.1 A; minimum: 4 ohm; no notes
//
// A rated power is the power into a resistor. A box is no resistor: its load
// rises to two or three times the nominal value just where it is loud. The
// source carries the ratings over to that load.
//
// What a maker claims is held against the fuse, because nothing comes out that
// did not come in through it; a claim that cannot be true is cut and noted.
//
// Limits: the source describes the largest undistorted sine only, with all
// outputs of the mode in use. Its resistance is the sag of the amplifier's own
// converter far more than an output resistance, so it says nothing about
// damping at small signals. Between two rated loads it may be stronger than at
// either (source.go). Each mode is checked against the fuse by itself:
// an amplifier with a separate channel for bass can be asked for more than its
// fuse carries if both sections are played out together.
package amplifier

// Mode is how the channels are used.
type Mode int

const (
	Mono       Mode = iota // the amplifier has one channel
	Stereo                 // each channel drives its own load
	Bridged                // two channels drive one load in opposite phase
	Paralleled             // two channels drive one load in phase, as rated
)

// Channels is how many channels one output of the mode takes.
func (m Mode) Channels() int {
	if m == Bridged || m == Paralleled {
		return 2
	}
	return 1
}

func (m Mode) String() string {
	if m < Mono || m > Paralleled {
		return "unknown mode"
	}
	return [...]string{"mono", "stereo", "bridged", "paralleled"}[m]
}

// Basis is how far a rating can be believed.
type Basis int

const (
	Claimed  Basis = iota // the maker's word
	Standard              // by CTA-2006 or a like standard
	Measured              // on somebody's bench
)

func (b Basis) String() string {
	if b < Claimed || b > Measured {
		return "unknown basis"
	}
	return [...]string{"claimed", "standard", "measured"}[b]
}

// spread is the relative standard deviation of the voltage behind a rating of
// this basis: of the power it is twice that (common practice, no source). A
// bench has its meter and the warmth of the day; a standard leaves the maker's
// sample and 1 % distortion; a bare claim may be a peak, a burst, or a wish.
func (b Basis) spread() float64 {
	switch b {
	case Measured:
		return 0.02
	case Standard:
		return 0.05
	}
	return 0.20
}

// Class is the working principle, which decides the efficiency.
type Class int

const (
	ClassUnknown Class = iota
	ClassAB
	ClassD
)

// Rating is continuous power of one output in one mode.
type Rating struct {
	Mode  Mode
	Load  float64 // ohm
	Watts float64
	Basis Basis
	Volts float64 // supply at which it holds; 0: RatedSupply
}

// Spec is what is known of an amplifier.
type Spec struct {
	Channels int
	Class    Class
	Fuse     float64 // sum of the fuses, A; 0: not stated
	Ratings  []Rating
}
