package optimizer

import (
	"loudfor/model/bass"
	"loudfor/optimizer/build"
	"loudfor/optimizer/drive"
)

// How far one can see from a block. The boxes of a group stand by price, and
// the dearer the box, the less is left for what drives it. So the horizon is
// looked at again with what the money left over buys, wherever that is notably
// weaker than when it was last looked at; when even the widest mouth of the
// group is hopeless then, so are all boxes that are left.
//
// For music the money left over is mostly less than what the cap leaves (row.go).

// sight is what a worker's horizon was last looked at with.
type sight struct {
	felt   drive.CoilSource
	choice *bass.Choice // for a reading: what that is the envelope of
	known  bool
	widest build.Level // through the widest mouth of the group
	enough int64       // with that much left over there is no need to look again

	// With less port a box is quieter than the incumbent at level: with the cones
	// facing the car, and without.
	level      build.Level
	open, shut float64
	levelled   bool
}

// lookAgain is the share of the voltage with which the horizon was looked at
// below which it is worth another look.
const lookAgain = 0.95

// strongest is the envelope of all that could drive the block at hand in a
// build that enters the ranking; ok is false when nothing could.
func (w *worker) strongest() (drive.CoilSource, bool) {
	if w.Music() && !w.task.ladder {
		return w.row.strongest(w.row.payable(w))
	}
	return w.group.class.Under(w.Limit - w.price)
}

// lookOut turns the horizon to the block at hand, if that is worth it, and gives
// the level that no block of the group exceeds whose box costs as much or more.
func (w *worker) lookOut() build.Level {
	s := &w.sight
	if s.known && !w.Music() && w.Limit-w.price >= s.enough {
		return s.widest
	}
	f, ok := w.strongest()
	if !ok {
		return build.Silent
	}
	if !s.known || f.Voltage < lookAgain*s.felt.Voltage {
		w.lookAs(&w.horizon, w.group, f)
		*s = sight{felt: f, known: true, widest: w.beyond(&w.horizon, w.group.opening), enough: w.group.class.CheapestOf(lookAgain * f.Voltage)}
		if w.aiming() {
			s.choice = w.group.class.DriveSetUnder(w.Limit - w.price)
		}
		w.facing = false
	}
	return s.widest
}

// narrow says that a mouth is too narrow for a block to be as loud as the incumbent.
func (w *worker) narrow(m bass.Mouth) bool {
	incumbent := w.incumbent(w.price + w.group.class.Floor)
	if incumbent == nil || w.Music() {
		return false
	}
	s := &w.sight
	if !s.levelled || s.level != incumbent.level {
		s.level, s.levelled = incumbent.level, true
		s.open = w.horizon.Narrowest(w.least(incumbent), true)
		s.shut = w.horizon.Narrowest(w.least(incumbent), false)
	}
	if m.Cones {
		return m.Port < s.open
	}
	return m.Port < s.shut
}

// below is the drive that gives every coil of the block the source of a branch,
// through the best kit that the money left over could buy beside it.
func (w *worker) below(b *drive.Node) bass.Drive {
	d := b.AtCoil.Drive(w.group.class.Drivers * w.group.class.Coils)
	d.Feed = w.Feed
	d.Feed.CableResistance = w.leastResistance(w.kitMoney(b.Amps, b.Rest))
	return d
}

// kitMoney is the most that the kit may cost in a build that enters the ranking
// with amplifiers that cost at least amps, and at least rest with their rest.
func (w *worker) kitMoney(amps, rest int64) int64 {
	money := w.Limit - w.price - rest
	if incumbent := w.incumbent(w.price + w.group.class.Floor); incumbent != nil && w.Music() && !w.task.ladder {
		money = min(money, max(w.Limit-w.riseAbove(incumbent.level), incumbent.price-w.rise(incumbent.level))-w.price-amps)
	}
	return money
}

// leastResistance is that of the best conductor for a sum; of the best there is
// where none is as cheap, since then the pair is left out by its price.
func (t *task) leastResistance(sum int64) float64 {
	for _, kit := range t.Usable {
		if kit.Lower(1) <= sum {
			return t.Kits[kit].Resistance
		}
	}
	return t.Kits[t.Usable[0]].Resistance
}

// reachOfAny bounds the bass's share of the objective over the wirings of a choice,
// all of which f covers, like reach.
func (w *worker) reachOfAny(c *bass.Choice, f drive.CoilSource, floor int64) build.Level {
	d, incumbent := w.through(f), w.incumbent(floor)
	if incumbent == nil {
		return w.reach(d, floor)
	}
	least := incumbent.toBeat(floor)
	if least > w.enough {
		return w.enough
	}
	if w.prepared.AnyExceeds(lowest(least), c, d, w.task.Reading) {
		return build.Loudest
	}
	return least - 1
}
