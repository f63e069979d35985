package optimizer

import (
	"context"
	"errors"

	"loudfor/optimizer/program"
	"loudfor/optimizer/setting"
)

// Formulate writes the choice as an integer program for solvers that know nothing of
// this search (package program), without what is quieter than a floor in dB (0: no
// floor). The error is that of Pick for problems that make no sense, or the context's.
//
// Where shops have to be chosen it is an error: the program is for one set of
// shops, which the brief can name.
func Formulate(ctx context.Context, p Problem, floor float64) (*program.Selection, error) {
	if touring(&p) {
		return nil, errors.New("where to buy is a part of the choice, and the program is for one set of shops: name one shop under stores, with its prices alone")
	}
	t, err := ready(p, setting.Relaxation{})
	if err != nil {
		return nil, err
	}
	return program.Formulate(ctx, t.rests, floor)
}
