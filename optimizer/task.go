package optimizer

import (
	"errors"

	"loudfor/model/cabin"
	"loudfor/optimizer/build"
	"loudfor/optimizer/completion"
	"loudfor/optimizer/drive"
	"loudfor/optimizer/pricing"
	"loudfor/optimizer/setting"
)

// A task is a problem made ready to be searched: the shelf stocked, defaults
// filled in, and everything that one car and one brief fix for all builds
// computed once (the cabin's response above all).

type task struct {
	*drive.Gear

	ladder  bool        // the best at every price is wanted: see ladder.go
	floor   build.Level // on a ladder: what is quieter is not asked for; 0: all is
	enough  build.Level // what is louder counts as no louder: see least_money.go
	sharing int         // see sharing; below 0: no aims are taken, for tests
	rack    int         // see rackSize

	bandRoom cabin.Response // the frequencies of the room that music depends on

	rests   *completion.Lists
	atClass []atClass // for every class that was asked for
}

// ready makes a task of a problem.
func ready(p Problem, r setting.Relaxation) (*task, error) { return readyIn(p, r, nil) }

// readyIn is ready with the cabin of another task of the same car and place.
func readyIn(p Problem, r setting.Relaxation, car *task) (*task, error) {
	if p.Catalogue == nil {
		return nil, errors.New("no catalogue")
	}
	b, err := pricing.Open(p, r)
	if err != nil {
		return nil, err
	}
	var near *setting.Setting
	var known *drive.Gear
	if car != nil {
		near, known = car.Setting, car.Gear
	}
	if err := b.Enter(near); err != nil {
		return nil, err
	}
	if err := b.ListMusts(); err != nil {
		return nil, err
	}
	t := &task{Gear: drive.New(b, p.Top, known), enough: build.Loudest, sharing: sharing, rack: rackSize}
	t.rests = completion.New(t.Gear)
	return t, nil
}

// sameRank says whether two candidates are ranked as one.
func (t *task) sameRank(a, b *candidate) bool {
	if t.Problem.Distinct == DistinctParts {
		return a.parts.CompareSKUs(b.parts) == 0
	}
	return a.bass == b.bass
}
