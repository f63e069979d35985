package optimizer

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"

	"loudfor/catalog"
	"loudfor/model/air"
	"loudfor/model/amplifier"
	"loudfor/model/bass"
	"loudfor/model/cabin"
	"loudfor/model/driver"
	"loudfor/model/enclosure"
	"loudfor/model/supply"
)

// A finished build is held against the brief once more, from the catalogue's
// own figures and by the shortest way that can be read: no shelf, no lists, no
// bounds. Only the cabin's response is taken over. What fails here is a fault
// of the program, not of the user's files.

// recheckTolerance, dB: the same formulas in another order.
const recheckTolerance = 1e-6

// recheck lists everything about a build that does not hold.
func recheck(p Problem, b *Build, room *cabin.Response) error {
	c := checker{p: p, b: b, room: room, count: make(map[string]int)}
	for _, l := range b.Lines {
		c.count[l.Part.SKU] += l.Count
		c.lines = append(c.lines, l)
	}
	c.shelf()
	c.money()
	c.block()
	c.wiring()
	c.current()
	c.signal()
	c.front()
	c.level()
	return errors.Join(c.faults...)
}

type checker struct {
	p      Problem
	b      *Build
	room   *cabin.Response
	count  map[string]int
	lines  []Line
	faults []error
}

func (c *checker) fault(format string, values ...any) {
	c.faults = append(c.faults, fmt.Errorf(format, values...))
}

// of lists the parts of a kind.
func (c *checker) of(kind catalog.Kind) (parts []*catalog.Part) {
	for _, l := range c.lines {
		if l.Part.Kind == kind {
			parts = append(parts, l.Part)
		}
	}
	return parts
}

func (c *checker) owned(sku string) (n int) {
	for _, m := range c.p.Brief.Owned {
		if m.SKU == sku {
			n += max(m.Count, 1)
		}
	}
	return n
}

func (c *checker) shelf() {
	brief := &c.p.Brief
	for _, l := range c.lines {
		p := l.Part
		if !slices.Contains(c.p.Catalogue.Parts, p) {
			c.fault("%s is not in the catalogue", p.SKU)
		}
		buy := max(0, l.Count-c.owned(p.SKU))
		if buy > 0 && !p.Priced {
			c.fault("%s has no price", p.SKU)
		}
		if buy > 0 && (p.Stock >= 0 && buy > p.Stock || p.Limit >= 0 && buy > p.Limit) {
			c.fault("%d x %s cannot be bought", buy, p.SKU)
		}
		if buy > 0 && len(brief.Stores) > 0 && !slices.ContainsFunc(brief.Stores, func(s string) bool { return strings.EqualFold(s, p.Store) }) {
			c.fault("%s is in another store", p.SKU)
		}
		if slices.ContainsFunc(brief.Never, func(m catalog.Mention) bool { return m.SKU == p.SKU }) {
			c.fault("%s must not be used", p.SKU)
		}
	}
	for _, m := range brief.Must {
		if c.count[m.SKU] < max(m.Count, 1) {
			c.fault("%s must be used", m.SKU)
		}
	}
	for _, kind := range []catalog.Kind{catalog.KindSource, catalog.KindKit} {
		if n := len(c.of(kind)); n != 1 {
			c.fault("%d parts of kind %d instead of one", n, int(kind))
		}
	}
}

func (c *checker) block() {
	b := &c.b.Bass
	outside := catalog.Size3{}
	if b.Enclosure == nil {
		outside = b.Part.Loaded.Outside
		if c.count[b.Part.SKU] != b.Boxes || b.Drivers != b.Boxes*max(1, b.Part.Loaded.Box.Drivers) {
			c.fault("counts of loaded enclosures do not agree")
		}
	} else {
		s, e := b.Part.Subwoofer, b.Enclosure.Enclosure
		outside = e.Outside
		if c.count[b.Part.SKU] != b.Drivers || c.count[b.Enclosure.SKU] != b.Boxes || b.Drivers != b.Boxes*max(1, e.Box.Drivers) {
			c.fault("counts of drivers and boxes do not agree")
		}
		if math.Abs(s.Card.Size-e.Hole) > sizeTolerance {
			c.fault("the driver is not of the hole's size")
		}
		if s.Cutout > 0 && e.Cutout > 0 && s.Cutout-e.Cutout > cutTolerance || s.Depth > 0 && e.Depth > 0 && s.Depth-e.Depth > cutTolerance {
			c.fault("the driver does not go into the hole")
		}
	}
	if n := c.p.Brief.Drivers; n > 0 && b.Drivers > n || n <= 0 && b.Drivers > defaultDrivers {
		c.fault("%d drivers are too many", b.Drivers)
	}
	if n := c.p.Brief.Boxes; n > 0 && b.Boxes > n || n <= 0 && b.Boxes > defaultBoxes {
		c.fault("%d boxes are too many", b.Boxes)
	}
	space := c.p.Brief.Space
	if space == (catalog.Size3{}) {
		space = c.p.Vehicle.Space
	}
	if space != (catalog.Size3{}) && outside != (catalog.Size3{}) && !inARow(outside, space, b.Boxes) {
		c.fault("the boxes do not fit the space")
	}
	if boot := c.p.Vehicle.Boot; boot != ([2]float64{}) && outside != (catalog.Size3{}) && !slidesIn(outside, boot) {
		c.fault("a box does not go through the opening of the boot")
	}
}

// slidesIn compares the two shorter edges with the opening's, the shorter with
// the shorter.
func slidesIn(box catalog.Size3, opening [2]float64) bool {
	b := []float64{box.Width, box.Depth, box.Height}
	slices.Sort(b)
	return b[0] <= min(opening[0], opening[1])+roomTolerance && b[1] <= max(opening[0], opening[1])+roomTolerance
}

// inARow stretches the box along each of its own edges and compares sorted
// edges, which is the same as trying all positions.
func inARow(box, space catalog.Size3, n int) bool {
	s := []float64{space.Width, space.Depth, space.Height}
	slices.Sort(s)
	for edge := range 3 {
		b := []float64{box.Width, box.Depth, box.Height}
		b[edge] *= float64(n)
		slices.Sort(b)
		if b[0] <= s[0]+roomTolerance && b[1] <= s[1]+roomTolerance && b[2] <= s[2]+roomTolerance {
			return true
		}
	}
	return false
}

func (c *checker) wiring() {
	b, plan := &c.b.Bass, &c.b.Plan
	spec := b.Amplifier.Amplifier.Spec
	if n := c.p.Brief.Amplifiers; n > 0 && b.Amplifiers > n || n <= 0 && b.Amplifiers > defaultAmplifiers {
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
	if c.b.Front.Power == FromOwn {
		total++
	}
	for _, p := range c.of(catalog.KindAmplifier) {
		total -= c.count[p.SKU]
	}
	if total != 0 {
		c.fault("amplifiers in the list and in use do not agree")
	}
	if c.b.Front.Power == FromBass && spec.Channels-spec.Channels%2-notMono(plan.Mode)*channels < 2 {
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
		amps += float64(c.count[p.SKU]) * rated(p.Amplifier.Spec)
	}
	for _, p := range c.of(catalog.KindKit) {
		k := p.Kit
		if v := (supply.Kit{Area: k.Area, Length: k.Length, CopperClad: k.CopperClad, Fuse: k.Fuse}).Carries(amps, 0); !v.OK {
			c.fault("the kit does not carry %g A: %v", amps, v.Reasons)
		}
	}
}

// rated is the current of an amplifier with all its channels at their ratings.
func rated(s amplifier.Spec) float64 {
	mono, pairs := 0.0, 0.0
	for _, m := range s.Modes() {
		src, lowest, _, ok := s.Source(m)
		if !ok {
			continue
		}
		most := 0.0
		for _, load := range []float64{lowest, src.Resistance} {
			if load >= lowest {
				most = max(most, src.Power(load))
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

func (c *checker) level() {
	b, brief := &c.b.Bass, &c.p.Brief
	celsius := brief.Celsius
	if celsius == 0 {
		celsius = defaultCelsius
	}
	medium := air.At(celsius)
	card, box, displacement := driver.Card{}, enclosure.Box{}, 0.0
	if b.Enclosure == nil {
		card, box = b.Part.Loaded.Card, b.Part.Loaded.Box
	} else {
		card, box, displacement = b.Part.Subwoofer.Card, b.Enclosure.Enclosure.Box, b.Part.Subwoofer.Displacement
	}
	box.Drivers = max(box.Drivers, 1)
	d, _, err := driver.Complete(card, medium)
	if err != nil {
		c.fault("%w", err)
		return
	}
	p, err := prepare(bass.Setup{Driver: d, Box: box, Boxes: b.Boxes, Displacement: displacement, Air: medium}, c.room)
	if err != nil {
		c.fault("%w", err)
		return
	}
	defer done(p)
	src, _, _, ok := b.Amplifier.Amplifier.Spec.Source(c.b.Plan.Mode)
	if !ok {
		c.fault("%s is not rated in mode %s", b.Amplifier.SKU, c.b.Plan.Mode)
	}
	drive := bass.Drive{Outputs: b.Amplifiers * c.b.Plan.Outputs, Series: c.b.Plan.Series, Parallel: c.b.Plan.Parallel, Source: src, Feed: c.feed()}
	limits := bass.Reading()
	if brief.Overdrive > 0 {
		limits.Overdrive = brief.Overdrive
	}
	if brief.Burst > 0 {
		limits.Burst = brief.Burst
	}
	same := func(what string, got, want float64) {
		if !(math.Abs(got-want) <= recheckTolerance) {
			c.fault("%s is %.6f dB, not %.6f dB", what, got, want)
		}
	}
	same("the reading", p.Loudest(drive, limits).Level, c.b.Reading.DB)
	m := bass.MusicLevel(p, drive)
	same("the bass with music", m, c.b.Music.Bass)
	same("the music level", min(m-brief.BassLift, c.b.Front.DB), c.b.Music.DB)
}

func (c *checker) feed() supply.Feed {
	v, brief := &c.p.Vehicle, &c.p.Brief
	rating := brief.Alternator
	if !(rating > 0) {
		rating = v.Alternator
	}
	f := supply.Feed{Volts: supply.RunningVolts, BatteryVolts: supply.RestedVolts, BatteryResistance: supply.TypicalBatteryResistance, Reserve: supply.Reserve(rating, v.Standby)}
	for _, p := range c.of(catalog.KindKit) {
		run := v.CableRun
		if !(run > 0) {
			run = p.Kit.Length
		}
		f.CableResistance = supply.Resistance(p.Kit.Area, run, p.Kit.CopperClad)
	}
	return f
}
