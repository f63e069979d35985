package optimizer

import (
	"context"
	"slices"
	"strings"
)

// Ranked by the bass amplifier, one set of parts could stand there twice, when either
// of two amplifiers in it can drive the bass. That is nothing to choose from: of a set
// that stands above already no second way is listed, and what ranks behind moves up.
// It is found by asking for as many more as were taken out; the ranking of a search is
// a beginning of every longer one.

// pickWith is pickIn with the search that it took, where that was one.
func pickWith(ctx context.Context, p Problem, car *task) (r Result, s *search, err error) {
	if p.Distinct == DistinctParts || p.Shops != nil { // of one tour: which sets are repeated is known of all alone
		return pickRepeating(ctx, p, car)
	}
	top := p.Top
	if top <= 0 {
		top = DefaultTop
	}
	for p.Top = top; ; {
		r, s, err = pickRepeating(ctx, p, car)
		found := len(r.Builds)
		r.Builds = unrepeated(r.Builds)
		lacks := top - len(r.Builds)
		r.Builds = r.Builds[:min(top, len(r.Builds))]
		if err != nil || lacks <= 0 || found < p.Top || r.Stop != StopComplete {
			return r, s, err
		}
		p.Top += lacks
	}
}

// unrepeated leaves out builds of a set of parts that stands above.
func unrepeated(all []Build) (kept []Build) {
	seen := make(map[string]bool, len(all))
	for _, b := range all {
		if key := strings.Join(b.SKUs(), "\x00"); !seen[key] {
			seen[key] = true
			b.Rank = len(kept) + 1
			kept = append(kept, b)
		}
	}
	return slices.Clip(kept)
}
