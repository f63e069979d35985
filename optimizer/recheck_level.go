package optimizer

import (
	"math"

	"loudfor/catalog"
	"loudfor/model/air"
	"loudfor/model/bass"
	"loudfor/model/driver"
	"loudfor/model/enclosure"
	"loudfor/model/supply"
)

// The recheck of the level, from the cards on.

func (c *checker) level() {
	b, brief := &c.b.Bass, &c.p.Brief
	medium := air.At(brief.Celsius)
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
