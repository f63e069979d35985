package optimizer

import (
	"math"
	"strings"

	"loudfor/catalog"
	"loudfor/model/front"
)

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
	if fresh && f.Usable < least*(1-wattsTolerance) {
		c.fault("the front uses %g W, not %g W", f.Usable, least)
	}
	if f.Power != FromNothing {
		c.frontLevel(fresh, least)
	}
}

// frontLevel plays the front once more from the card of its pair, and tries every
// setting of a built-in high-pass.
func (c *checker) frontLevel(fresh bool, least float64) {
	f, inside := &c.b.Front, c.p.Vehicle.Body.Cavity
	room := front.Room{Length: inside.Length, Width: inside.Width, Height: inside.Height}
	s := front.Stage{Load: stockLoad, Size: stockSize, Watts: f.Given, HighPass: f.HighPass, Order: 2}
	if f.Part != nil {
		p := f.Part.Front
		s = front.Stage{Sensitivity: p.Sensitivity, Load: p.Load, Power: p.Power, Watts: f.Given, HighPass: f.HighPass, Order: 2,
			Size: p.Size, Fs: p.Fs, Sd: p.Sd, Xmax: p.Xmax}
	}
	blocked := strings.HasPrefix(f.HighPassBy, "bass blocker")
	if blocked {
		s.Order = 1
	}
	level, usable, _ := s.Play(room)
	if !(math.Abs(level-f.DB) <= recheckTolerance) || !(math.Abs(usable-f.Usable) <= recheckTolerance*max(1, usable)) {
		c.fault("the front plays %.6f dB with %.6f W, not %.6f dB with %.6f W", level, usable, f.DB, f.Usable)
	}
	if f.HighPass == 0 || blocked {
		return
	}
	s.Order = 2
	for s.HighPass = 50; s.HighPass <= 250; s.HighPass += 10 {
		other, usable, _ := s.Play(room)
		if other > level+2e-3 && (!fresh || usable >= least) && s.HighPass > f.HighPass {
			c.fault("the front is louder with its high-pass at %g Hz than at %g Hz", s.HighPass, f.HighPass)
		}
	}
}
