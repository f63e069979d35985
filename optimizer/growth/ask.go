package growth

import (
	"context"

	"loudfor/catalog"
	"loudfor/optimizer"
)

// Answer is a plan with what it is weighed against.
type Answer struct {
	Plan
	Naive *Plan   // what becomes of the loudest first buy; nil: that is the order, or it was not found out in time
	Ways  []Plans // which amplifier to live with, where that was asked
}

// Ask finds the plan of a brief, and what it is weighed against if it is proven. Errors
// are as in Solve.
func Ask(ctx context.Context, p optimizer.Problem, ways bool) (a Answer, err error) {
	if p.Shared == nil {
		p.Shared = new(optimizer.Shared)
	}
	if a.Plan, err = Solve(ctx, p); err != nil || a.Outcome != optimizer.Optimal {
		return a, err
	}
	if ways {
		if a.Ways, err = Ways(ctx, p); err != nil {
			return a, err
		}
	}
	if p.Brief.Order == catalog.PlanFirst {
		return a, nil
	}
	p.Brief.Order, p.Bare = catalog.PlanFirst, true
	naive, err := Solve(ctx, p)
	if naive.Outcome == optimizer.Optimal {
		a.Naive = &naive
	}
	return a, err
}
