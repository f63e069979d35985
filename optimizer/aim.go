package optimizer

import (
	"sync/atomic"

	"loudfor/model/bass"
	"loudfor/optimizer/build"
	"loudfor/optimizer/drive"
)

// The level to beat, asked of the boxes. During a round it is frozen, and what a
// box asks of a driver to reach it (bass.Target) depends on the box, on how many
// of it there are, and on the room that a driver takes up inside; hardly on
// anything else of the driver. So it is worked out once for all drivers of one
// size, and a driver is held against it (bass.Prospect) before anything is put
// together: of the boxes that the horizon leaves, one in hundreds is left.
//
// Only for a reading, and when there is a whole ranking to be beaten; on a ladder it
// goes by tiers (ladder_aim.go).

// aims are the targets of a round.
type aims struct {
	level build.Level
	of    []bass.Aim // by the number of drivers; empty: nothing to beat yet
	all   []*targets
	alone []tiers // on a ladder: of groups without targets, by the number of drivers
}

// targets are those of the boxes of one hole size and number of holes, taken so
// many times with drivers of one displacement, in the order of the list of boxes.
type targets struct {
	key   targetKey
	list  []atomic.Pointer[bass.Target] // filled in when first asked for
	racks []*rack                       // of them all
	tiers tiers                         // on a ladder, instead
}

type targetKey struct {
	holes        *holed
	boxes        int
	displacement float64
}

// sharing is how many groups have to share targets to make them worth keeping:
// with fewer, each driver asks at only those frequencies that its horizon leaves.
const sharing = 4

func (t *task) aiming() bool { return !t.Music() && t.sharing >= 0 }

// share gives the groups their common targets.
func (s *search) share(groups []*group) {
	if s.task.ladder {
		s.aims.alone = make([]tiers, s.Brief.Drivers+1)
	}
	if !s.aiming() {
		return
	}
	groupsOf := make(map[targetKey]int)
	for _, g := range groups {
		if !g.Loaded() {
			groupsOf[g.key()]++
		}
	}
	made := make(map[targetKey]*targets)
	for _, g := range groups {
		if g.Loaded() || groupsOf[g.key()] < s.sharing {
			continue
		}
		t := made[g.key()]
		if t == nil {
			t = &targets{key: g.key(), list: make([]atomic.Pointer[bass.Target], len(g.housing)), racks: s.racks(len(g.housing))}
			made[t.key] = t
			s.aims.all = append(s.aims.all, t)
		}
		g.targets = t
	}
}

func (g *group) key() targetKey { return targetKey{g.list, g.Boxes, g.displacement} }

// takeAim freezes the level to beat.
func (s *search) takeAim() {
	if !s.aiming() || s.task.ladder {
		return
	}
	last := s.total.last()
	if last == nil || len(s.aims.of) > 0 && s.aims.level == last.level {
		return
	}
	s.aims.level = last.level
	s.aims.of = make([]bass.Aim, s.Brief.Drivers+1)
	for drivers := 1; drivers <= s.Brief.Drivers; drivers++ {
		s.aims.of[drivers].Take(lowest(last.level), drivers, s.Room)
	}
	for _, t := range s.aims.all {
		clear(t.list)
		t.racks = s.racks(len(t.list))
	}
}

// aim is that of a group; nil where there is none.
func (w *worker) aim(g *group) *bass.Aim {
	if len(w.aims.of) == 0 || g.Loaded() {
		return nil
	}
	return &w.aims.of[g.Drivers()]
}

// hopeless says that box i of the group at hand cannot reach the aim, with what
// the horizon was looked at with.
func (w *worker) hopeless(i int, aim *bass.Aim) bool {
	g := w.group
	t := w.target(g, i, aim)
	if t == nil {
		return false
	}
	w.face(g, aim)
	return w.prospect.Hopeless(t)
}

// face turns the prospect to where the horizon is.
func (w *worker) face(g *group, aim *bass.Aim) {
	if !w.facing {
		w.facing = true
		w.prospect.Look(&w.Drivers[g.Driver].Driver, &w.horizon, aim, w.sight.choice, w.through(w.sight.felt), w.task.Reading)
	}
}

// target is what box i of a group asks for; nil when it cannot be.
func (w *worker) target(g *group, i int, aim *bass.Aim) *bass.Target {
	if g.targets == nil {
		return w.asks(g, i, aim, nil, &w.horizon)
	}
	return w.asks(g, i, aim, g.targets.list, &w.horizon)
}

// asks is what box i of a group asks for to reach an aim, from those kept if any
// are, else at the frequencies that a horizon leaves.
func (w *worker) asks(g *group, i int, aim *bass.Aim, kept []atomic.Pointer[bass.Target], h *bass.Horizon) *bass.Target {
	box := g.housing[i]
	if len(kept) == 0 {
		w.near = h.Near(aim, box.Opening, w.near)
		if w.own.Set(drive.BoxOf(&g.Block, box), g.displacement, aim, w.near, w.task.Reading, w.task.Air) != nil {
			return nil
		}
		return &w.own
	}
	if t := kept[i].Load(); t != nil {
		return t
	}
	t := new(bass.Target)
	if t.Set(drive.BoxOf(&g.Block, box), g.displacement, aim, nil, w.task.Reading, w.task.Air) != nil {
		return nil
	}
	// Another worker may have been as quick, with the same.
	kept[i].Store(t)
	return t
}
