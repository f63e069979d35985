package optimizer

import (
	"cmp"
	"loudfor/model/amplifier"
	"loudfor/model/bass"
	"loudfor/model/hookup"
	"slices"
)

// What a coil feels of an amplifier behind a hookup.

// coilSource is the source at one coil.
type coilSource struct{ voltage, resistance, current, efficiency float64 }

func feel(source *amplifier.Source, plan *hookup.Plan) coilSource {
	s, p := float64(plan.Series), float64(plan.Parallel)
	return coilSource{source.OpenVoltage / s, source.Resistance * p / s, source.Current / p, source.Efficiency}
}

// covers says that f is nowhere weaker than g.
func (f *coilSource) covers(g *coilSource) bool {
	return f.voltage >= g.voltage && f.resistance <= g.resistance && f.current >= g.current && f.efficiency >= g.efficiency
}

// join is the weakest that covers both.
func (f coilSource) join(g coilSource) coilSource {
	return coilSource{max(f.voltage, g.voltage), min(f.resistance, g.resistance), max(f.current, g.current), max(f.efficiency, g.efficiency)}
}

// drive is what gives every one of so many coils exactly this source.
func (f coilSource) drive(coils int) bass.Drive {
	return bass.Drive{Outputs: coils, Series: 1, Parallel: 1, Source: amplifier.Source{
		OpenVoltage: f.voltage, Resistance: f.resistance, Current: f.current, Efficiency: f.efficiency}}
}

// under is the envelope of all pairs that cost no more than a sum with the
// cheapest kit and rest; ok is false when none does.
func (c *class) under(sum int64) (f coilSource, ok bool) {
	return covering(c.floors, c.envelopes, sum)
}

// covering is the envelope that goes with the prices up to a sum.
func covering(prices []int64, envelopes []coilSource, sum int64) (f coilSource, ok bool) {
	i, _ := slices.BinarySearch(prices, sum+1)
	if i == 0 {
		return coilSource{}, false
	}
	return envelopes[i-1], true
}

// cheapestOf is the least sum for which class.under has a voltage.
func (c *class) cheapestOf(voltage float64) int64 {
	i, _ := slices.BinarySearchFunc(c.envelopes, voltage, func(f coilSource, v float64) int { return cmp.Compare(f.voltage, v) })
	return c.floors[i]
}

// unloaded is what a source at a coil has when nothing is drawn: see bass.Drive.Idle.
func (t *gear) unloaded(f coilSource) (open2, current2 float64) {
	d := f.drive(1)
	d.Feed = t.Feed
	return d.Idle()
}

// feltSpare is the envelope of the ways of a pair that leave channels over.
func (p *pair) feltSpare() coilSource {
	var f coilSource
	known := false
	for i := range p.ways {
		switch w := &p.ways[i]; {
		case !w.spare:
		case known:
			f = f.join(w.felt)
		default:
			f, known = w.felt, true
		}
	}
	return f
}
