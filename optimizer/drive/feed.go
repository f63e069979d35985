package drive

import (
	"cmp"
	"slices"

	"loudfor/optimizer/pricing"
)

// On a ladder it counts how a pair is wired, and by which kit it is fed. No wiring
// gives a coil the pair's highest voltage and its most current at once, and a
// cable costs a strong amplifier a decibel or two, so that a good one is worth
// what elsewhere buys as much. A pair that is judged by the best of all its
// wirings, through the best cable, at the price of the cheapest kit, looks as if
// it belonged on every ladder. So what is searched there is feeds: one wiring
// of a pair, with one kit that carries it, at the price of both.
//
// Most feeds stand behind another one that costs no more with its rest and is
// nowhere weaker. What is asked of a feed is whether a block with it could be
// on the ladder: whether the level that the feed reaches is not below what is
// to be beaten for its price. If that is so of the one behind, it is so of the one
// in front, which reaches at least as much, and has no more to beat. So those
// behind are looked at when the one in front has passed, and only up to the price
// for which it would have.

// PricedWiring is one wiring of a pair.
type PricedWiring struct {
	Choice, wiring int32
	Price          int64 // with the cheapest rest, without a kit
}

// Feed is a wiring with a kit.
type Feed struct {
	Wired  int   // its place in front
	Floor  int64 // with the cheapest rest
	AtCoil CoilSource
	Kit    *pricing.Item
	Cable  float64 // ohm
	Behind []Feed  // those behind it, by price
}

// Feeds are those of a class.
type Feeds struct {
	Wired  []PricedWiring   // those behind no other wiring that the same kits carry
	Behind [][]PricedWiring // for each of them, by price
	All    []Feed           // of them, those behind no other, by price
}

// line keeps what is in front, the weakest first.
type line struct {
	at    []int
	volts []float64
}

// ahead is the weakest in a line that covers something with a voltage; -1 if none does.
func (l *line) ahead(voltage float64, covers func(k int) bool) int {
	from, _ := slices.BinarySearch(l.volts, voltage)
	for _, k := range l.at[from:] {
		if covers(k) {
			return k
		}
	}
	return -1
}

func (l *line) add(k int, voltage float64) {
	at, _ := slices.BinarySearch(l.volts, voltage)
	l.at, l.volts = slices.Insert(l.at, at, k), slices.Insert(l.volts, at, voltage)
}

// AtCoil is that of a wiring.
func (c *CoilLoad) AtCoil(w *PricedWiring) *CoilSource {
	return &c.Choices[w.Choice].Wirings[w.wiring].AtCoil
}

// BuildFeeds finds the feeds of a class. It returns what it compared them by.
func (t *Gear) BuildFeeds(c *CoilLoad) *SourceDominance {
	y, w := t.Dominance(c), &c.Feeds
	w.Wired, w.Behind = t.undominated(c, y)
	var all []Feed
	for i := range w.Wired {
		o := &w.Wired[i]
		source := y.Clip(*c.AtCoil(o))
		for _, kit := range c.Choices[o.Choice].KitTier.Kits {
			if floor := o.Price + kit.Lower(1); floor <= t.Limit {
				all = append(all, Feed{Wired: i, Floor: floor, AtCoil: source, Kit: kit, Cable: t.Kits[kit].Resistance})
			}
		}
	}
	slices.SortStableFunc(all, func(a, b Feed) int {
		return cmp.Or(cmp.Compare(a.Floor, b.Floor), cmp.Compare(b.AtCoil.Voltage, a.AtCoil.Voltage))
	})
	var l line
	for i := range all {
		if t.Ended() {
			break
		}
		o := &all[i]
		sags := y.Drop(o)
		k := l.ahead(o.AtCoil.Voltage, func(k int) bool {
			q := &w.All[k]
			return y.Covers(&q.AtCoil, &o.AtCoil, sags.SupplyShare(q.Cable))
		})
		if k < 0 {
			l.add(len(w.All), o.AtCoil.Voltage)
			w.All = append(w.All, *o)
		} else {
			w.All[k].Behind = append(w.All[k].Behind, *o)
		}
	}
	return y
}

// undominated finds the wirings of a class that are behind no other, and those behind.
func (t *Gear) undominated(c *CoilLoad, y *SourceDominance) (front []PricedWiring, behind [][]PricedWiring) {
	n := 0
	for i := range c.Choices {
		n += len(c.Choices[i].Wirings)
	}
	all := make([]PricedWiring, 0, n)
	for i := range c.Choices {
		p := &c.Choices[i]
		for k := range p.Wirings {
			all = append(all, PricedWiring{int32(i), int32(k), p.Kitless()})
		}
	}
	slices.SortStableFunc(all, func(a, b PricedWiring) int {
		return cmp.Or(cmp.Compare(a.Price, b.Price), cmp.Compare(c.AtCoil(&b).Voltage, c.AtCoil(&a).Voltage))
	})
	var l line
	var sources []CoilSource
	for i := range all {
		if t.Ended() {
			break
		}
		o := &all[i]
		f, capacity := y.Clip(*c.AtCoil(o)), c.Choices[o.Choice].KitTier.capacity
		k := l.ahead(f.Voltage, func(k int) bool {
			return c.Choices[front[k].Choice].KitTier.capacity <= capacity && y.Covers(&sources[k], &f, 1)
		})
		if k < 0 {
			l.add(len(front), f.Voltage)
			front, behind, sources = append(front, *o), append(behind, nil), append(sources, f)
		} else {
			behind[k] = append(behind[k], *o)
		}
	}
	return front, behind
}
