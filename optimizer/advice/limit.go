package advice

import (
	"math"

	"loudfor/catalog"
	"loudfor/model/bass"
	"loudfor/model/enclosure"
	"loudfor/model/supply"
	"loudfor/optimizer"
)

// What holds the best build back. At its peak one limit binds; each other one
// has something left. Both are measured in the only unit that a customer hears,
// decibels of level: what a limit has left is the level at which it would bind
// by itself, all others lifted, less the level now.
//
// Lifting a limit means: an amplifier of any voltage or any current; a supply
// that holds its voltage; a coil that stays cold; a port of any speed. Travel
// cannot be lifted altogether, since the model's laws of suspension and motor
// end at bass.MostOverdrive times the rated travel; up to there it is, and what
// would go on beyond is marked.

// Limits is what binds and what is left.
type Limits struct {
	Hz      float64
	Binding bass.Limit
	Margins []Margin // of the others, in the order of bass.Limit
	// Lifted is the peak without the binding limit, over all frequencies: its
	// Limit is what binds next, and Gain how much louder it is, dB.
	Lifted bass.Operation
	Gain   float64
	// LiftedBand and GainBand are half the widths of their bands, dB.
	LiftedBand, GainBand float64

	// Lifts is what the goal would gain by lifting each limit alone, dB: the
	// reading, or the level of the bass in music. Those that give nothing are
	// left out.
	Lifts []Lift

	// Of music: the levels of the two sides, of which the lower one is heard.
	Bass, Front float64 // dB; Bass with the lift of the brief taken off
}

// Margin is what a limit has left.
type Margin struct {
	Limit bass.Limit
	DB    float64
	// More says that it is more than that: the travel ends the model first.
	More bool
}

// Lift is what one limit costs the goal.
type Lift struct {
	Limit    bass.Limit
	DB, Band float64
}

// leastLift is what counts as a gain, dB: less is rounding.
const leastLift = 0.001

// limits asks the model about a build.
func (d *Desk) limits(b *optimizer.Build) (Limits, error) {
	p, drive, reading, err := d.series.Chain(d.p, b)
	if err != nil {
		return Limits{}, err
	}
	l := Limits{Hz: b.Reading.Hz, Binding: b.Operation.Limit, Bass: b.Music.Bass - d.p.Brief.BassLift, Front: b.Front.DB}
	at := 0
	for i, hz := range p.Hz() {
		if math.Abs(hz-b.Reading.Hz) < math.Abs(p.Hz()[at]-b.Reading.Hz) {
			at = i
		}
	}
	port := b.Bass.Box.Kind != enclosure.Sealed
	for limit := bass.LimitVoltage; limit < bass.LimitNone; limit++ {
		if limit == l.Binding || limit == bass.LimitPort && !port {
			continue
		}
		alone, only := lift(drive, reading, limit, false)
		o := p.At(at, alone, only)
		l.Margins = append(l.Margins, Margin{Limit: limit, DB: max(0, o.Level-b.Reading.DB), More: limit != bass.LimitTravel && o.Limit != limit})
	}
	l.Lifted = p.Loudest(lift(drive, reading, l.Binding, true))
	l.Gain = max(0, l.Lifted.Level-b.Reading.DB)
	goal := func(p *bass.Prepared, drive bass.Drive, limits bass.Limits) float64 {
		return p.Loudest(drive, limits).Level
	}
	limits := reading
	if d.p.Brief.Goal == catalog.GoalMusic {
		goal, limits = (*bass.Prepared).Bands, bass.Music()
	}
	now := goal(p, drive, limits)
	for limit := bass.LimitVoltage; limit < bass.LimitNone; limit++ {
		lifted, without := lift(drive, limits, limit, true)
		if gain := goal(p, lifted, without) - now; gain >= leastLift {
			l.Lifts = append(l.Lifts, Lift{Limit: limit, DB: gain})
		}
	}
	bands, err := d.series.Spread(d.p, b, func(p *bass.Prepared, drive bass.Drive) []float64 {
		lifted := p.Loudest(lift(drive, reading, l.Binding, true)).Level
		all := []float64{lifted, lifted - p.Loudest(drive, reading).Level}
		now := goal(p, drive, limits)
		for _, x := range l.Lifts {
			drive, without := lift(drive, limits, x.Limit, true)
			all = append(all, goal(p, drive, without)-now)
		}
		return all
	})
	if err == nil && len(bands) > 0 {
		l.LiftedBand, l.GainBand = bands[0], bands[1]
		for i := range l.Lifts {
			l.Lifts[i].Band = bands[2+i]
		}
	}
	return l, err
}

// endless stands in for any voltage, in units of the open voltage there is: 120
// dB more.
const endless = 1e6

// lift takes one limit away, or with only all but that one.
func lift(drive bass.Drive, l bass.Limits, which bass.Limit, one bool) (bass.Drive, bass.Limits) {
	lifted := func(limit bass.Limit) bool { return (limit == which) == one }
	if lifted(bass.LimitTravel) {
		l.Overdrive = bass.MostOverdrive
	}
	if lifted(bass.LimitHeat) {
		l.CoilRise = math.Inf(1)
		l.Burst = min(l.Burst, coldBurst)
	}
	if lifted(bass.LimitPort) {
		l.PortSpeed = math.Inf(1)
	}
	if lifted(bass.LimitVoltage) {
		drive.Source.OpenVoltage *= endless
	}
	if lifted(bass.LimitCurrent) {
		drive.Source.Current = math.Inf(1)
	}
	if lifted(bass.LimitSupply) {
		drive.Feed = supply.Stiff()
	}
	return drive, l
}

// coldBurst, s: so short that a coil stays cold. One that never burnt would still
// lose power as it heats.
const coldBurst = 1e-3
