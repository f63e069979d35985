package audit

import (
	"context"
	"math"
	"slices"
	"sync"

	"loudfor/catalog"
	"loudfor/model/air"
	"loudfor/model/bass"
	"loudfor/model/cabin"
	"loudfor/model/driver"
	"loudfor/model/front"
	"loudfor/model/parallel"
	"loudfor/model/supply"
	"loudfor/optimizer/build"
	"loudfor/optimizer/verify"
)

// Question is a claim about the best build with what it was made from.
type Question struct {
	build.Problem                 // of it, only catalogue, brief, vehicle, workers and progress count
	Room          *cabin.Response // what the car does to the sound
	Claim         *build.Build    // nil: that there is no build at all
}

// slack, dB, is how much quieter than the claim a block is asked to be. The model's
// search for the largest travel ends within a thousandth of it, 0.009 dB (package
// bass); and levels are compared in thousandths.
const slack = 0.01

// mostTries keeps an audit from lasting for ever where prices say nothing: so many
// completions are tried.
const mostTries = 50_000_000

// untried is what is left of a block in which they were too many.
const untried = "not all builds that are as loud as the claim were tried"

// round is how many groups are looked at before a refutation ends the audit.
const round = 256

type auditor struct {
	Question
	brief  catalog.Brief
	medium air.Air
	feed   supply.Feed
	limits bass.Limits
	music  bool
	cabin  front.Room
	space  catalog.Size3

	bySKU  map[string]*piece
	kinds  [catalog.KindCount][]*piece
	forced [catalog.KindCount]bool // something of a kind that needs nothing must be in
	musts  []*piece
	fixed  int64 // labour for the build
	limit  int64 // of what the pieces cost
	cables []kit
	lines  []kit // the best conductor among so many kits
	pairs  []pair
	// What source and front cost at least, the second where the bass takes speaker
	// wires; and driven by channels that the bass leaves over.
	rest     [2]int64
	spare    map[*piece]int64
	cheapest [2][2]int64           // sources: any, with a high-pass; the second as above
	ownWatts map[float64][]float64 // of each amplifier, by the load of a pair
	louder   bool                  // only fronts above the claim's level count

	claimed *Found
	target  float64 // dB

	lock    sync.Mutex
	wirings map[coils][]wiring
	report  Report
	heard   sync.Map // []filtered by heard
	met     bool
}

// Check looks at every block. It ends with what it has when the context does.
func Check(ctx context.Context, q Question) Report {
	a := newAuditor(q)
	r := &a.report
	if len(r.Left) == 0 && r.Fault == "" {
		a.all(ctx)
	}
	switch {
	case r.Better != nil || r.Fault != "":
		r.Verdict = Refuted
	case len(r.Left) == 0 && q.Claim != nil && !a.met:
		r.Verdict, r.Fault = Refuted, "the claimed build breaks a rule, or is not as loud or as cheap as it is said to be"
	case len(r.Left) == 0:
		r.Verdict = Confirmed
	}
	return *r
}

// group is one driver, so many boxes.
type group struct {
	driver *piece
	boxes  int
}

// box is what a driver goes into.
type box struct {
	*piece
	catalog.Enclosure
}

// all looks at every block, group by group.
func (a *auditor) all(ctx context.Context) {
	var groups []group
	rooms := make([][]box, a.brief.Boxes+1) // by how many of them there are
	for n := 1; n <= a.brief.Boxes; n++ {
		for _, kind := range []catalog.Kind{catalog.KindSubwoofer, catalog.KindLoaded} {
			for _, p := range a.kinds[kind] {
				groups = append(groups, group{p, n})
			}
		}
		rooms[n] = a.rooms(n)
	}
	workers := parallel.Workers(a.Workers)
	found := make([]tally, round)
	for at := 0; at < len(groups) && ctx.Err() == nil; at += round {
		some := groups[at:min(at+round, len(groups))]
		parallel.Each(workers, len(some), func(i int) {
			found[i] = tally{}
			if ctx.Err() == nil {
				a.group(ctx, some[i], rooms[some[i].boxes], &found[i])
			}
		})
		for i := range some {
			a.add(&found[i])
		}
		if a.report.Better != nil {
			return
		}
		if a.Progress != nil {
			a.Progress(build.Progress{Done: at + len(some), Blocks: len(groups), Best: max(0, a.claimed.Level.DB())})
		}
	}
	if ctx.Err() != nil {
		a.leave("stopped before all blocks were looked at")
	}
}

// rooms are the boxes of which so many can be had and stand in the car.
func (a *auditor) rooms(n int) (all []box) {
	for _, p := range a.kinds[catalog.KindEnclosure] {
		e := *p.part.Enclosure
		if e.Box.Drivers = max(1, e.Box.Drivers); n <= p.most && a.stands(e.Outside, n) {
			all = append(all, box{p, e})
		}
	}
	return all
}

// tally is what a group adds to the report.
type tally struct {
	blocks, equal int
	settled       [stepCount]int
	better        *Found
	met           bool
}

func (a *auditor) add(t *tally) {
	r := &a.report
	r.Blocks, r.Equal, a.met = r.Blocks+t.blocks, r.Equal+t.equal, a.met || t.met
	for s, n := range t.settled {
		r.Settled[s] += n
	}
	if t.settled[Open] > 0 {
		a.leave(untried)
	}
	if b := t.better; b != nil && (r.Better == nil || b.before(r.Better)) {
		b.Cost = a.money(b.due)
		r.Better = b
	}
}

// stands tells whether so many boxes stand in the space, and go through the boot.
func (a *auditor) stands(outside catalog.Size3, n int) bool {
	if outside == (catalog.Size3{}) {
		return true
	}
	return (a.space == (catalog.Size3{}) || verify.FitsInARow(outside, a.space, n)) &&
		(a.Vehicle.Boot == [2]float64{} || verify.SlidesIn(outside, a.Vehicle.Boot))
}

// group looks at all blocks of a group.
func (a *auditor) group(ctx context.Context, g group, boxes []box, t *tally) {
	motors := make([]*motor, a.brief.Drivers+1) // by how many drivers
	var card driver.Card
	displacement := 0.0
	if l := g.driver.part.Loaded; l != nil {
		e := catalog.Enclosure{Box: l.Box, Outside: l.Outside}
		e.Box.Drivers = max(1, e.Box.Drivers)
		card, boxes = l.Card, []box{{nil, e}}
		if g.boxes > g.driver.most || !a.stands(l.Outside, g.boxes) {
			return
		}
	} else {
		card, displacement = g.driver.part.Subwoofer.Card, g.driver.part.Subwoofer.Displacement
	}
	d, err := driver.Estimate(card, a.medium)
	if err != nil {
		return
	}
	var buffer []need
	for i := range boxes {
		e := &boxes[i]
		n := g.boxes * e.Box.Drivers
		if n > a.brief.Drivers {
			continue
		}
		b := block{group: g, box: e, drivers: n, driver: &d, displacement: displacement}
		b.uses = append(b.uses, use{g.driver, n})
		if e.piece == nil {
			b.uses[0].n = g.boxes
		} else {
			s := g.driver.part.Subwoofer
			if n > g.driver.most || math.Abs(card.Size-e.Hole) > build.SizeTolerance || !verify.GoesInto(s.Cutout, e.Cutout) || !verify.GoesInto(s.Depth, e.Depth) {
				continue
			}
			b.uses = append(b.uses, use{e.piece, g.boxes})
		}
		c, err := e.Box.Circuit(d, displacement, a.medium)
		if err != nil || ctx.Err() != nil {
			continue
		}
		if motors[n] == nil {
			motors[n] = newMotor(&d, n, a.target, a.limits, a.Room)
		}
		t.blocks++
		t.settled[a.block(ctx, &b, func() []need { buffer = motors[n].needs(&c, buffer[:0]); return buffer }, t)]++
	}
}

// use is so many pieces of a part.
type use struct {
	*piece
	n int
}

// block is a driver in its boxes.
type block struct {
	group
	box          *box
	drivers      int
	driver       *driver.Driver
	displacement float64
	uses         []use
	prepared     *bass.Prepared
}

// block settles one.
func (a *auditor) block(ctx context.Context, b *block, needs func() []need, t *tally) Step {
	price := int64(0)
	for _, u := range b.uses {
		price += u.lower(u.n)
	}
	if len(a.cables) == 0 || !a.holdsMusts(b) {
		return Money
	}
	sum := a.limit - price
	all := a.feeds(coils{b.drivers, b.driver.Coils, b.driver.CoilLoad})
	if len(all) == 0 {
		return Unwired
	}
	bought := within(all, sum-a.cables[0].lower(1))
	if bought == 0 {
		return Money
	}
	list := needs()
	if len(list) == 0 {
		return Itself
	}
	// The best conductor that the cheapest amplifier leaves money for.
	kits := 1
	for kits < len(a.cables) && a.cables[kits].lower(1) <= sum-all[0].price-all[0].rest {
		kits++
	}
	feed := &a.lines[kits-1]
	best := all[bought-1].envelope
	list = slices.DeleteFunc(list, func(n need) bool { return !best.allows(&n, &feed.line) })
	if len(list) == 0 || a.music && !a.plays(b, best, feed.feed) {
		return Envelope
	}
	return a.ask(ctx, b, price, list, all[:bought], a.cables[:kits], feed, t)
}

// holdsMusts tells whether a block has what must be in it.
func (a *auditor) holdsMusts(b *block) bool {
	for _, p := range a.musts {
		switch p.part.Kind {
		case catalog.KindSubwoofer, catalog.KindEnclosure, catalog.KindLoaded:
			if !slices.ContainsFunc(b.uses, func(u use) bool { return u.piece == p && u.n >= p.must }) {
				return false
			}
		}
	}
	return true
}
