package optimizer

import (
	"errors"

	"loudfor/catalog"
	"loudfor/model/cabin"
	"loudfor/model/hookup"
	"loudfor/optimizer/build"
	"loudfor/optimizer/pricing"
	"loudfor/optimizer/setting"
)

// A task is a problem made ready to be searched: the shelf stocked, defaults
// filled in, and everything that one car and one brief fix for all builds
// computed once (the cabin's response above all).

type task struct {
	*pricing.Book

	top     int
	ladder  bool        // the best at every price is wanted: see ladder.go
	floor   build.Level // on a ladder: what is quieter is not asked for; 0: all is
	enough  build.Level // what is louder counts as no louder: see least_money.go
	sharing int         // see sharing; below 0: no aims are taken, for tests
	rack    int         // see rackSize

	bandRoom cabin.Response // the frequencies of the room that music depends on

	drivers  map[*pricing.Item]*cone
	amps     map[*pricing.Item]*power
	kits     map[*pricing.Item]*cable
	usable   []*pricing.Item // kits, lowest resistance first
	kitTiers []kitTier       // of usable kits by capacity

	classes map[classKey]*class
	order   []*class // in the order in which they were asked for
	wirings *wirings
	rests   *rests
	halt    halt
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
	t := &task{Book: b, enough: build.Loudest, top: p.Top, sharing: sharing, rack: rackSize}
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
	t.drivers = make(map[*pricing.Item]*cone)
	t.amps = make(map[*pricing.Item]*power)
	t.kits = make(map[*pricing.Item]*cable)
	t.completeDrivers()
	for _, it := range t.Shelf.Kinds[catalog.KindAmplifier] {
		t.amps[it] = ratePower(it.Part.Amplifier.Spec)
	}
	for _, it := range t.Shelf.Kinds[catalog.KindKit] {
		t.kits[it] = t.layCable(it)
	}
	if err := t.with(); err != nil {
		return nil, err
	}
	t.ListMusts()
	t.usable = t.usableKits()
	t.sortKits()
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
		return a.parts.CompareSKUs(b.parts) == 0
	}
	return a.bass == b.bass
}
