package optimizer

import (
	"loudfor/model/parallel"
	"loudfor/optimizer/drive"
)

// A search that was stopped may hold a set of parts at less than it is worth:
// the way of putting it together that was met first, in a probe say, need not
// be the best. A search that came to its end has met them all. So after a stop
// each set is arranged once more before it is ranked, which can only raise it.
func (s *search) reconsider() {
	if s.finished {
		return
	}
	held := s.total.best
	s.total.best = nil
	parallel.Each(s.Workers(), len(held), func(i int) {
		c := &held[i]
		if g, box, err := s.blockOf(c.parts); err == nil {
			if a, ok, err := s.arrange(c.parts, g, box, s.wanted(c)); err == nil && ok {
				got, _ := s.merits(&a)
				c.level = max(c.level, got)
				drive.Release(a.prepared)
			}
		}
	})
	for _, c := range held {
		s.total.insert(c)
	}
}

// wanted narrows what a found set may be put together as. Ranked apart by the
// bass amplifier, a set of parts in which two could drive the bass is two
// builds.
func (t *task) wanted(c *candidate) (want demands) {
	if t.Problem.Distinct == DistinctBass {
		want.bass = c.bass[0]
	}
	return want
}
