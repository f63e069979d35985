package optimizer

import (
	"errors"

	"loudfor/catalog"
	"loudfor/model/cabin"
	"loudfor/model/hookup"
	"loudfor/optimizer/build"
	"loudfor/optimizer/setting"
)

// A task is a problem made ready to be searched: the shelf stocked, defaults
// filled in, and everything that one car and one brief fix for all builds
// computed once (the cabin's response above all).

type task struct {
	*book

	top     int
	ladder  bool        // the best at every price is wanted: see ladder.go
	floor   build.Level // on a ladder: what is quieter is not asked for; 0: all is
	sharing int         // see sharing; below 0: no aims are taken, for tests
	rack    int         // see rackSize

	bandRoom cabin.Response // the frequencies of the room that music depends on

	drivers map[*item]*cone
	amps    map[*item]*power
	kits    map[*item]*cable
	usable  []*item  // kits, lowest resistance first
	bundles []bundle // of usable kits by capacity

	classes map[classKey]*class
	order   []*class // in the order in which they were asked for
	wirings *wirings
	rests   *rests
}

// ready makes a task of a problem.
func ready(p Problem, r setting.Relaxation) (*task, error) { return readyIn(p, r, nil) }

// readyIn is ready with the cabin of another task of the same car and place.
func readyIn(p Problem, r setting.Relaxation, car *task) (*task, error) {
	if p.Catalogue == nil {
		return nil, errors.New("no catalogue")
	}
	b, err := openBook(p, r)
	if err != nil {
		return nil, err
	}
	t := &task{book: b, top: p.Top, sharing: sharing, rack: rackSize}
	if t.top <= 0 {
		t.top = DefaultTop
	}
	var near *setting.Setting
	if car != nil {
		near = car.Setting
	}
	if err := t.Enter(near); err != nil {
		return nil, err
	}
	t.drivers = make(map[*item]*cone)
	t.amps = make(map[*item]*power)
	t.kits = make(map[*item]*cable)
	t.completeDrivers()
	for _, it := range t.shelf.kinds[catalog.KindAmplifier] {
		t.amps[it] = ratePower(it.part.Amplifier.Spec)
	}
	for _, it := range t.shelf.kinds[catalog.KindKit] {
		t.kits[it] = t.layCable(it)
	}
	if err := t.with(); err != nil {
		return nil, err
	}
	t.listMusts()
	t.usable = t.usableKits()
	t.bundle()
	t.classes = make(map[classKey]*class)
	if car != nil {
		t.wirings = car.wirings
	} else {
		t.wirings = &wirings{known: make(map[planKey][]hookup.Plan)}
	}
	t.rests = t.newRests()
	return t, nil
}

// sameRank says whether two candidates are ranked as one.
func (t *task) sameRank(a, b *candidate) bool {
	if t.Problem.Distinct == DistinctParts {
		return a.parts.compareSKUs(b.parts) == 0
	}
	return a.bass == b.bass
}
