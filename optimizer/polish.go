package optimizer

import "loudfor/optimizer/pricing"

// For a reading the first look is not enough: a driver that is loud in one box in
// fifty is seldom looked at in that box. So the best block that was found is
// bettered step by step: all boxes for its driver, then all drivers for the best
// of these boxes, and again. With a ranking to beat nearly all of that is refused
// by a few comparisons. Like all of a first look it proves nothing.

// polishRounds is how often at most; two are usual.
const polishRounds = 4

// polish goes from the best block that is known to better ones beside it, where
// that has not been done.
func (s *search) polish(groups []*group) {
	if !s.aiming() || s.task.ladder {
		return
	}
	s.probing = true
	defer func() { s.probing = false }()
	w := s.scouting()
	for range polishRounds {
		if s.total.last() == nil || s.total.best[0].level == s.polished || s.Ended() {
			return
		}
		s.polished = s.total.best[0].level
		g, _, err := s.blockOf(s.total.best[0].parts)
		if err != nil || g.Loaded() {
			return
		}
		for _, o := range groups {
			if o.Driver == g.Driver && o.Boxes == g.Boxes && o.Holes == g.Holes {
				all := *o
				all.targets = nil
				s.peek(w, &all)
			}
		}
		g, box, err := s.blockOf(s.total.best[0].parts)
		if err != nil || g.Loaded() {
			return
		}
		for _, o := range groups {
			if o.Boxes == g.Boxes && o.Holes == g.Holes && o.list != nil && o.list.size == box.Part.Enclosure.Hole {
				one := *o
				one.targets, one.housing, one.costs = nil, []*pricing.Item{box}, []int64{box.Lower(g.Boxes)}
				s.peek(w, &one)
			}
		}
	}
}

// peek looks into a group and keeps what it finds.
func (s *search) peek(w *worker, g *group) {
	s.takeAim()
	s.takeSpans()
	var f find
	w.open(g, &f)
	s.keep(&f)
}
