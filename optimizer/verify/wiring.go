package verify

import (
	"math"

	"loudfor/catalog"
	"loudfor/model/amplifier"
	"loudfor/model/supply"
	"loudfor/optimizer/build"
)

// The recheck of what feeds the drivers: coils, loads, channels, and the current
// through the kit.

func (c *checker) wiring() {
	b, plan := &c.b.Bass, &c.b.Plan
	spec := b.Amplifier.Amplifier.Spec
	if n := c.p.Brief.Amplifiers; n > 0 && b.Amplifiers > n || n <= 0 && b.Amplifiers > catalog.DefaultBrief().Amplifiers {
		c.fault("%d bass amplifiers are too many", b.Amplifiers)
	}
	if plan.Outputs*plan.Series*plan.Parallel*b.Amplifiers != b.Drivers*b.Driver.Coils {
		c.fault("the wiring leaves coils out")
	}
	load := b.Driver.CoilLoad * float64(plan.Series) / float64(plan.Parallel)
	lowest := math.Inf(1)
	for _, r := range spec.Ratings {
		if r.Mode == plan.Mode {
			lowest = min(lowest, r.Load)
		}
	}
	if load < lowest*(1-amplifier.LoadTolerance) {
		c.fault("a load of %g ohm is below the rated %g ohm", load, lowest)
	}
	channels := plan.Outputs * plan.Mode.Channels()
	if plan.Mode == amplifier.Mono && channels > spec.Channels%2 || channels > spec.Channels {
		c.fault("%d channels are more than there are", channels)
	}
	total := b.Amplifiers
	if c.b.Front.Power == build.FromOwn {
		total++
	}
	for _, p := range c.of(catalog.KindAmplifier) {
		total -= c.count[p.SKU]
	}
	if total != 0 {
		c.fault("amplifiers in the list and in use do not agree")
	}
	if c.b.Front.Power == build.FromBass && spec.Channels-spec.Channels%2-notMono(plan.Mode)*channels < 2 {
		c.fault("no channels are left over for the front")
	}
}

func notMono(m amplifier.Mode) int {
	if m == amplifier.Mono {
		return 0
	}
	return 1
}

func (c *checker) current() {
	amps := 0.0
	for _, p := range c.of(catalog.KindAmplifier) {
		amps += float64(c.count[p.SKU]) * RatedCurrent(p.Amplifier.Spec)
	}
	for _, p := range c.of(catalog.KindKit) {
		k := p.Kit
		if v := (supply.Kit{Area: k.Area, Length: k.Length, CopperClad: k.CopperClad, Fuse: k.Fuse}).Carries(amps, 0); !v.OK {
			c.fault("the kit does not carry %g A: %v", amps, v.Reasons)
		}
	}
}

// RatedCurrent is the current of an amplifier with all its channels at their ratings.
func RatedCurrent(s amplifier.Spec) float64 {
	mono, pairs := 0.0, 0.0
	for _, m := range s.Modes() {
		most := 0.0
		for _, r := range s.Ratings {
			if r.Mode == m {
				most = max(most, s.RatedWatts(m, r.Load))
			}
		}
		most *= float64(s.Outputs(m))
		if m == amplifier.Mono {
			mono = most
		} else {
			pairs = max(pairs, most)
		}
	}
	watts := mono + pairs
	if s.Fuse > 0 {
		watts = min(watts, s.Fuse*amplifier.RatedSupply*s.Efficiency())
	}
	return supply.Demand(watts, s.Efficiency())
}
