package optimizer

import (
	"errors"
	"fmt"
	"runtime"
	"strings"
	"sync"
	"sync/atomic"

	"loudfor/catalog"
	"loudfor/model/air"
	"loudfor/model/bass"
	"loudfor/model/cabin"
	"loudfor/model/front"
	"loudfor/model/hookup"
	"loudfor/model/supply"
)

// A task is a problem made ready to be searched: the shelf stocked, defaults
// filled in, and everything that one car and one brief fix for all builds
// computed once (the cabin's response above all).

// Defaults for what a brief leaves out, as the brief's documentation says.
const (
	defaultBoxes      = 2
	defaultDrivers    = 4
	defaultAmplifiers = 2

	// openFieldName is the vehicle that is no vehicle: half space, with the
	// meter openFieldDistance metres away.
	openFieldName     = "open field"
	openFieldDistance = 1.0

	// Levels are rounded to thousandths of a decibel before they are compared:
	// finer than any meter, coarser than the rounding of floating point.
	stepsPerDB = 1000
	levelStep  = 1.0 / stepsPerDB // dB
)

type task struct {
	p       Problem
	brief   catalog.Brief
	vehicle catalog.Vehicle
	relaxed relaxed
	shelf   *shelf
	till    till
	offers  []*offer
	bends   bool  // prices do not add up: there are deals, or parts with several prices
	limit   int64 // largest sum of weighed prices
	top     int
	ladder  bool  // the best at every price is wanted: see ladder.go
	floor   level // on a ladder: what is quieter is not asked for; 0: all is
	sharing int   // see sharing; below 0: no aims are taken, for tests
	rack    int   // see rackSize

	air      air.Air
	car      *sharedRoom // what gave the room, and gives the draws around it; nil in the open
	room     *cabin.Response
	bandRoom cabin.Response // the frequencies of the room that music depends on
	cabin    front.Room
	reading  bass.Limits
	feed     supply.Feed // without the cable
	space    catalog.Size3
	open     bool // open field: no car around

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
func ready(p Problem, r relaxed) (*task, error) { return readyIn(p, r, nil) }

// readyIn is ready with the cabin of another task of the same car and place.
func readyIn(p Problem, r relaxed, car *task) (*task, error) {
	if p.Catalogue == nil {
		return nil, errors.New("no catalogue")
	}
	t := &task{p: p, brief: p.Brief, vehicle: p.Vehicle, relaxed: r, top: p.Top, sharing: sharing, rack: rackSize}
	if t.top <= 0 {
		t.top = DefaultTop
	}
	t.fillIn()
	if err := t.check(); err != nil {
		return nil, err
	}
	var err error
	if t.shelf, err = stockShelf(p.Catalogue, &t.brief, r); err != nil {
		return nil, err
	}
	t.till = newTill(&t.brief, &t.vehicle)
	t.limit = t.till.limit(t.brief.Cap)
	t.ring()
	if err := errors.Join(t.tooFine(), t.haggle()); err != nil {
		return nil, err
	}
	t.pushed()
	t.feed = supply.Feed{
		Volts: supply.RunningVolts, BatteryVolts: supply.RestedVolts, BatteryResistance: supply.TypicalBatteryResistance,
		Reserve: supply.Reserve(t.alternator(), t.vehicle.Standby),
	}
	if car != nil {
		t.air, t.car, t.room, t.cabin = car.air, car.car, car.room, car.cabin
	} else if err := t.enter(); err != nil {
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

// fillIn puts the defaults where the brief says nothing.
func (t *task) fillIn() {
	b := &t.brief
	whole := func(v *int, d int) {
		if *v <= 0 {
			*v = d
		}
	}
	whole(&b.Boxes, defaultBoxes)
	whole(&b.Drivers, defaultDrivers)
	whole(&b.Amplifiers, defaultAmplifiers)
	if b.Place == "" {
		b.Place = "dash"
	}
	if b.Openings == "" {
		b.Openings = "shut"
	}
	t.space = b.Space
	if t.space == (catalog.Size3{}) {
		t.space = t.vehicle.Space
	}
	t.open = strings.EqualFold(t.vehicle.Name, openFieldName) || strings.EqualFold(b.Vehicle, openFieldName)
}

// pushed settles how far a reading pushes the equipment.
func (t *task) pushed() {
	t.reading = bass.Reading()
	if t.brief.Overdrive > 0 {
		t.reading.Overdrive = t.brief.Overdrive
	}
	if t.brief.Burst > 0 {
		t.reading.Burst = t.brief.Burst
	}
}

// check finds what makes the question itself senseless.
func (t *task) check() error {
	var all []error
	if c := t.brief.Cap.Currency; c != "" && t.p.Catalogue.Currency != "" && c != t.p.Catalogue.Currency {
		all = append(all, fmt.Errorf("the cap is in %s and the catalogue in %s", c, t.p.Catalogue.Currency))
	}
	all = append(all, checkTill(&t.brief, &t.vehicle, t.p.Catalogue.Currency)...)
	if t.brief.Cap.Minor < 0 {
		all = append(all, errors.New("the cap is negative"))
	}
	return errors.Join(all...)
}

// largestTax, in millionths, is ten times the price: beyond it a unit slipped.
const largestTax = 10 * million

// alternator is the rated current, A: the brief's if stated, else the vehicle's.
func (t *task) alternator() float64 {
	if t.brief.Alternator > 0 {
		return t.brief.Alternator
	}
	return t.vehicle.Alternator
}

// enter puts the task into its car.
func (t *task) enter() error {
	t.air = air.At(t.brief.Celsius)
	grid := bass.Grid()
	if t.open {
		r := cabin.OpenField(grid, openFieldDistance, t.air)
		t.room = &r
		return nil
	}
	t.car = t.p.Shared.room(t.spot())
	r, err := t.car.respond()
	if err != nil {
		return err
	}
	t.room = &r
	c := t.vehicle.Body.Cavity
	t.cabin = front.Room{Length: c.Length, Width: c.Width, Height: c.Height}
	return nil
}

func (t *task) music() bool { return t.brief.Goal == catalog.GoalMusic }

// sameRank says whether two candidates are ranked as one.
func (t *task) sameRank(a, b *candidate) bool {
	if t.p.Distinct == DistinctParts {
		return a.parts.compareSKUs(b.parts) == 0
	}
	return a.bass == b.bass
}

// workers is how many goroutines to use.
func (t *task) workers() int {
	if t.p.Workers > 0 {
		return t.p.Workers
	}
	return runtime.GOMAXPROCS(0)
}

// each calls do for every number below n, from so many goroutines.
func each(workers, n int, do func(i int)) {
	var next atomic.Int64
	var wait sync.WaitGroup
	for range min(workers, n) {
		wait.Go(func() {
			for i := next.Add(1) - 1; i < int64(n); i = next.Add(1) - 1 {
				do(int(i))
			}
		})
	}
	wait.Wait()
}
