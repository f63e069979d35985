package bass

import (
	"math"

	"loudfor/model/air"
	"loudfor/model/amplifier"
)

// Many sources at once. The envelope of all (the highest voltage, the least
// resistance, the most current) bounds each, but it is like none of them: coils
// in parallel get the full voltage behind much of the resistance and a share of the
// current, in series the other way round, and a level takes all three. So the
// sources are sorted by current and resistance, with one envelope for each lot.
// What reaches a level at some frequency passes at least the current that the cone
// takes there, which is known before the source is; and of the sources that pass
// so much each lot is asked by itself.
//
// The steps of current and resistance are a matter of speed only: rounded down,
// they take in more sources than need be.

// Choice is the sources that one coil could be fed from.
type Choice struct {
	base int       // the step of lots[0]
	lots [][]offer // by the step of the current, each rising with resistance
}

// offer is an envelope of sources for one coil, peak values.
type offer struct{ open2, resistance, efficiency float64 }

func (o *offer) covers(p *offer) bool {
	return o.open2 >= p.open2 && o.resistance <= p.resistance && o.efficiency >= p.efficiency
}

// currentStep is the step of a squared current: its exponent and two more bits,
// 6 to 12 % of the current apart.
func currentStep(current2 float64) int { return int(math.Float64bits(current2) >> 50) }

// resistanceStep is the like, with all that is below leastResistance in one.
func resistanceStep(r float64) int { return int(math.Float64bits(max(r, leastResistance)) >> 50) }

// leastResistance, ohm, is no more than a millimetre of copper.
const leastResistance = 1.0 / 64

// Add adds a source of one coil.
func (c *Choice) Add(s amplifier.Source) {
	open, current := max(0, s.OpenVoltage), max(0, s.Current)
	at := currentStep(2 * current * current)
	switch {
	case len(c.lots) == 0:
		c.base = at
	case at < c.base:
		c.lots, c.base = append(make([][]offer, c.base-at, c.base-at+len(c.lots)), c.lots...), at
	}
	for len(c.lots) <= at-c.base {
		c.lots = append(c.lots, nil)
	}
	lot := &c.lots[at-c.base]
	*lot = sortIn(*lot, offer{2 * open * open, max(0, s.Resistance), s.Efficiency})
}

// sortIn adds an offer to a lot, joined with those of its step of resistance.
func sortIn(lot []offer, o offer) []offer {
	step := resistanceStep(o.resistance)
	i := 0
	for ; i < len(lot); i++ {
		p := &lot[i]
		if p.covers(&o) {
			return lot
		}
		at := resistanceStep(p.resistance)
		if at == step {
			p.open2, p.resistance, p.efficiency = max(p.open2, o.open2), min(p.resistance, o.resistance), max(p.efficiency, o.efficiency)
			return lot
		}
		if at > step {
			break
		}
	}
	lot = append(lot, offer{})
	copy(lot[i+1:], lot[i:])
	lot[i] = o
	return lot
}

// Closed is the choice among the sources that were added so far, ready to be asked:
// a lot then holds all that pass its current or more.
func (c *Choice) Closed() *Choice {
	to := &Choice{base: c.base, lots: make([][]offer, len(c.lots))}
	var all, memory []offer
	for i := len(c.lots) - 1; i >= 0; i-- {
		if len(c.lots[i]) == 0 && i+1 < len(to.lots) {
			to.lots[i] = to.lots[i+1]
			continue
		}
		for _, o := range c.lots[i] {
			all = sortIn(all, o)
		}
		from := len(memory)
		for k := range all {
			// Of two, the one with more resistance and no more voltage is of no use.
			if n := len(memory); n == from || !memory[n-1].covers(&all[k]) {
				memory = append(memory, all[k])
			}
		}
		to.lots[i] = memory[from:len(memory):len(memory)]
	}
	return to
}

// passing is the lot of those that pass a squared current; empty: none does.
func (c *Choice) passing(current2 float64) []offer {
	if !(current2 > 0) { // or is no number
		current2 = 0
	}
	i := max(0, currentStep(current2*(2-rounding))-c.base)
	if i >= len(c.lots) {
		return nil
	}
	return c.lots[i]
}

// offered are the bounds of those sources of an offer that others cover.
func (b *bounds) offered(o *offer) (to bounds) {
	to = *b
	to.resistance, to.open2, to.efficiency = max(b.resistance, o.resistance), min(b.open2, o.open2), min(b.efficiency, o.efficiency)
	to.known[0] = to.ask(0)
	to.known[1] = to.known[0]
	to.ease = to.known[0].ease()
	to.unloaded2 = to.known[0].open2 * rounding
	return to
}

// AnyExceeds is false where Exceeds is for each source of a choice that is covered
// by that of d. Every coil is fed as by d.
//
// A cone that gets as far as the level takes has been allowed every point of the
// lattice before that (search.go), and the current there. Where the last cell
// rises (rising.go), so has it the current at all of the cell's travels before the
// one that it gets to.
func (p *Prepared) AnyExceeds(level float64, c *Choice, d Drive, l Limits) bool {
	var b bounds
	p.bind(d, l, &b)
	pressure := air.Pressure(level)
	r := rival{sound: pressure * pressure, root: pressure}
	first := int(p.best.Load())
	for n := -1; n < len(p.points); n++ {
		j := n
		switch n {
		case -1:
			j = first
		case first:
			continue
		}
		if !p.hopeless(j, &b, r.sound) && p.anyExceeds(j, &b, c, r) {
			p.best.Store(int32(j))
			return true
		}
	}
	return false
}

func (p *Prepared) anyExceeds(j int, b *bounds, c *Choice, r rival) bool {
	n, ok := p.below(j, b, r)
	if !ok {
		return false
	}
	current2 := p.taken(j, n, r)
	for _, o := range c.passing(current2) {
		some := b.offered(&o)
		if p.exceeds(j, &some, r) {
			return true
		}
	}
	return false
}

// taken is the squared current that is allowed whatever reaches a rival at point j;
// n is about the point of the lattice below.
func (p *Prepared) taken(j, n int, r rival) float64 {
	var lower, upper, m move
	for ; n > 0; n-- {
		if p.rung(j, octaves-1+n, &lower); lower.sound < r.sound {
			break
		}
	}
	if n == 0 {
		return 0
	}
	rung := octaves - 1 + n
	if rung+1 < rungs && p.rises(j, rung) {
		p.rung(j, rung+1, &upper)
		low, high := math.Sqrt(lower.sound), math.Sqrt(upper.sound)
		if x := math.Floor(parts*(r.root-low)/(high-low) - bent); x > 0 && x < parts {
			var c cell
			p.cell(j, rung, &lower, &upper, &c)
			if c.travel(x, &m); m.sound < r.sound {
				return m.ir*m.ir + m.ii*m.ii
			}
		}
	}
	return lower.ir*lower.ir + lower.ii*lower.ii
}
