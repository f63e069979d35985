package optimizer

import (
	"loudfor/model/bass"
)

// Bounds that need no amplifier.

// loudest is above every level.
const loudest = -silent

// groupCeiling bounds every block of a group before any of them is prepared.
func (t *task) groupCeiling(g *group) level { return loudest }

// ceiling bounds a block over all amplifiers.
func (t *task) ceiling(p *bass.Prepared) level {
	if t.music() {
		// A mean over bands is no higher than the loudest of them.
		return round(p.Ceiling(bass.Music()) - t.brief.BassLift + boundSlack)
	}
	return round(p.Ceiling(t.reading) + boundSlack)
}
