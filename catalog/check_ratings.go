package catalog

import (
	"cmp"
	"fmt"
	"slices"

	"loudfor/model/amplifier"
)

// The powers of one amplifier have to agree with each other. Whatever is
// inside, its voltage does not rise when the load gets heavier, and two
// channels in bridge are two channels in series, each with half the load.

// ratingSlack is how far two ratings may disagree before a word is said: they
// are rounded, and measured on different days (common practice, no source).
const ratingSlack = 1.05

// powers checks the ratings of each mode against each other, and bridged ones
// against those of a single channel.
func (e *examiner) powers() {
	s := &e.p.Amplifier.Spec
	for _, m := range s.Modes() {
		list := slices.DeleteFunc(slices.Clone(s.Ratings), func(r amplifier.Rating) bool { return r.Mode != m })
		slices.SortStableFunc(list, func(a, b amplifier.Rating) int { return cmp.Compare(a.Load, b.Load) })
		for i := 1; i < len(list); i++ {
			e.pair(list[i-1], list[i])
		}
	}
	for _, b := range s.Ratings {
		if b.Mode == amplifier.Bridged {
			e.bridged(b)
		}
	}
}

// pair holds the rating at a lower load against the one at the next higher.
func (e *examiner) pair(low, high amplifier.Rating) {
	if low.Load*ratingSlack >= high.Load || low.Basis != high.Basis {
		return
	}
	most := high.Watts * high.Load / low.Load
	path := ratingPath(&e.p.Amplifier.Spec, low, "watts")
	switch {
	case low.Watts > most*ratingSlack:
		e.say(Warning, path, "check both ratings; the line between them is used, with no resistance inside the amplifier",
			"%g W into %g ohm would take more voltage than %g W into %g ohm: at most %.0f W follow from it", low.Watts, low.Load, high.Watts, high.Load, most)
	case low.Watts*ratingSlack < high.Watts:
		e.say(Info, path, "check the rating; the current that it means is taken as the amplifier's limit",
			"%g W into %g ohm are less than %g W into %g ohm", low.Watts, low.Load, high.Watts, high.Load)
	}
}

// bridged holds a bridged rating against that of one channel into half its
// load: together they give twice that, whatever the channels are.
func (e *examiner) bridged(b amplifier.Rating) {
	for _, r := range e.p.Amplifier.Spec.Ratings {
		if r.Mode != amplifier.Stereo || r.Basis != b.Basis || r.Load*2 > b.Load*ratingSlack || r.Load*2*ratingSlack < b.Load {
			continue
		}
		if most := 2 * r.Watts; b.Watts > most*ratingSlack {
			e.say(Warning, ratingPath(&e.p.Amplifier.Spec, b, "watts"), "check both ratings; each is used in its own mode",
				"bridged, %g W into %g ohm are more than twice the %g W of a channel into %g ohm", b.Watts, b.Load, r.Watts, r.Load)
		}
	}
}

// lowestLoad tells of loads so low that only an amplifier made for it drives
// them; a slip of the unit or of a point looks the same.
const lowestLoad = 0.5 // ohm (common practice, no source)

func (e *examiner) loads() {
	s := &e.p.Amplifier.Spec
	for _, r := range s.Ratings {
		if r.Load < lowestLoad {
			e.hazard(Warning, ratingPath(s, r, "load"), fmt.Sprintf("check it: hookups down to %g ohm are offered for %s", r.Load, r.Mode), "%g ohm is a very low load", r.Load)
		}
	}
}
