package advice

import (
	"context"
	"errors"
	"slices"

	"loudfor/catalog"
)

// Talk is the whole trade-off talk about the best build.
type Talk struct {
	Limits  Limits
	Asked   *Asked   // what every customer asks about it; nil: stopped before
	Changes []Change // what so much more money buys
	Next    *Change  // the next better build of all, beyond the cap; nil: none that the largest sum pays
	Roles   []Role   // in the order of the build's lines
	Wastes  []Waste
	Ranges  []Range // of the parts of the best build, then of the runners-up

	// Stopped says that the context ended: what is here is exact, and the rest
	// was not looked at.
	Stopped bool
}

// Talk asks everything. Extras are the sums of more money to look at; nil:
// those of Extras.
func (d *Desk) Talk(ctx context.Context, extras []catalog.Money) (*Talk, error) {
	t := &Talk{}
	if extras == nil {
		extras = Extras(d.p.Brief.Cap)
	}
	var err error
	if t.Limits, err = d.limits(d.Best()); err != nil {
		return nil, err
	}
	ask := func(question func() error) {
		if err == nil && !t.Stopped {
			if err = question(); errors.Is(err, ErrStopped) {
				t.Stopped, err = true, nil
			}
		}
	}
	ask(func() (err error) { t.Asked, err = AskedOf(ctx, d.p, d.Best()); return err })
	ask(func() (err error) { t.Changes, t.Next, err = d.changes(ctx, extras); return err })
	ask(func() (err error) { t.Roles, err = d.rolesOf(ctx, ""); return err })
	ask(func() (err error) { t.Wastes, err = d.wastes(ctx); return err })
	for _, part := range d.Near() {
		ask(func() error {
			r, err := d.Range(ctx, part.SKU)
			if err == nil {
				t.Ranges = append(t.Ranges, r)
			}
			return err
		})
	}
	slices.SortStableFunc(t.Ranges, func(a, b Range) int { return order(a.In) - order(b.In) })
	return t, err
}

func order(first bool) int {
	if first {
		return 0
	}
	return 1
}
