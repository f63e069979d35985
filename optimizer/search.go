package optimizer

import (
	"context"
	"math"

	"loudfor/catalog"
	"loudfor/model/bass"
	"loudfor/model/cabin"
	"loudfor/model/parallel"
	"loudfor/optimizer/build"
	"loudfor/optimizer/completion"
	"loudfor/optimizer/drive"
	"loudfor/optimizer/internal/halt"
	"loudfor/optimizer/pricing"
)

// The search. Groups of bass blocks are put in order of a proven bound, best
// first, and worked off in rounds. During a round the ranking to beat is
// frozen at what it was when the round began; every block works by itself
// against that ranking and its own finds. Between rounds the finds are merged
// in the order of the groups. So nothing, neither the ranking nor one count of
// the proof, depends on how many goroutines there are or which is faster.

const (
	// firstRound groups begin, each round takes growth times as many: early
	// rounds are small, since all that is found in them sharpens the bound
	// for the rest, and the first groups, with nothing to beat, cost the most.
	firstRound = 2
	growth     = 2
	lastRound  = 4096
	// risingRound groups are enough while a ladder of many steps still rises: what
	// one of them finds the others find again.
	risingRound = 16
)

// search is one run over a task.
type search struct {
	*task
	offered   uint64 // rests of parts that are offered, on paper
	rests64   uint64 // all rests on paper
	kits64    uint64
	total     ranking
	ledger    ledger
	openBound build.Level              // no block that was not reached is louder
	openFront completion.CostToReach   // on a ladder: what those blocks cost at least, and could reach
	bases     []completion.CostToReach // of the rests that do not lean on the bass amplifier, for each kind of pair
	base      completion.CostToReach   // of all of them
	spare     completion.CostToReach   // of those that use its spare channels
	all       completion.CostToReach   // of both
	most      build.Level              // no front stage is louder
	aims      aims
	between   []*span // the steps of a ladder for music

	groups     []*group
	leastFront build.Level // during a round: quieter front stages are of no use
	scout      *worker
	polished   build.Level // the last block that was bettered was as loud
	probing    bool        // first finds are looked for, and nothing is booked
	finished   bool
	comb       bass.Comb // of bandRoom
	news       news
}

// ordered is a search that has its groups in order and has opened none. It may be cut:
// see unprepared.
func (t *task) ordered() (s *search, groups []*group) {
	s = &search{task: t, openBound: build.Silent}
	s.total = ranking{size: t.Depth, same: t.sameRank, ladder: t.ladder}
	if t.floor > 0 {
		s.total.best = append(s.total.best, t.ground())
	}
	s.paper()
	t.start(&s.total)
	if last := s.total.last(); last != nil {
		s.polished = last.level // a build that was the best once has no better beside it
	}
	bass.BandsOnly(t.Room, &s.bandRoom)
	s.comb = bass.CombOf(s.bandRoom.Hz)
	groups = t.groups(&s.ledger)
	t.FillLoads(t.rests.Floor, t.aiming() && !t.ladder)
	s.climb()
	s.bound(groups)
	s.share(groups)
	return s, groups
}

func (t *task) search(ctx context.Context) *search {
	t.Until(ctx)
	s, groups := t.ordered()
	if s.groups = groups; !s.unprepared(groups) {
		s.run()
	}
	return s
}

// run works the groups off.
func (s *search) run() {
	t, groups := s.task, s.groups
	s.narrowLimit()
	size, done := firstRound, 0
	free := make(chan *worker, t.Workers())
	for range cap(free) {
		free <- &worker{search: s}
	}
	s.probe(groups)
	s.polish(groups)
	for done < len(groups) && !s.Ended() {
		s.narrowLimit()
		s.leastFront = 0
		if s.Music() {
			s.leastFront = build.Silent
			if last := s.total.last(); last != nil {
				s.leastFront = last.level
			}
		}
		s.takeAim()
		s.takeSpans()
		round := groups[done:min(done+size, len(groups))]
		finds := make([]find, len(round))
		parallel.Each(cap(free), len(round), func(i int) {
			w := <-free
			w.open(round[i], &finds[i])
			free <- w
			s.report(1, len(groups))
		})
		found := false
		for i := range finds {
			found = found || len(finds[i].found) > 0
			s.ledger.add(&finds[i].ledger)
			s.openBound = max(s.openBound, finds[i].openBound)
			if finds[i].openBound > build.Silent {
				s.openFront = append(s.openFront, round[i].rungs()...)
			}
			s.keep(&finds[i])
		}
		s.polish(groups)
		done += len(round)
		if size = min(size*growth, lastRound); found && s.task.ladder && s.Music() {
			size = min(size, risingRound)
		}
	}
	for _, g := range groups[done:] {
		s.ledger.pairs[DropTime] += uint64(len(g.housing)) * s.ChoiceSlots()
		s.openBound = max(s.openBound, g.ceiling)
		s.openFront = append(s.openFront, g.rungs()...)
	}
	s.finished = done == len(groups) && s.openBound == build.Silent && s.ledger.pairs[DropTime] == 0
}

// keep ranks what was found, and lets go of the rest.
func (s *search) keep(f *find) {
	for _, c := range f.found {
		s.total.insert(c)
	}
	s.Hold(-halt.CandidateBytes * int64(len(f.found)))
}

// paper counts the combinations of what is not a bass block.
func (s *search) paper() {
	n := func(kind catalog.Kind) (all, offered uint64) {
		for _, it := range s.Shelf.Kinds[kind] {
			all++
			if it.Offered() {
				offered++
			}
		}
		return all, offered
	}
	sources, sourcesOffered := n(catalog.KindSource)
	fronts, frontsOffered := n(catalog.KindFront)
	amps, ampsOffered := n(catalog.KindAmplifier)
	converters, convertersOffered := n(catalog.KindConverter)
	blockers, blockersOffered := n(catalog.KindBlocker)
	s.rests64 = sources * (1 + fronts) * (1 + amps) * (1 + converters) * (1 + blockers)
	s.offered = sourcesOffered * (1 + frontsOffered) * (1 + ampsOffered) * (1 + convertersOffered) * (1 + blockersOffered)
	s.kits64 = uint64(len(s.Shelf.Kinds[catalog.KindKit]))
}

// find is what the opening of one group brought.
type find struct {
	ledger    ledger
	found     []candidate
	openBound build.Level
	cut       bool // something of the block at hand was left open: see halt.go
}

// worker opens groups, one after the other.
type worker struct {
	*search
	song
	ascent
	prepared bass.Prepared
	horizon  bass.Horizon
	sight    sight           // what the horizon is that of
	horizons []*bass.Horizon // on a ladder for music: room for those of spans
	prospect bass.Prospect
	facing   bool           // the prospect is that of the horizon
	left     []int          // the boxes of a rack that are not hopeless
	own      bass.Target    // of the block at hand, where none is kept
	near     []int32        // the frequencies at which it could reach the aim
	part     cabin.Response // the frequencies of the room that matter for one block
	find     *find
	ranking  ranking
	group    *group
	amp      *pricing.Item // of the pair at hand; nil: none yet
	box      *pricing.Item
	price    int64 // of the block
}

// open settles every block of a group.
func (w *worker) open(g *group, f *find) {
	w.find, w.group = f, g
	f.openBound = build.Silent
	if len(g.class.Choices) == 0 {
		w.lose(uint64(len(g.housing)))
		return
	}
	w.ranking.copy(&w.total)
	w.sight = sight{}
	if w.Music() {
		w.sing(g, f)
		return
	}
	if w.task.ladder {
		w.ascend(g, f)
		return
	}
	w.read(g)
}

// incumbent is the candidate to beat: the last of the ranking, or where a pair of
// bass amplifier and driver is ranked only once, its own best so far; on a
// ladder, the best for no more than floor, which is the least that the builds
// at hand cost.
func (w *worker) incumbent(floor int64) *candidate {
	if w.task.ladder {
		return w.ranking.under(floor)
	}
	if w.amp != nil && w.Problem.Distinct == DistinctBass {
		for i := range w.ranking.best {
			if c := &w.ranking.best[i]; c.bass == [2]*pricing.Item{w.amp, w.group.Driver} {
				return c
			}
		}
	}
	return w.ranking.last()
}

// lose books the pairs that the class never took up.
func (w *worker) lose(blocks uint64) {
	for r, n := range w.group.class.Lost {
		w.find.ledger.pairs[r] += n * blocks
	}
}

// drop books what a bound l has shown to be outside the ranking.
func (w *worker) drop(l build.Level, floor int64, books *[build.ReasonCount]uint64, n uint64) {
	if w.find.cut {
		books[DropTime] += n
	} else if incumbent := w.incumbent(floor); incumbent != nil && l < incumbent.level {
		books[DropBound] += n
	} else {
		books[DropOrder] += n
	}
}

// settle disposes of one block.
func (w *worker) settle(slots uint64) {
	g, books := w.group, &w.find.ledger
	if !w.HoldsMusts(&g.Block, w.box) {
		books.pairs[DropMust] += slots
		return
	}
	setup := w.Setup(&g.Block, w.box)
	if !w.FitsHole(&g.Block, w.box) {
		books.pairs[DropFit] += slots
		return
	}
	if w.price+g.class.Floor+w.aside(nil, nil) > w.Limit {
		books.pairs[DropCap] += slots
		return
	}
	// What the money left over can buy, whatever it is.
	strongest, ok := w.strongest()
	if !ok {
		books.pairs[DropCap] += slots
		return
	}
	room, incumbent := w.Room, w.incumbent(w.price+g.class.Floor)
	switch {
	case w.task.ladder:
		// Marked by inReach.
		bass.Marked(w.marks, w.Room, &w.part)
		room = &w.part
	case incumbent != nil:
		// Only where the horizon leaves hope need one look.
		w.horizon.Above(w.least(incumbent), w.box.Opening, w.Room, &w.part)
		room = &w.part
	}
	if len(room.Hz) == 0 {
		w.drop(build.Silent, w.price+g.class.Floor, &books.pairs, slots)
		return
	}
	if bass.PrepareInto(&w.prepared, setup, room) != nil {
		books.pairs[DropFit] += slots
		return
	}
	if w.task.ladder {
		w.climbTreads(slots)
		return
	}
	l := w.reachOfAny(g.class.DriveSetUnder(w.Limit-w.price), strongest, w.price+g.class.Floor)
	if !w.admits(l, w.price+g.class.Floor) {
		w.drop(l, w.price+g.class.Floor, &books.pairs, slots)
		return
	}
	w.lose(1)
	w.descend(g.class.Full(), 0)
}

// through is the drive that gives every coil of the block a source, through
// the best kit.
func (w *worker) through(f drive.CoilSource) bass.Drive {
	return w.throughCable(f, w.Kits[w.Usable[0]].Resistance)
}

// throughCable is that through a cable of some resistance.
func (w *worker) throughCable(f drive.CoilSource, cable float64) bass.Drive {
	d := f.Drive(w.group.class.Drivers * w.group.class.Coils)
	d.Feed = w.Feed
	d.Feed.CableResistance = cable
	return d
}

// descend walks the tree of pairs below a branch.
func (w *worker) descend(t drive.Tree, at int) {
	b := &t[at]
	n := uint64(b.Choices)
	defer func() { w.amp = nil }()
	if w.halted() {
		w.find.ledger.pairs[DropTime] += n
		return
	}
	if w.price+b.Floor > w.Limit {
		w.find.ledger.pairs[DropCap] += n
		return
	}
	if n == 1 {
		// From here on it is known whose own best there is to beat.
		w.amp = w.group.class.Choices[b.Choice].Amp
	}
	l := build.Loudest
	if w.admitsBelow(l, b) {
		l = w.reach(w.below(b), w.price+b.Floor)
	}
	if !w.admitsBelow(l, b) {
		w.drop(l, w.price+b.Floor, &w.find.ledger.pairs, n)
		return
	}
	if n == 1 {
		w.pair(&w.group.class.Choices[b.Choice])
		return
	}
	if left := at + 1; w.incumbent(w.price+b.Floor) == nil && w.reach(w.below(&t[left]), 0) < w.reach(w.below(&t[b.Right]), 0) {
		// The louder first: it leaves less to be looked at.
		w.descend(t, b.Right)
		w.descend(t, left)
		return
	}
	w.descend(t, at+1)
	w.descend(t, b.Right)
}

// reach bounds the bass's share of the objective over all drives that d covers.
// With something to beat it only says on which side of it they are: whether
// builds that cost at least floor could come before it.
func (w *worker) reach(d bass.Drive, floor int64) build.Level {
	incumbent := w.incumbent(floor)
	if incumbent == nil {
		return w.hearBass(&w.prepared, d, build.BoundSlack)
	}
	least := incumbent.toBeat(floor)
	if least > w.enough {
		return w.enough
	}
	if w.prepared.Exceeds(lowest(least), d, w.task.Reading) {
		return build.Loudest
	}
	return least - 1
}

// least is a little less than the lowest level, dB, that rounds to an incumbent's.
func (w *worker) least(incumbent *candidate) float64 {
	return lowest(incumbent.level)
}

// lowest is a little less than the lowest level, dB, that rounds to l.
func lowest(l build.Level) float64 { return (float64(l)-0.5)*build.LevelStep - 2*build.BoundSlack }

// hearBass is the bass's share of the objective: the loudest reading, or the
// level with music less the wanted lift.
func (t *task) hearBass(p *bass.Prepared, d bass.Drive, slack float64) build.Level {
	var db float64
	if t.Music() {
		db = bass.MusicLevel(p, d) - t.Brief.BassLift
	} else {
		db = p.Loudest(d, t.Reading).Level
	}
	if math.IsNaN(db) || math.IsInf(db, -1) {
		return build.Silent
	}
	return min(build.Round(db+slack), t.enough)
}
