package optimizer

import (
	"context"
	"errors"

	"loudfor/catalog"
	"loudfor/model/bass"
)

// Pick ranks the best builds of a problem. The error is for problems that make
// no sense (no catalogue, two currencies, an unknown place); a problem without
// a solution is a Result with the outcome Infeasible.
//
// The context is polled throughout: when it ends, the best builds so far come
// back with a valid gap and Stop says why.
func Pick(ctx context.Context, p Problem) (Result, error) {
	return Result{}, errors.New("not ready")
}

// Predict computes one given build with its best valid hookup; mode ("bridged",
// or empty for any) and load (ohm at each output, or 0) narrow the choice.
// Price cap, stock, stores and the front rule do not bind a build that someone
// has already settled on; they turn into warnings. What is needed to make
// sound (driver, box, amplifier) must be there; what else is missing (source,
// kit, front stage) is said in the warnings.
func Predict(ctx context.Context, p Problem, parts []catalog.Mention, mode string, load float64) (Build, error) {
	return Build{}, errors.New("not ready")
}

// SmallSignal is the linear response of a given driver and box to a steady
// voltage on each output, without any limit, over bass.Grid. An amplifier is
// not needed: without one the coils are all in parallel on one output.
func SmallSignal(p Problem, parts []catalog.Mention, volts float64) ([]bass.Operation, Build, error) {
	return nil, Build{}, errors.New("not ready")
}
