package optimizer

import (
	"cmp"
	"slices"
	"strings"

	"loudfor/optimizer/build"
)

// The builds of all tours in one order, and their accounts in one.

// found is a build with the tour that it costs least on.
type found struct {
	build Build
	tour  *tour
	skus  []string // repeats written out
}

func newFound(b Build, t *tour) found {
	return found{build: b, tour: t, skus: b.SKUs()}
}

// price is the order of prices before rounding.
func (f found) price(g found) int { return slices.Compare(f.build.Due[:], g.build.Due[:]) }

// ranked puts builds into the stated order, each once, at its least price.
func ranked(list []found, distinct Distinct) (out []found) {
	slices.SortStableFunc(list, func(a, b found) int {
		return cmp.Or(cmp.Compare(build.Round(b.build.Objective), build.Round(a.build.Objective)), a.price(b),
			cmp.Compare(len(a.skus), len(b.skus)), slices.Compare(a.skus, b.skus),
			cmp.Compare(len(a.tour.Stores), len(b.tour.Stores)), slices.Compare(a.tour.Stores, b.tour.Stores))
	})
	seen := map[string]bool{}
	for _, f := range list {
		key := strings.Join(f.skus, "\x00")
		if distinct == DistinctBass {
			key = f.build.Bass.Amplifier.SKU + "\x00" + f.build.Bass.Part.SKU
		}
		if !seen[key] {
			seen[key] = true
			out = append(out, f)
		}
	}
	return out
}

// joinTour adds the account of one tour.
func joinTour(r *Result, o Outcome, s Stop, p Proof) {
	r.Proof.Join(p)
	if o == Unknown && len(r.Builds) == 0 {
		r.Outcome = Unknown
	}
	r.Stop = max(r.Stop, s)
}
