package optimizer

import (
	"errors"
	"fmt"

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
	*setting.Setting

	shelf   *shelf
	till    till
	offers  []*offer
	bends   bool  // prices do not add up: there are deals, or parts with several prices
	limit   int64 // largest sum of weighed prices
	top     int
	ladder  bool        // the best at every price is wanted: see ladder.go
	floor   build.Level // on a ladder: what is quieter is not asked for; 0: all is
	sharing int         // see sharing; below 0: no aims are taken, for tests
	rack    int         // see rackSize

	bandRoom cabin.Response // the frequencies of the room that music depends on

	musts   []*item // that must be in the build
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
	t := &task{Setting: setting.New(p, r), top: p.Top, sharing: sharing, rack: rackSize}
	if t.top <= 0 {
		t.top = DefaultTop
	}
	if err := t.check(); err != nil {
		return nil, err
	}
	var err error
	if t.shelf, err = stockShelf(p.Catalogue, &t.Brief, r); err != nil {
		return nil, err
	}
	t.till = newTill(&t.Brief, &t.Vehicle)
	t.limit = t.till.limit(t.Brief.Cap)
	t.ring()
	if err := errors.Join(t.tooFine(), t.haggle()); err != nil {
		return nil, err
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
	for _, it := range t.shelf.items {
		if it.must > 0 {
			t.musts = append(t.musts, it)
		}
	}
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

// check finds what makes the question itself senseless.
func (t *task) check() error {
	var all []error
	if c := t.Brief.Cap.Currency; c != "" && t.Problem.Catalogue.Currency != "" && c != t.Problem.Catalogue.Currency {
		all = append(all, fmt.Errorf("the cap is in %s and the catalogue in %s", c, t.Problem.Catalogue.Currency))
	}
	all = append(all, checkTill(&t.Brief, &t.Vehicle, t.Problem.Catalogue.Currency)...)
	if t.Brief.Cap.Minor < 0 {
		all = append(all, errors.New("the cap is negative"))
	}
	return errors.Join(all...)
}

// largestTax, in millionths, is ten times the price: beyond it a unit slipped.
const largestTax = 10 * million

// sameRank says whether two candidates are ranked as one.
func (t *task) sameRank(a, b *candidate) bool {
	if t.Problem.Distinct == DistinctParts {
		return a.parts.compareSKUs(b.parts) == 0
	}
	return a.bass == b.bass
}
