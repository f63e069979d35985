package optimizer

import (
	"context"
	"slices"

	"loudfor/catalog"
	"loudfor/optimizer/setting"
)

// Why nothing can be built where shops have to be chosen: how many of them, and
// what going to them costs, are rules like all others. A question is first put to
// all shops at once, with no trips, which is the easiest there is: what cannot be
// built so is built on no tour.

// blockedTours finds out why no tour gives a build.
func blockedTours(ctx context.Context, r *Result, p Problem, car *task) error {
	if r.Outcome != Infeasible || r.Stop != StopComplete {
		return nil
	}
	t, err := readyIn(everyShop(p).p, setting.Relaxation{}, car)
	if err == nil {
		r.Conflicts, r.Stop = blockers(ctx, p, t)
	}
	return err
}

// everyShop is a tour of all shops without any trips.
func everyShop(p Problem) *tour {
	free := *p.Catalogue
	free.Shops = nil
	p.Catalogue, p.Brief.MostStores = &free, 0
	return newTour(&p, shopsOf(&p), anyNumber)
}

// judgeTours looks for a build on any tour; if exact, for the cheapest.
func (c *conflictSearch) judgeTours(p Problem, r setting.Relaxation, exact bool) (v verdict) {
	if r.Stock {
		p.Catalogue = neverShort(p.Catalogue)
	}
	if v = c.judgeOne(everyShop(p).p, r); !v.any || !v.ok && !exact {
		return v
	}
	limit := p.Brief.Cap
	p.Brief.Cap = catalog.Money{} // which tours there are
	tours, err := toursOf(&p, needed(&p.Brief))
	if err != nil { // too many: going to all shops stands for them
		tours = []*tour{newTour(&p, shopsOf(&p), needed(&p.Brief))}
	}
	v = verdict{}
	for _, t := range tours {
		t.p.Brief.Cap = limit
		one := c.judgeOne(t.p, r)
		if one.any && (!v.any || one.price < v.price) {
			v.price = one.price
		}
		if v.any, v.ok = v.any || one.any, v.ok || one.ok; v.ok && !exact {
			break
		}
	}
	return v
}

// neverShort is a catalogue in which every shop has any number of pieces.
func neverShort(c *catalog.Catalogue) *catalog.Catalogue {
	full := *c
	full.Parts = slices.Clone(c.Parts)
	for i, part := range full.Parts {
		q := *part
		q.Stock, q.Limit, q.Offers = catalog.Unlimited, catalog.Unlimited, slices.Clone(q.Offers)
		for k := range q.Offers {
			q.Offers[k].Stock = catalog.Unlimited
		}
		full.Parts[i] = &q
	}
	return &full
}
