package optimizer

import (
	"math"

	"loudfor/model/amplifier"
	"loudfor/model/supply"
)

// How sources are compared that feed one kind of coil. That one is nowhere weaker
// than another (coilSource.covers) is more than is needed. For a coil at least as hard
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

// yardstick is what sources are measured by.
type yardstick struct {
	re    float64 // least cold resistance of a coil, ohm
	volts float64 // most that the supply gives, as a share of the rated voltage
	coils float64
	lines map[float64]*supply.Line // by resistance of the cable
}

// spareVolts covers rounding.
const spareVolts = 1 + 1e-9

func (t *gear) yardstick(c *class) *yardstick {
	volts, _, _ := t.Feed.Terminal(0, 1)
	y := &yardstick{c.re, volts / amplifier.RatedSupply, float64(c.drivers * c.coils), make(map[float64]*supply.Line)}
	for _, kit := range t.usable {
		r := t.kits[kit].resistance
		if y.lines[r] == nil {
			f := t.Feed
			f.CableResistance = r
			l := f.Line()
			y.lines[r] = &l
		}
	}
	return y
}

// flow is the most current that a source can make, A.
func (y *yardstick) flow(f *coilSource) float64 {
	return min(f.current, spareVolts*y.volts*f.voltage/(f.resistance+y.re))
}

// clip brings the current limit of a source down to what it can make.
func (y *yardstick) clip(f coilSource) coilSource {
	f.current = y.flow(&f)
	return f
}

// ratio is how many times as high the voltage behind one resistance has to be to
// do what one behind another does.
func (y *yardstick) ratio(resistance, other float64) float64 {
	if resistance <= other {
		return 1
	}
	return spareVolts * (resistance + y.re) / (other + y.re)
}

// covers says that f, of whose voltage a share is there, can do what g can.
func (y *yardstick) covers(f, g *coilSource, share float64) bool {
	return f.current >= g.current && f.efficiency >= g.efficiency && f.voltage*share >= g.voltage*y.ratio(f.resistance, g.resistance)
}

// join can do what either of two can: from behind the lower resistance or the
// higher, whichever is weaker for the load of a usual coil.
func (y *yardstick) join(f, g coilSource) coilSource {
	if f.resistance > g.resistance {
		f, g = g, f
	}
	low, high := max(f.voltage, g.voltage), max(g.voltage, f.voltage*y.ratio(g.resistance, f.resistance))
	j := coilSource{low, f.resistance, max(f.current, g.current), max(f.efficiency, g.efficiency)}
	if usual := usualLoad * y.re; high/(g.resistance+usual) < low/(f.resistance+usual) {
		j.voltage, j.resistance = high, g.resistance
	}
	return j
}

// usualLoad is a coil's impedance in its box over its cold resistance, about
// (common practice, no source); no bound stands on it.
const usualLoad = 2

// sags is what supplies leave of their voltage for what an outfit draws.
type sags struct {
	y      *yardstick
	outfit *outfit
	watts  float64
	cable  float64 // asked last
	share  float64
}

func (y *yardstick) sags(o *outfit) sags {
	flow, volts := y.flow(&o.felt), y.volts*o.felt.voltage
	if r := o.felt.resistance; r > 0 {
		flow = min(flow, volts/(2*r)) // where what it gives is the most
	}
	return sags{y: y, outfit: o, watts: y.coils * flow * (volts - o.felt.resistance*flow), cable: math.NaN()}
}

// through is the share of its voltage that a source through a cable is sure to
// have beside the outfit's, whatever the outfit does.
func (s *sags) through(cable float64) float64 {
	switch {
	case cable <= s.outfit.cable:
		return 1
	case cable != s.cable:
		s.cable = cable
		volts, _, ok := s.y.lines[cable].Terminal(spareVolts*s.watts, s.outfit.felt.efficiency)
		if s.share = volts / amplifier.RatedSupply / (s.y.volts * spareVolts); !ok {
			s.share = 0
		}
	}
	return s.share
}
