package drive

import (
	"cmp"
	"slices"

	"loudfor/model/amplifier"
	"loudfor/model/bass"
	"loudfor/model/hookup"
)

// What a coil feels of an amplifier behind a hookup.

// CoilSource is the source at one coil.
type CoilSource struct{ Voltage, Resistance, Current, Efficiency float64 }

func toCoil(source *amplifier.Source, plan *hookup.Plan) CoilSource {
	s, p := float64(plan.Series), float64(plan.Parallel)
	return CoilSource{source.OpenVoltage / s, source.Resistance * p / s, source.Current / p, source.Efficiency}
}

// Covers says that f is nowhere weaker than g.
func (f *CoilSource) Covers(g *CoilSource) bool {
	return f.Voltage >= g.Voltage && f.Resistance <= g.Resistance && f.Current >= g.Current && f.Efficiency >= g.Efficiency
}

// Join is the weakest that covers both.
func (f CoilSource) Join(g CoilSource) CoilSource {
	return CoilSource{max(f.Voltage, g.Voltage), min(f.Resistance, g.Resistance), max(f.Current, g.Current), max(f.Efficiency, g.Efficiency)}
}

// Drive is what gives every one of so many coils exactly this source.
func (f CoilSource) Drive(coils int) bass.Drive {
	return bass.Drive{Outputs: coils, Series: 1, Parallel: 1, Source: amplifier.Source{
		OpenVoltage: f.Voltage, Resistance: f.Resistance, Current: f.Current, Efficiency: f.Efficiency}}
}

// Under is the envelope of all pairs that cost no more than a sum with the
// cheapest kit and rest; ok is false when none does.
func (c *CoilLoad) Under(sum int64) (f CoilSource, ok bool) {
	return covering(c.Floors, c.Envelopes, sum)
}

// covering is the envelope that goes with the prices up to a sum.
func covering(prices []int64, envelopes []CoilSource, sum int64) (f CoilSource, ok bool) {
	i, _ := slices.BinarySearch(prices, sum+1)
	if i == 0 {
		return CoilSource{}, false
	}
	return envelopes[i-1], true
}

// CheapestOf is the least sum for which CoilLoad.Under has a voltage.
func (c *CoilLoad) CheapestOf(voltage float64) int64 {
	i, _ := slices.BinarySearchFunc(c.Envelopes, voltage, func(f CoilSource, v float64) int { return cmp.Compare(f.Voltage, v) })
	return c.Floors[i]
}

// Unloaded is what a source at a coil has when nothing is drawn: see bass.Drive.Idle.
func (t *Gear) Unloaded(f CoilSource) (open2, current2 float64) {
	d := f.Drive(1)
	d.Feed = t.Feed
	return d.Idle()
}

// AtCoilSpare is the envelope of the ways of a pair that leave channels over.
func (p *AmpChoice) AtCoilSpare() CoilSource {
	var f CoilSource
	known := false
	for i := range p.Wirings {
		switch w := &p.Wirings[i]; {
		case !w.Spare:
		case known:
			f = f.Join(w.AtCoil)
		default:
			f, known = w.AtCoil, true
		}
	}
	return f
}
