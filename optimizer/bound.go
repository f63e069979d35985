package optimizer

import (
	"cmp"
	"slices"

	"loudfor/catalog"
	"loudfor/model/bass"
	"loudfor/model/cabin"
	"loudfor/model/enclosure"
	"loudfor/model/parallel"
	"loudfor/optimizer/build"
	"loudfor/optimizer/drive"
	"loudfor/optimizer/pricing"
)

// Bounds on a block before it is prepared: the horizon of its driver, driven
// by the strongest that the money left over could buy, behind the box's mouth.
// They cost a hundredth of preparing the block, and leave most boxes unseen.

// bound gives every group its ceiling and puts the highest first.
func (s *search) bound(groups []*group) {
	s.openings(groups)
	s.atClass = make([]atClass, len(s.Loads))
	if s.task.ladder {
		parallel.Each(s.Workers(), len(s.Loads), func(i int) {
			if c := s.Loads[i]; s.Ended() {
				return
			} else if s.Music() {
				c.CutTiers()
			} else {
				c.CutFeeds(s.BuildFeeds(c))
			}
		})
	}
	horizons := make([]bass.Horizon, s.Workers())
	free := make(chan *bass.Horizon, len(horizons))
	for i := range horizons {
		free <- &horizons[i]
	}
	parallel.Each(len(horizons), len(groups), func(i int) {
		h := <-free
		if !s.Ended() {
			s.ceil(groups[i], h)
		}
		free <- h
	})
	for _, g := range groups {
		if len(g.housing) > 0 {
			if c := s.at(g.class); c.group == nil || g.compare(c.group) < 0 {
				c.group = g
			}
		}
	}
	if s.task.ladder {
		s.lead(groups)
		return
	}
	slices.SortStableFunc(groups, func(a, b *group) int {
		if d := cmp.Or(cmp.Compare(b.ceiling, a.ceiling), cmp.Compare(a.entry, b.entry), cmp.Compare(a.floor, b.floor)); d != 0 {
			return d
		}
		return a.compare(b)
	})
}

// openings finds what every box lets out, and the widest of each group, which groups
// with the same boxes share.
func (s *search) openings(groups []*group) {
	for _, kind := range []catalog.Kind{catalog.KindEnclosure, catalog.KindLoaded} {
		for _, it := range s.Shelf.Kinds[kind] {
			it.Opening = s.mouth(it)
		}
	}
	type boxes struct {
		list  *holed
		times int
	}
	widest := make(map[boxes]bass.Mouth)
	for _, g := range groups {
		at := boxes{g.list, g.Boxes}
		known, ok := widest[at]
		if !ok || g.Loaded() { // its box is in no list
			known = g.widest()
			widest[at] = known
		}
		g.opening = known
	}
}

// widest is the widest of the openings of a group.
func (g *group) widest() (widest bass.Mouth) {
	for _, box := range g.housing {
		m := box.Opening
		widest.Port, widest.Cones = max(widest.Port, m.Port), widest.Cones || m.Cones
	}
	return widest
}

// limits are those of the goal.
func (t *task) limits() bass.Limits {
	if t.Music() {
		return bass.Music()
	}
	return t.Reading
}

// mouth is what a box lets out; one that cannot be has none.
func (t *task) mouth(it *pricing.Item) bass.Mouth {
	var b enclosure.Box
	if it.Part.Kind == catalog.KindLoaded {
		b = it.Part.Loaded.Box
	} else {
		b = it.Part.Enclosure.Box
	}
	b.Drivers = max(b.Drivers, 1)
	m, err := bass.MouthOf(b, t.limits(), t.Air, t.Room.Hz[len(t.Room.Hz)-1])
	if err != nil {
		return bass.Mouth{}
	}
	return m
}

// ceil bounds all blocks of a group by the widest of its mouths.
func (s *search) ceil(g *group, h *bass.Horizon) {
	g.ceiling = build.Silent
	if len(g.housing) > 0 && len(g.class.Choices) > 0 {
		g.floor = g.Price(g.housing[0]) + g.class.Floor
	}
	if !s.look(h, g) {
		return
	}
	g.ceiling = s.beyond(h, g.opening)
	if s.Music() {
		g.ceiling = min(g.ceiling, s.most)
		g.entry = s.entryOf(g, h, g.opening)
	}
	if s.task.ladder {
		s.tread(g, h, g.opening)
	}
}

// look turns a horizon to a group's driver; false when nothing that could
// drive it can be paid.
func (t *task) look(h *bass.Horizon, g *group) bool {
	if len(g.housing) == 0 {
		return false
	}
	f, ok := g.class.Under(t.Limit - g.Price(g.housing[0]))
	if !ok {
		return false
	}
	t.lookAs(h, g, f)
	return true
}

// lookAs turns a horizon to a group's driver fed by f.
func (t *task) lookAs(h *bass.Horizon, g *group, f drive.CoilSource) {
	volts, _, _ := t.Feed.Terminal(0, f.Efficiency)
	h.Look(&t.Drivers[g.Driver].Driver, g.Drivers(), f.Drive(1).Source, volts, t.limits(), t.horizonRoom())
}

// horizonRoom is the room at the frequencies that the goal depends on.
func (t *task) horizonRoom() *cabin.Response {
	if t.Music() {
		return &t.bandRoom
	}
	return t.Room
}

// beyond is the level that no block behind a mouth exceeds.
func (t *task) beyond(h *bass.Horizon, m bass.Mouth) build.Level {
	if t.Music() {
		return min(build.Round(h.Bands(m)-t.Brief.BassLift+build.BoundSlack), t.enough)
	}
	return min(build.Round(h.Loudest(m)+build.BoundSlack), t.enough)
}
