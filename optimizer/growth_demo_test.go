package optimizer_test

import (
	"context"
	"testing"

	"loudfor/catalog"
	"loudfor/optimizer"
	"loudfor/optimizer/growth"
)

// The demo's customer with money in two steps: the loudest first buy ends more than 2 dB
// below the plan, and each step is a build that the brief's own search knows.
func TestDemoGrowth(t *testing.T) {
	p := demoBrief(t, "briefs/210-grow.yaml")
	p.Bare = true
	end := func(order catalog.PlanOrder) *growth.Step {
		p.Brief.Order = order
		plan, err := growth.Solve(context.Background(), p)
		if err != nil || plan.Outcome != optimizer.Optimal {
			t.Fatalf("%s: %v, %v", order, plan.Outcome, err)
		}
		if spent := plan.Steps[0].Build.Cost.Minor + plan.Steps[1].Build.Cost.Minor; spent > 45_000 || plan.Steps[0].Build.Cost.Minor > 21_000 {
			t.Errorf("%s: %d spent", order, spent)
		}
		return plan.Last()
	}
	last, naive := end(catalog.PlanLast), end(catalog.PlanFirst)
	if last.Build.Objective < naive.Build.Objective+2 {
		t.Errorf("the plan ends at %.3f dB, the loudest first buy at %.3f dB", last.Build.Objective, naive.Build.Objective)
	}
	if last.Build.Objective > last.Best.Objective {
		t.Errorf("%.3f dB in steps, %.3f dB at once", last.Build.Objective, last.Best.Objective)
	}
}
