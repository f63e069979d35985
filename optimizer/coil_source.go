package optimizer

import (
	"loudfor/model/amplifier"
	"loudfor/model/bass"
	"loudfor/model/hookup"
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
