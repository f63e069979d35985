package optimizer

import (
	"context"
	"slices"

	"loudfor/catalog"
)

// Kept is an owned part of which the loudest build leaves pieces idle, with what
// keeping it would be like.
type Kept struct {
	Part *catalog.Part
	Idle int // pieces that the loudest build does not hold

	// Best is the loudest build that has a use for it; of drivers and boxes of which
	// some pieces are used, the loudest that uses all. It is not asked of other parts of which
	// some are used: what a brief demands of them may be idle. Nil: none, or not asked.
	Best *Answer
	None bool // that no build of the brief has a use for it is proven
}

// idle lists what is owned and not all in a build.
func idle(p *Problem, b *Build) (all []Kept) {
	own := map[string]int{}
	for _, m := range p.Brief.Owned {
		part := p.Catalogue.Part(m.SKU)
		if part == nil || part.Kind.ForBuilding() {
			continue
		}
		if own[m.SKU] == 0 {
			all = append(all, Kept{Part: part})
		}
		own[m.SKU] += max(m.Count, 1)
	}
	n := 0
	for _, k := range all {
		if k.Idle = own[k.Part.SKU] - b.Holds(k.Part.SKU); k.Idle > 0 {
			all[n] = k
			n++
		}
	}
	return all[:n]
}

// keep finds the best build for each part that the loudest one leaves idle.
func (s *Series) keep(ctx context.Context, p Problem, best *Build) (all []Kept, whole bool, err error) {
	all, whole = idle(&p, best), true
	for i := range all {
		k, q := &all[i], p
		if held := best.Holds(k.Part.SKU); held == 0 {
			q.With = k.Part.SKU
		} else if k.Part.Kind == catalog.KindSubwoofer || k.Part.Kind == catalog.KindEnclosure {
			// A must adds to what the brief asks for of the part, and the build holds that.
			more := held + k.Idle
			for _, m := range p.Brief.Must {
				if m.SKU == k.Part.SKU {
					more -= max(m.Count, 1)
				}
			}
			q.Brief.Must = append(slices.Clone(p.Brief.Must), catalog.Mention{SKU: k.Part.SKU, Count: more})
		} else {
			continue
		}
		b, done, err := s.First(ctx, q)
		if err != nil {
			return nil, false, err
		}
		if b != nil {
			k.Best = &Answer{Build: *b}
		}
		k.None, whole = b == nil && done && q.With != "", whole && done
	}
	return all, whole, nil
}
