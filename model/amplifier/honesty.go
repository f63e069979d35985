package amplifier

import (
	"fmt"
	"math"
	"slices"
)

// The honesty check. Power that comes out has come in through the fuse, so
// the outputs of a mode together cannot give more than fuse x 14.4 V x
// efficiency for longer than the fuse takes to melt.
//
// A claim above that is rarely one wrong number: a maker who prints the peak at
// 2 ohm prints the peak at 4 ohm as well. The fuse is chosen for the lowest load
// that a channel is made for, so a bare claim at a lighter one is held to what the
// usual ratio leaves of the ceiling there. That load is the same for all cards, and
// not the lowest that a card happens to state: else one more line, a claim at a
// lower load, would make a card read lower, and one factor for all claims of a mode
// would do so too. Each rating has a ceiling of its own, which depends on the fuse
// and its load alone. The price is that an amplifier made for 4 ohm a channel and
// no less, fused without a margin and rated by a bare claim, is taken for up to 2 dB
// less than it gives; a rating by a standard is held to the fuse alone.

const (
	// usualRatio is the power at half the load over the power at the load: of 1.6 to
	// 1.8 (common practice, no source) the end that cuts an honest claim least.
	usualRatio = 1.6
	// fusedFor is the least load that one channel is commonly made for, ohm, and its
	// fuse with it: 4 ohm bridged (common practice, no source).
	fusedFor = 2.0
)

// claimable is the share of the fuse's power that a bare claim at a load can be.
func claimable(m Mode, load float64) float64 {
	switch m { // what one channel sees of it
	case Bridged:
		load /= 2
	case Paralleled:
		load *= 2
	}
	return min(1, math.Pow(usualRatio, -math.Log2(load/fusedFor)))
}

// honest gives the ratings of one mode at RatedSupply, each inside what the
// fuse lets through, and says which were cut. Of several supplies at which a load
// is rated, the one nearest to RatedSupply counts: the others tell how the rails
// follow the supply, which is no other amplifier.
func (s Spec) honest(m Mode) (ratings []Rating, notes []Note) {
	for i, r := range s.Ratings {
		if r.Mode == m && !s.closer(i) {
			ratings = append(ratings, atRatedSupply(r))
		}
	}
	ceiling, known := s.Ceiling()
	if !known {
		return ratings, unchecked(ratings)
	}
	ceiling /= float64(s.Outputs(m))
	for i, r := range ratings {
		most := ceiling
		if r.Basis == Claimed {
			most *= claimable(m, r.Load)
		}
		ratings[i].Watts = min(r.Watts, most)
		if r.Watts > most*(1+ceilingTolerance) {
			notes = append(notes, Note{Rating: r, Claimed: r.Watts, CutTo: most, Reason: s.overFuse(r, ceiling, most)})
		}
	}
	return ratings, notes
}

// closer says whether another rating of the same load, mode and basis is nearer to
// RatedSupply than rating i; of two as near the higher supply.
func (s Spec) closer(i int) bool {
	r := s.Ratings[i]
	return slices.ContainsFunc(s.Ratings, func(o Rating) bool {
		off, own := math.Abs(supply(o)-RatedSupply), math.Abs(supply(r)-RatedSupply)
		return sameOutput(o, r) && (off < own || off == own && supply(o) > supply(r))
	})
}

// ceilingTolerance lets a rating pass without a word that only rounding, of its own
// digits or of the fuse's, puts above the ceiling.
const ceilingTolerance = 0.005

// atRatedSupply brings a rating to RatedSupply: the rails of an unregulated
// amplifier follow its supply, so the power follows the square.
func atRatedSupply(r Rating) Rating {
	ratio := RatedSupply / supply(r)
	r.Watts *= ratio * ratio
	r.Volts = RatedSupply
	return r
}

func (s Spec) overFuse(r Rating, ceiling, most float64) string {
	outputs := s.Outputs(r.Mode)
	words := fmt.Sprintf("a fuse of %g A passes %.0f W at %g V, of which at most %.0f W become sound (efficiency %.2f)",
		s.Fuse, s.Fuse*RatedSupply, RatedSupply, ceiling*float64(outputs), s.Efficiency())
	if outputs > 1 {
		words += fmt.Sprintf(", %.0f W on each of %d outputs", ceiling, outputs)
	}
	if most < ceiling {
		words += fmt.Sprintf("; a bare claim at %g ohm is held to %.0f W of it, as a fuse is chosen for %g ohm on a channel", r.Load, most, fusedFor)
	}
	return words
}

// unchecked notes the bare claims of an amplifier whose fuse is not stated.
func unchecked(ratings []Rating) []Note {
	var notes []Note
	for _, r := range ratings {
		if r.Basis == Claimed {
			notes = append(notes, Note{
				Rating: r, Claimed: r.Watts, CutTo: r.Watts,
				Reason: "the fuse is not stated, so the claim could not be checked",
			})
		}
	}
	return notes
}
