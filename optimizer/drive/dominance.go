package drive

import (
	"math"

	"loudfor/model/amplifier"
	"loudfor/model/supply"
)

// How sources are compared that feed one kind of coil. That one is nowhere weaker
// than another (CoilSource.Covers) is more than is needed. For a coil at least as hard
// to drive as its cold resistance r, whatever box and car do:
//
//   - The source's voltage, |U + R i| with the coil's voltage U, is at least
//     (R + r)|i|, since the power into the coil, Re(U i*), is at least r|i|^2: heat
//     only adds to r, and the motion takes power, it gives none. So with the open
//     voltage E, and the best of supplies letting it have v E, no more than
//     v E/(R + r) ever flows. A current limit above that is as good as one at it.
//   - A source of R' > R would have to make |U + R' i| <= |U + R i| + (R' - R)|i|
//     <= |U + R i| (R' + r)/(R + r). So it can do whatever the other can if its
//     open voltage is (R' + r)/(R + r) times as high.
//   - What reaches the coils is at most what the source gives at the current above
//     less what stays in R. At that power a supply through a longer cable still lets a
//     source have some share of its voltage, and more at less power; with as much
//     voltage to spare, it can do whatever the other can through any cable.
//
// All that one of two sources allows the other allows too; so the level it is
// good for is not lower (proof in package bass, and a test).

// SourceDominance is what sources are measured by.
type SourceDominance struct {
	re    float64 // least cold resistance of a coil, ohm
	volts float64 // most that the supply gives, as a share of the rated voltage
	coils float64
	lines map[float64]*supply.Line // by resistance of the cable
}

// SpareVolts covers rounding.
const SpareVolts = 1 + 1e-9

// Dominance is what the sources at the coils of a class are compared by.
func (t *Gear) Dominance(c *CoilLoad) *SourceDominance {
	volts, _, _ := t.Feed.Terminal(0, 1)
	y := &SourceDominance{c.re, volts / amplifier.RatedSupply, float64(c.Drivers * c.Coils), make(map[float64]*supply.Line)}
	for _, kit := range t.Usable {
		r := t.Kits[kit].Resistance
		if y.lines[r] == nil {
			f := t.Feed
			f.CableResistance = r
			l := f.Line()
			y.lines[r] = &l
		}
	}
	return y
}

// Flow is the most current that a source can make, A.
func (y *SourceDominance) Flow(f *CoilSource) float64 {
	return min(f.Current, SpareVolts*y.volts*f.Voltage/(f.Resistance+y.re))
}

// Clip brings the current limit of a source down to what it can make.
func (y *SourceDominance) Clip(f CoilSource) CoilSource {
	f.Current = y.Flow(&f)
	return f
}

// Ratio is how many times as high the voltage behind one resistance has to be to
// do what one behind another does.
func (y *SourceDominance) Ratio(resistance, other float64) float64 {
	if resistance <= other {
		return 1
	}
	return SpareVolts * (resistance + y.re) / (other + y.re)
}

// Covers says that f, of whose voltage a share is there, can do what g can.
func (y *SourceDominance) Covers(f, g *CoilSource, share float64) bool {
	return f.Current >= g.Current && f.Efficiency >= g.Efficiency && f.Voltage*share >= g.Voltage*y.Ratio(f.Resistance, g.Resistance)
}

// Join can do what either of two can: from behind the lower resistance or the
// higher, whichever is weaker for the load of a usual coil.
func (y *SourceDominance) Join(f, g CoilSource) CoilSource {
	if f.Resistance > g.Resistance {
		f, g = g, f
	}
	low, high := max(f.Voltage, g.Voltage), max(g.Voltage, f.Voltage*y.Ratio(g.Resistance, f.Resistance))
	j := CoilSource{low, f.Resistance, max(f.Current, g.Current), max(f.Efficiency, g.Efficiency)}
	if usual := usualLoad * y.re; high/(g.Resistance+usual) < low/(f.Resistance+usual) {
		j.Voltage, j.Resistance = high, g.Resistance
	}
	return j
}

// usualLoad is a coil's impedance in its box over its cold resistance, about
// (common practice, no source); no bound stands on it.
const usualLoad = 2

// SupplyDrop is what supplies leave of their voltage for what a feed draws.
type SupplyDrop struct {
	y     *SourceDominance
	feed  *Feed
	watts float64
	cable float64 // asked last
	share float64
}

// Drop is that of a feed.
func (y *SourceDominance) Drop(o *Feed) SupplyDrop {
	flow, volts := y.Flow(&o.AtCoil), y.volts*o.AtCoil.Voltage
	if r := o.AtCoil.Resistance; r > 0 {
		flow = min(flow, volts/(2*r)) // where what it gives is the most
	}
	return SupplyDrop{y: y, feed: o, watts: y.coils * flow * (volts - o.AtCoil.Resistance*flow), cable: math.NaN()}
}

// SupplyShare is the share of its voltage that a source through a cable is sure to
// have beside the feed's, whatever the feed does.
func (s *SupplyDrop) SupplyShare(cable float64) float64 {
	switch {
	case cable <= s.feed.Cable:
		return 1
	case cable != s.cable:
		s.cable = cable
		volts, _, ok := s.y.lines[cable].Terminal(SpareVolts*s.watts, s.feed.AtCoil.Efficiency)
		if s.share = volts / amplifier.RatedSupply / (s.y.volts * SpareVolts); !ok {
			s.share = 0
		}
	}
	return s.share
}
