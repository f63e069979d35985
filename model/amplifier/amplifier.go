// Package amplifier turns a power amplifier's ratings into the source that the
// box meets: an open-circuit voltage behind a resistance, with a current limit.
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
	return [...]string{"mono", "stereo", "bridged", "paralleled"}[m]
}

// Basis is how far a rating can be believed.
type Basis int

const (
	Claimed  Basis = iota // the maker's word
	Standard              // by CTA-2006 or a like standard
	Measured              // on somebody's bench
)

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
	Volts float64 // supply at which it holds; 0: 14.4 V
}

// Spec is what is known of an amplifier.
type Spec struct {
	Channels int
	Class    Class
	Fuse     float64 // sum of the fuses, A; 0: not stated
	Ratings  []Rating
}
