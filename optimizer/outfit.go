package optimizer

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
// it belonged on every ladder. So what is searched there is outfits: one wiring
// of a pair, with one kit that carries it, at the price of both.
//
// Most outfits stand behind another one that costs no more with its rest and is
// nowhere weaker. What is asked of an outfit is whether a block with it could be
// on the ladder: whether the level that the outfit reaches is not below what is
// to be beaten for its price. If that is so of the one behind, it is so of the one
// in front, which reaches at least as much, and has no more to beat. So those
// behind are looked at when the one in front has passed, and only up to the price
// for which it would have.

// wiring is one wiring of a pair.
type wiring struct {
	pair, way int32
	price     int64 // with the cheapest rest, without a kit
}

// outfit is a wiring with a kit.
type outfit struct {
	wired  int   // its place in front
	floor  int64 // with the cheapest rest
	felt   coilSource
	kit    *pricing.Item
	cable  float64  // ohm
	behind []outfit // those behind it, by price
}

// wardrobe is the outfits of a class.
type wardrobe struct {
	wired   []wiring   // those behind no other wiring that the same kits carry
	behind  [][]wiring // for each of them, by price
	outfits []outfit   // of them, those behind no other, by price
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

// felt is that of a wiring.
func (c *class) felt(w *wiring) *coilSource { return &c.pairs[w.pair].ways[w.way].felt }

// dress fills a class's wardrobe. It returns what it measured by.
func (t *gear) dress(c *class) *yardstick {
	y, w := t.yardstick(c), &c.wardrobe
	w.wired, w.behind = t.foremost(c, y)
	var all []outfit
	for i := range w.wired {
		o := &w.wired[i]
		felt := y.clip(*c.felt(o))
		for _, kit := range c.pairs[o.pair].kitTier.kits {
			if floor := o.price + kit.Lower(1); floor <= t.Limit {
				all = append(all, outfit{wired: i, floor: floor, felt: felt, kit: kit, cable: t.kits[kit].resistance})
			}
		}
	}
	slices.SortStableFunc(all, func(a, b outfit) int {
		return cmp.Or(cmp.Compare(a.floor, b.floor), cmp.Compare(b.felt.voltage, a.felt.voltage))
	})
	var l line
	for i := range all {
		if t.Ended() {
			break
		}
		o := &all[i]
		sags := y.sags(o)
		k := l.ahead(o.felt.voltage, func(k int) bool {
			q := &w.outfits[k]
			return y.covers(&q.felt, &o.felt, sags.through(q.cable))
		})
		if k < 0 {
			l.add(len(w.outfits), o.felt.voltage)
			w.outfits = append(w.outfits, *o)
		} else {
			w.outfits[k].behind = append(w.outfits[k].behind, *o)
		}
	}
	return y
}

// foremost finds the wirings of a class that are behind no other, and those behind.
func (t *gear) foremost(c *class, y *yardstick) (front []wiring, behind [][]wiring) {
	n := 0
	for i := range c.pairs {
		n += len(c.pairs[i].ways)
	}
	all := make([]wiring, 0, n)
	for i := range c.pairs {
		p := &c.pairs[i]
		for k := range p.ways {
			all = append(all, wiring{int32(i), int32(k), p.kitless()})
		}
	}
	slices.SortStableFunc(all, func(a, b wiring) int {
		return cmp.Or(cmp.Compare(a.price, b.price), cmp.Compare(c.felt(&b).voltage, c.felt(&a).voltage))
	})
	var l line
	var felts []coilSource
	for i := range all {
		if t.Ended() {
			break
		}
		o := &all[i]
		f, capacity := y.clip(*c.felt(o)), c.pairs[o.pair].kitTier.capacity
		k := l.ahead(f.voltage, func(k int) bool {
			return c.pairs[front[k].pair].kitTier.capacity <= capacity && y.covers(&felts[k], &f, 1)
		})
		if k < 0 {
			l.add(len(front), f.voltage)
			front, behind, felts = append(front, *o), append(behind, nil), append(felts, f)
		} else {
			behind[k] = append(behind[k], *o)
		}
	}
	return front, behind
}
