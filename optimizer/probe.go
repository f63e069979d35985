package optimizer

import (
	"loudfor/optimizer/build"
)

// With something to beat, the search leaves out most of what it would have to
// compute without. So a first look goes through a few blocks of groups from all
// over the list, one after the other, each with all that was found before. It
// proves nothing and books nothing: what it finds are builds like any others, and
// the search meets its blocks again. It asks for the cheapest front stages only.
//
// In a ranking for music that first look aims high, at the loudest that the front
// stages allow, and lower only if that is too much for all it has seen. Where
// many builds are as loud as that, the price decides, and a build that costs
// little is worth more at the start than the strongest driver.

const (
	// probeGroups and probeBoxes are how much is looked at.
	probeGroups, probeBoxes = 256, 6
	// probeStep is by how much the aim is lowered, dB.
	probeStep = 3.0
	// probeSteps is how often at most.
	probeSteps = 12
	// probeVain is how many pairs may be computed for nothing.
	probeVain = 64
)

// probe looks for a first ranking or ladder.
func (s *search) probe(groups []*group) {
	if len(groups) == 0 || s.aiming() && !s.task.ladder && len(groups) <= probeGroups {
		return // or it would look at all there is
	}
	s.probing = true
	defer func() { s.probing = false }()
	w := s.scouting()
	w.aimed = build.Silent
	if s.task.ladder || !s.Music() {
		s.probeAll(w, groups)
		return
	}
	for n := range probeSteps {
		w.aimed = min(s.most, groups[0].ceiling) - build.Level(n)*build.Round(probeStep)
		s.probeAll(w, groups)
		if s.total.last() != nil || s.Ended() {
			return
		}
	}
}

// scouting is the worker of all first looks.
func (s *search) scouting() *worker {
	if s.scout == nil {
		s.scout = &worker{search: s}
	}
	return s.scout
}

// probeAll goes once through some of the groups.
func (s *search) probeAll(w *worker, groups []*group) {
	stride := max(1, len(groups)/probeGroups)
	w.vain = 0
	for i := 0; i < len(groups) && !s.Ended(); i += stride {
		if groups[i].ceiling < w.aimed || w.vain > probeVain {
			return // nor does any that comes later reach it; or what is loud enough lacks something else
		}
		s.peek(w, groups[i].some())
	}
}

// some is the group with a few of its boxes, from the cheapest to the dearest.
func (g *group) some() *group {
	few := *g
	few.housing, few.costs = nil, nil
	stride := max(1, (len(g.housing)+probeBoxes-1)/probeBoxes)
	for i := 0; i < len(g.housing); i += stride {
		few.housing = append(few.housing, g.housing[i])
		few.costs = append(few.costs, g.costs[i])
	}
	few.targets = nil
	return &few
}
