package optimizer

import "loudfor/catalog"

// The recheck of the front: a signal reaches every amplifier, and the rule for new
// speakers holds.

func (c *checker) signal() {
	for _, p := range c.of(catalog.KindSource) {
		if p.Source.PreOuts > 0 {
			return
		}
		if p.Source.Channels < 2 {
			c.fault("the source has nothing to take a signal from")
		}
	}
	need := 0
	if !c.b.Bass.Amplifier.Amplifier.SpeakerInput {
		need = 1
	}
	if a := c.b.Front.Amplifier; a != nil && !a.Amplifier.SpeakerInput {
		need = 2
	}
	for _, p := range c.of(catalog.KindConverter) {
		need -= p.Converter.Channels
	}
	if need > 0 {
		c.fault("the signal does not reach every amplifier")
	}
}

func (c *checker) front() {
	f, brief := &c.b.Front, &c.p.Brief
	if f.Power == FromNothing || !(f.Given > 0) {
		c.fault("nothing drives the front")
	}
	fresh := f.Part != nil && c.owned(f.Part.SKU) == 0 || brief.Front == catalog.FrontReplace
	if fresh && brief.Front == catalog.FrontKeep {
		c.fault("the front speakers should have stayed")
	}
	if fresh && f.Part == nil {
		c.fault("new front speakers are missing")
	}
	least := brief.FrontWatts
	if least == 0 {
		least = defaultFrontWatts
	}
	if fresh && f.Usable < least*(1-wattsTolerance) {
		c.fault("the front uses %g W, not %g W", f.Usable, least)
	}
}
