package amplifier

import (
	"errors"
	"fmt"
	"math"
)

// What a spec can say and what it cannot. The limits are far outside anything
// sold for a 12 V car: they catch slips of the unit, and keep every number
// that follows finite.
const (
	maximumChannels = 16
	minimumLoad     = 0.1 // ohm
	maximumLoad     = 100
	maximumWatts    = 1e5
	maximumFuse     = 5000 // A
	minimumSupply   = 9.0  // V; 12 V systems only
	maximumSupply   = 18.0
)

// Fault is a number of a spec that cannot be right.
type Fault struct {
	Rating int    // which one, from 1; 0: of the amplifier itself
	Key    string // "load", "watts"
	Reason string
}

func (f Fault) Error() string {
	if f.Rating == 0 {
		return f.Reason
	}
	return fmt.Sprintf("rating %d: %s", f.Rating, f.Reason)
}

// Check lists every number of the spec that cannot be right, in one error.
func (s Spec) Check() error {
	var all []error
	for _, f := range s.Faults() {
		all = append(all, f)
	}
	return errors.Join(all...)
}

// Faults lists them one by one.
func (s Spec) Faults() (all []Fault) {
	rating := 0
	fault := func(key, format string, values ...any) {
		all = append(all, Fault{rating, key, fmt.Sprintf(format, values...)})
	}
	if s.Channels < 1 || s.Channels > maximumChannels {
		fault("channels", "%d channels: an amplifier has 1 to %d", s.Channels, maximumChannels)
	}
	if s.Class < ClassUnknown || s.Class > ClassD {
		fault("class", "class %d is not known", int(s.Class))
	}
	if !(s.Fuse >= 0 && s.Fuse <= maximumFuse) {
		fault("fuse", "fuse of %g A: state the sum of the fuses, up to %d A, or leave it out", s.Fuse, maximumFuse)
	}
	if len(s.Ratings) == 0 {
		fault("ratings", "no rating: state at least one power with its mode and load")
	}
	for i, r := range s.Ratings {
		rating = i + 1
		s.checkRating(r, fault)
		for j, earlier := range s.Ratings[:i] {
			if sameConditions(earlier, r) {
				fault("mode", "%s at %g ohm is stated already as rating %d", r.Mode, r.Load, j+1)
				break
			}
		}
	}
	return all
}

func (s Spec) checkRating(r Rating, fault func(key, format string, values ...any)) {
	switch {
	case r.Mode < Mono || r.Mode > Paralleled:
		fault("mode", "mode %d is not known", int(r.Mode))
	case s.Channels < 1: // said already
	case r.Mode == Stereo && s.Channels == 1:
		fault("mode", "stereo needs two channels, the amplifier has one: call it mono")
	case r.Mode == Mono && s.Channels%2 == 0:
		fault("mode", "mono belongs to a channel without a partner, and %d channels are all paired: call it stereo or bridged", s.Channels)
	case s.Outputs(r.Mode) == 0:
		fault("mode", "%s needs two channels, the amplifier has %d", r.Mode, s.Channels)
	}
	if !(r.Load >= minimumLoad && r.Load <= maximumLoad) {
		fault("load", "load of %g ohm: expected %g to %g ohm", r.Load, minimumLoad, float64(maximumLoad))
	}
	if !(r.Watts > 0 && r.Watts <= maximumWatts) {
		fault("watts", "%g W: expected a power above 0 and up to %g W", r.Watts, maximumWatts)
	}
	if r.Basis < Claimed || r.Basis > Measured {
		fault("basis", "basis %d is not known", int(r.Basis))
	}
	if r.Volts != 0 && !(r.Volts >= minimumSupply && r.Volts <= maximumSupply) {
		fault("volts", "supply of %g V: expected %g to %g V", r.Volts, minimumSupply, maximumSupply)
	}
}

func sameConditions(a, b Rating) bool { return sameOutput(a, b) && supply(a) == supply(b) }

// sameOutput says that two ratings differ in nothing but supply and power.
func sameOutput(a, b Rating) bool {
	const same = 1e-9 // relative; guards against a load that went through a conversion
	return a.Mode == b.Mode && a.Basis == b.Basis && math.Abs(a.Load-b.Load) <= same*b.Load
}

// supply is the supply at which a rating holds.
func supply(r Rating) float64 {
	if r.Volts == 0 {
		return RatedSupply
	}
	return r.Volts
}

// Outputs is how many outputs of mode m the amplifier has, rated or not: an
// odd channel is the mono one (the fifth channel, meant for bass), the others
// are pairs.
func (s Spec) Outputs(m Mode) int {
	switch m {
	case Mono:
		return s.Channels % 2
	case Stereo:
		return s.Channels - s.Channels%2
	case Bridged, Paralleled:
		return s.Channels / 2
	}
	return 0
}

// Modes lists the modes that the ratings cover, in the order of the
// constants. A mode without a rating is not offered: whether an amplifier may
// be bridged at all, and down to what load, is for its maker to say.
func (s Spec) Modes() []Mode {
	var modes []Mode
	for m := Mono; m <= Paralleled; m++ {
		for _, r := range s.Ratings {
			if r.Mode == m {
				modes = append(modes, m)
				break
			}
		}
	}
	return modes
}
