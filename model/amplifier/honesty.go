package amplifier

import "fmt"

// The honesty check. Power that comes out has come in through the fuse, so
// the outputs of a mode together cannot give more than fuse x 14.4 V x
// efficiency for longer than the fuse takes to melt.
//
// A claim above that is rarely one wrong number. A maker who prints the peak
// at 2 ohm prints the peak at 4 ohm as well; so all ratings of the mode that
// stand on the same basis shrink by one factor, and the maker's own ratio
// between loads, all that can still be learnt from them, is kept. Cutting
// each rating to the ceiling by itself would leave two equal powers at two
// loads, and with them an open-circuit voltage above the one claimed.

// honest gives the ratings of one mode at RatedSupply, each inside what the
// fuse lets through, and says which were cut.
func (s Spec) honest(m Mode) ([]Rating, []Note) {
	var ratings []Rating
	for _, r := range s.Ratings {
		if r.Mode == m {
			ratings = append(ratings, atRatedSupply(r))
		}
	}
	ceiling, known := s.Ceiling()
	if !known {
		return ratings, unchecked(ratings)
	}

	ceiling /= float64(s.Outputs(m))
	var notes []Note
	for b := Claimed; b <= Measured; b++ {
		greatest := 0.0
		for _, r := range ratings {
			if r.Basis == b {
				greatest = max(greatest, r.Watts)
			}
		}
		if greatest <= ceiling*(1+ceilingTolerance) {
			continue
		}
		for i, r := range ratings {
			if r.Basis != b {
				continue
			}
			ratings[i].Watts *= ceiling / greatest
			notes = append(notes, Note{
				Rating: r, Claimed: r.Watts, CutTo: ratings[i].Watts,
				Reason: s.overFuse(r, greatest, ceiling),
			})
		}
	}
	return ratings, notes
}

// ceilingTolerance lets a rating pass that only rounding, of its own digits or
// of the fuse's, puts above the ceiling.
const ceilingTolerance = 0.005

// atRatedSupply brings a rating to RatedSupply: the rails of an unregulated
// amplifier follow its supply, so the power follows the square.
func atRatedSupply(r Rating) Rating {
	ratio := RatedSupply / supply(r)
	r.Watts *= ratio * ratio
	r.Volts = RatedSupply
	return r
}

func (s Spec) overFuse(r Rating, greatest, ceiling float64) string {
	outputs := s.Outputs(r.Mode)
	words := fmt.Sprintf("a fuse of %g A passes %.0f W at %g V, of which at most %.0f W become sound (efficiency %.2f)",
		s.Fuse, s.Fuse*RatedSupply, RatedSupply, ceiling*float64(outputs), s.Efficiency())
	if outputs > 1 {
		words += fmt.Sprintf(", %.0f W on each of %d outputs", ceiling, outputs)
	}
	if r.Watts < greatest {
		words += "; reduced in the same ratio as the largest rating of the mode"
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
