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
// 2 ohm prints the peak at 4 ohm as well. The fuse is chosen for the lowest load, so a
// bare claim at a lighter one is held to what the usual ratio leaves of the ceiling
// there. Holding all claims of a mode to one factor instead would make a card read
// lower for saying more: each rating has a ceiling of its own, which depends on the
// fuse and the loads alone.

// honest gives the ratings of one mode at RatedSupply, each inside what the
// fuse lets through, and says which were cut. Of several supplies at which a load
// is rated, the one nearest to RatedSupply counts: the others tell how the rails
// follow the supply, which is no other amplifier.
func (s Spec) honest(m Mode) (ratings []Rating, notes []Note) {
	lowest := math.Inf(1)
	for i, r := range s.Ratings {
		if r.Mode == m && !s.closer(i) {
			ratings, lowest = append(ratings, atRatedSupply(r)), min(lowest, r.Load)
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
			most *= math.Pow(usualRatio, -math.Log2(r.Load/lowest))
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
		words += fmt.Sprintf("; %.0f W of it at %g ohm, as a fuse is chosen for the lowest rated load", most, r.Load)
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
