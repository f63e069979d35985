package advice

import (
	"context"

	"loudfor/catalog"
	"loudfor/optimizer"
)

// What more money buys: the ladder that begins at the best build's level, with
// the cap raised by the largest sum asked for. One search answers every sum.

// Change is the best build for so much more in the cap.
type Change struct {
	Extra catalog.Money // on top of the cap
	Step
	// Nothing says that so much more money buys nothing.
	Nothing bool
	// PerDB is what a decibel more costs, in minor units of what is really
	// spent beyond the best build's price; 0 where nothing is gained.
	PerDB float64
}

// raises are the sums asked for, as multiples of a tenth of the cap: 25, 50,
// 100 and 200 for a cap of 250.
var raises = [...]int64{1, 2, 4, 8}

// Extras are round sums that suit a cap: a tenth of it, rounded down to 1, 2.5
// or 5 times a power of ten, then twice, four and eight times that.
func Extras(limit catalog.Money) (sums []catalog.Money) {
	tenth := limit.Minor / 10
	if tenth <= 0 {
		return nil
	}
	unit := int64(1)
	for unit <= tenth/10 {
		unit *= 10
	}
	switch {
	case tenth >= 5*unit:
		unit *= 5
	case 2*tenth >= 5*unit && unit%2 == 0:
		unit = unit * 5 / 2
	}
	for _, n := range raises {
		sums = append(sums, catalog.Money{Minor: n * unit, Currency: limit.Currency})
	}
	return sums
}

// changes finds what each sum buys, and what the next better build costs.
func (d *Desk) changes(ctx context.Context, extras []catalog.Money) (all []Change, next *Change, err error) {
	best := d.Best()
	if d.p.Brief.Cap == (catalog.Money{}) || len(extras) == 0 {
		return nil, nil, nil
	}
	p := d.p
	for _, e := range extras {
		p.Brief.Cap.Minor = max(p.Brief.Cap.Minor, d.p.Brief.Cap.Minor+e.Minor)
	}
	builds, err := d.from(ctx, p, best.Objective)
	if err != nil {
		return nil, nil, err
	}
	change := func(extra catalog.Money, b *optimizer.Build) (Change, error) {
		c := Change{Extra: extra}
		if c.Step, err = d.step(b); err != nil {
			return c, err
		}
		c.Nothing = b.Objective <= best.Objective
		if c.Difference.DB > 0 {
			c.PerDB = float64(c.Cost.Minor) / c.Difference.DB
		}
		return c, nil
	}
	for i := range builds {
		if b := &builds[i]; b.Objective > best.Objective {
			c, err := change(catalog.Money{Minor: b.Cost.Minor - d.p.Brief.Cap.Minor, Currency: b.Cost.Currency}, b)
			if err != nil {
				return nil, nil, err
			}
			next = &c
			break
		}
	}
	for _, e := range extras {
		at := best
		for i := range builds {
			if b := &builds[i]; b.Objective > best.Objective && b.Cost.Minor <= d.p.Brief.Cap.Minor+e.Minor {
				at = b
			}
		}
		c, err := change(e, at)
		if err != nil {
			return nil, nil, err
		}
		all = append(all, c)
	}
	return all, next, nil
}
