package main

import (
	"errors"
	"fmt"
	"testing"

	"loudfor/cmd/internal/inputs"
	"loudfor/optimizer"
)

// Each sort of failure has the status that the README promises.
func TestStatuses(t *testing.T) {
	for _, c := range []struct {
		err  error
		want int
	}{
		{errors.New("the disk is full"), statusBadInput},
		{usageError{text: "no"}, statusUsage},
		{fmt.Errorf("wrapped: %w", inputs.UsageError{Text: "no"}), statusUsage},
		{verdict(optimizer.Result{Outcome: optimizer.Infeasible}), statusNoBuild},
		{verdict(optimizer.Result{Outcome: optimizer.Unknown, Stop: optimizer.StopCancelled}), statusBadInput},
	} {
		if got := statusOf(c.err); got != c.want {
			t.Errorf("%v: %d, want %d", c.err, got, c.want)
		}
	}
	for _, outcome := range []optimizer.Outcome{optimizer.Optimal, optimizer.Feasible} {
		if err := verdict(optimizer.Result{Outcome: outcome}); err != nil {
			t.Errorf("%v: %v", outcome, err)
		}
	}
}
