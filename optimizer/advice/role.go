package advice

import (
	"context"

	"loudfor/catalog"
	"loudfor/optimizer"
)

// What each part is there for. Two questions: how good is the best build
// without it, everything else chosen anew; and what is lost when only it is
// changed for the next cheaper one of its kind that goes with the others. Both
// are searches: the first with the part forbidden, the second among the parts
// of the build and one other.
//
// Where money is wasted is the second question turned round: the cheapest build
// that is no more than Unheard below the best, all other parts kept, found for
// each part among all cheaper ones of its kind; and once more with everything
// chosen anew.

// Unheard is the smallest step that a sound-level meter shows, dB (IEC 61672-1
// asks for a resolution of 0.1 dB): what costs money and gives less is wasted.
const Unheard = 0.1

// Role is what one part does for the best build.
type Role struct {
	Part  *catalog.Part
	Count int
	Owned bool // all of it

	Without *Step // nil: without it nothing can be built
	Cheaper *Step // nil: no cheaper one of its kind goes with the others
	Instead *catalog.Part
}

// Waste is money that buys less than a meter shows.
type Waste struct {
	Part *catalog.Part // that is more than is needed; nil: several are
	Step               // the build without the waste; its Cost is negative
}

// rolesOf asks about every part of the best build, or about one of them.
func (d *Desk) rolesOf(ctx context.Context, sku string) (roles []Role, err error) {
	for _, line := range d.Best().Lines {
		if sku != "" && line.Part.SKU != sku {
			continue
		}
		r := Role{Part: line.Part, Count: line.Count, Owned: line.Owned == line.Count}
		b, err := d.first(ctx, never(d.p, r.Part.SKU))
		if err != nil {
			return nil, err
		}
		if r.Without, err = d.stepOf(b); err != nil {
			return nil, err
		}
		if !r.Owned {
			if err := d.cheaper(ctx, &r); err != nil {
				return nil, err
			}
		}
		roles = append(roles, r)
	}
	return roles, nil
}

func (d *Desk) stepOf(b *optimizer.Build) (*Step, error) {
	if b == nil {
		return nil, nil
	}
	s, err := d.step(b)
	return &s, err
}

// cheaper puts the next cheaper part of the kind in the place of one.
func (d *Desk) cheaper(ctx context.Context, r *Role) error {
	for _, other := range d.below(r.Part) {
		p := among(never(d.p, r.Part.SKU), func(sku string) bool {
			return sku == r.Part.SKU || sku == other.SKU || d.Best().Holds(sku) > 0
		})
		p.With = other.SKU
		b, err := d.first(ctx, p)
		if err != nil {
			return err
		}
		if b == nil || b.Cost.Minor >= d.Best().Cost.Minor {
			continue
		}
		r.Instead = other
		r.Cheaper, err = d.stepOf(b)
		return err
	}
	return nil
}

// below are the parts of a kind that cost less than one, dearest first.
func (d *Desk) below(part *catalog.Part) (all []*catalog.Part) {
	for _, o := range d.p.Catalogue.Parts {
		if o.Kind == part.Kind && o.Priced && o.SKU != part.SKU && o.Price.Minor < part.Price.Minor {
			all = append(all, o)
		}
	}
	sortParts(all)
	return all
}

// wastes looks for money that buys nothing.
func (d *Desk) wastes(ctx context.Context) (all []Waste, err error) {
	best := d.Best()
	try := func(part *catalog.Part, p optimizer.Problem) error {
		builds, err := d.from(ctx, p, best.Objective-Unheard+0.001)
		if err != nil || len(builds) == 0 || builds[0].Cost.Minor >= best.Cost.Minor {
			return err
		}
		s, err := d.step(&builds[0])
		if err == nil {
			all = append(all, Waste{part, s})
		}
		return err
	}
	for _, line := range best.Lines {
		if line.Owned == line.Count {
			continue
		}
		cheaper := make(map[string]bool)
		for _, o := range d.below(line.Part) {
			cheaper[o.SKU] = true
		}
		if len(cheaper) == 0 {
			continue
		}
		p := among(d.p, func(sku string) bool { return cheaper[sku] || best.Holds(sku) > 0 })
		if err := try(line.Part, never(p, line.Part.SKU)); err != nil {
			return nil, err
		}
	}
	several := len(all)
	if err := try(nil, d.p); err != nil {
		return nil, err
	}
	// What one part's waste says already need not be said twice.
	if several < len(all) {
		for _, w := range all[:several] {
			if w.Build.Cost.Minor <= all[several].Build.Cost.Minor {
				return all[:several], nil
			}
		}
	}
	return all, nil
}
