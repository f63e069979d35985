package main

import (
	"fmt"
	"slices"
	"strings"
)

// Which sets of parts are a valid build: every choice is looked at, by the rules of
// README and of the file formats. Where a rule asks for physics that the files do not
// tell (what a capacitor leaves of a weak pair's travel), the answer is "perhaps".

type outVerdict int

const (
	outNo outVerdict = iota
	outPerhaps
	outYes
)

// outSet is one set of parts, with all ways of putting it together.
type outSet struct {
	list   []outCount // sorted by SKU
	driver string     // the bass driver
	ways   []outWay
}

// outWay is one way: an amplifier drives the bass in a mode at a load, and something
// drives the front.
type outWay struct {
	amp     string
	mode    string
	load    float64
	verdict outVerdict
}

func (s *outSet) key() string {
	var all []string
	for _, m := range s.list {
		for range m.n {
			all = append(all, m.sku)
		}
	}
	return strings.Join(all, " ")
}

func (s *outSet) verdict() (v outVerdict) {
	for _, w := range s.ways {
		v = max(v, w.verdict)
	}
	return v
}

// of lists the parts of a kind, behind a nil where none is a choice too.
func (c *outCase) of(kind string, none bool) (list []*outPart) {
	if none {
		list = append(list, nil)
	}
	for _, p := range c.parts {
		if p.kind == kind && outCounted(c.never, p.sku) == 0 {
			list = append(list, p)
		}
	}
	return list
}

// outBlock is drivers in boxes.
type outBlock struct {
	list       []outCount
	driver     *outPart
	drivers    int
	coils, ohm int
}

// blocks lists every block that fits.
func (c *outCase) blocks() (all []outBlock) {
	for m := 1; m <= c.boxes; m++ {
		for _, l := range c.of("loaded enclosure", false) {
			if n := m * l.holes; n <= c.drivers && c.fits(l.outside, m) {
				all = append(all, outBlock{[]outCount{{l.sku, m}}, l, n, l.coils, l.ohm})
			}
		}
		for _, d := range c.of("subwoofer", false) {
			for _, b := range c.of("enclosure", false) {
				n := m * b.holes
				if n <= c.drivers && d.inches == b.inches && (b.depth == 0 || d.depth <= b.depth+2) && c.fits(b.outside, m) {
					all = append(all, outBlock{[]outCount{{d.sku, n}, {b.sku, m}}, d, n, d.coils, d.ohm})
				}
			}
		}
	}
	return all
}

// fits says whether boxes in one row fit the space, and each goes through the boot.
func (c *outCase) fits(box [3]int, m int) bool {
	sorted := func(e [3]int) [3]int { slices.Sort(e[:]); return e }
	if c.boot[0] > 0 {
		b := sorted(box)
		if b[0] > min(c.boot[0], c.boot[1]) || b[1] > max(c.boot[0], c.boot[1]) {
			return false
		}
	}
	space := [3]int{60, 60, 160} // the van's
	if c.space[0] > 0 {
		space = sorted(c.space)
	}
	for edge := range 3 {
		row := box
		row[edge] *= m
		if row = sorted(row); row[0] <= space[0] && row[1] <= space[1] && row[2] <= space[2] {
			return true
		}
	}
	return false
}

// wirings calls for each mode and load at or above the rated one, with whether two
// stereo channels are left over on each amplifier.
func wirings(a *outPart, drivers, coils, ohm int, visit func(mode string, load float64, spare bool)) {
	pairs := a.channels / 2
	for _, m := range []struct {
		mode          string
		least, most   int // rated load, outputs
		channelsTaken int
	}{{"mono", a.mono, a.channels % 2, 0}, {"stereo", a.stereo, 2 * pairs, 1}, {"bridged", a.bridged, pairs, 2}} {
		for outputs := 1; m.least > 0 && outputs <= m.most; outputs++ {
			seen := map[float64]bool{}
			for split := 1; split <= coils; split++ { // outputs that share a driver, a coil each
				if coils%split != 0 || outputs%split != 0 || drivers%(outputs/split) != 0 {
					continue
				}
				inner, outer := coils/split, drivers/(outputs/split)
				for i := 1; i <= inner; i++ {
					for o := 1; o <= outer; o++ {
						if inner%i != 0 || outer%o != 0 {
							continue
						}
						load := float64(ohm*i*o) / float64(inner/i*(outer/o))
						if load >= float64(m.least)*0.99 && !seen[load] {
							seen[load] = true
							visit(m.mode, load, 2*pairs-m.channelsTaken*outputs >= 2)
						}
					}
				}
			}
		}
	}
}

// sets lists every set of parts with all its ways, valid or not.
func (c *outCase) sets() map[string]*outSet {
	all := map[string]*outSet{}
	for _, block := range c.blocks() {
		for _, amp := range c.of("amplifier", false) {
			for k := 1; k <= 2*c.amplifiers; k++ {
				for _, own := range c.of("amplifier", true) {
					c.complete(all, block, amp, k, own)
				}
			}
		}
	}
	return all
}

// complete puts a kit and the front beside a block and its amplifiers.
func (c *outCase) complete(all map[string]*outSet, block outBlock, amp *outPart, k int, own *outPart) {
	for _, kit := range c.of("wiring kit", false) {
		for _, src := range c.of("source", false) {
			for _, pair := range c.of("front speakers", true) {
				for _, conv := range c.of("line converter", true) {
					for _, blocker := range c.of("bass blocker", true) {
						list := append(slices.Clone(block.list), outCount{amp.sku, k}, outCount{kit.sku, 1}, outCount{src.sku, 1})
						for _, p := range []*outPart{own, pair, conv, blocker} {
							if p != nil {
								list = append(list, outCount{p.sku, 1})
							}
						}
						list = merged(list)
						slices.SortFunc(list, func(a, b outCount) int { return strings.Compare(a.sku, b.sku) })
						s := &outSet{list: list, driver: block.driver.sku}
						if old := all[s.key()]; old != nil {
							s = old
						}
						f := outFront{c: c, list: list, amp: amp, k: k, own: own, src: src, pair: pair, conv: conv, blocker: blocker}
						f.whole = k <= c.amplifiers && kit.length >= c.cable && f.wanted()
						if block.drivers%k == 0 {
							wirings(amp, block.drivers/k, block.coils, block.ohm, func(mode string, load float64, spare bool) {
								s.ways = append(s.ways, f.ways(mode, load, spare)...)
							})
						}
						if len(s.ways) > 0 {
							all[s.key()] = s
						}
					}
				}
			}
		}
	}
}

// outFront is a way's front.
type outFront struct {
	c                             *outCase
	list                          []outCount
	amp                           *outPart
	k                             int
	own, src, pair, conv, blocker *outPart
	whole                         bool // nothing else speaks against it
}

// wanted holds the list against must, and the pair against what shall happen to the
// front.
func (f *outFront) wanted() bool {
	for _, m := range f.c.must {
		if outCounted(f.list, m.sku) < m.n {
			return false
		}
	}
	anyOwned := false
	for _, p := range f.c.of("front speakers", false) {
		anyOwned = anyOwned || outCounted(f.c.owned, p.sku) > 0
	}
	if f.pair == nil {
		return f.c.front != "replace" && !anyOwned
	}
	return f.c.front != "keep" || outCounted(f.c.owned, f.pair.sku) > 0
}

// fresh says whether the rule for a new pair binds.
func (f *outFront) fresh() bool {
	return f.c.front == "replace" || f.pair != nil && outCounted(f.c.owned, f.pair.sku) == 0
}

func (f *outFront) must(p *outPart) bool { return p != nil && outCounted(f.c.must, p.sku) > 0 }

// ways lists what can drive the front beside a wiring of the bass.
func (f *outFront) ways(mode string, load float64, spare bool) (all []outWay) {
	add := func(v outVerdict) {
		if !f.whole {
			v = outNo
		}
		all = append(all, outWay{f.amp.sku, mode, load, v})
	}
	if f.own != nil {
		if f.own.stereo > 0 {
			v := f.rule(45, f.src.highPass || f.own.highPass, f.blocker)
			add(min(v, f.signal(f.own), f.useful()))
		}
	} else {
		if f.src.watts > 0 {
			add(min(f.rule(f.src.watts, f.src.highPass, f.blocker), f.signal(nil)))
		}
		if spare && f.amp.stereo > 0 {
			add(min(f.rule(45, f.src.highPass || f.amp.highPass, f.blocker), f.signal(f.amp)))
		}
	}
	if len(all) == 0 {
		add(outNo) // nothing drives the front
	}
	return all
}

// rule is that for new pairs, and that nothing is idle: what drives the pair has
// about so many watts a side.
func (f *outFront) rule(watts int, highPass bool, blocker *outPart) outVerdict {
	if blocker != nil && highPass && !f.must(blocker) {
		return outNo // another high-pass is there
	}
	held := func(blocker *outPart) outVerdict {
		switch {
		case !f.fresh():
			return outYes
		case watts < f.c.frontWatts:
			return outNo
		case highPass || !f.pair.weak:
			return outYes
		case blocker != nil:
			return outPerhaps
		}
		return outNo
	}
	if f.pair == nil && f.fresh() {
		return outNo
	}
	v := held(blocker)
	if blocker != nil && !highPass && !f.c.music && !f.must(blocker) && held(nil) == outYes {
		return outNo // needed for nothing
	}
	return v
}

// signal says whether the source reaches every amplifier, and the converter has
// something to do.
func (f *outFront) signal(front *outPart) outVerdict {
	need := 0
	if f.src.preOuts == 0 {
		if f.src.watts == 0 {
			return outNo
		}
		if !f.amp.lineIn {
			need = 1
		}
		if front != nil && !front.lineIn {
			need = 2
		}
	}
	if need > 0 && f.conv == nil || need == 0 && f.conv != nil && !f.must(f.conv) {
		return outNo
	}
	return outYes
}

// useful says whether an amplifier of the front's own has something to do: for a
// reading only where the source cannot drive the pair.
func (f *outFront) useful() outVerdict {
	missing := outCounted(f.c.must, f.own.sku)
	if f.own == f.amp {
		missing -= f.k
	}
	if f.c.music || missing > 0 || f.src.watts == 0 {
		return outYes
	}
	can := f.rule(f.src.watts, f.src.highPass, nil)
	if blockers := f.c.of("bass blocker", false); can == outNo && f.pair != nil && !f.src.highPass && f.src.watts >= f.c.frontWatts {
		for _, b := range blockers {
			can = max(can, f.rule(f.src.watts, false, b))
		}
	}
	if len(f.c.must) > 0 && strings.HasPrefix(f.c.must[0].sku, "BB") && can != outNo {
		return outPerhaps
	}
	return outYes - can
}

// file is a build file of a set, with a mode and a load where they are settled.
func (c *outCase) buildFile(list []outCount, mode string, load float64) string {
	s := c.keys(false) + "parts: " + mentions(list) + "\n"
	if mode != "" {
		s += fmt.Sprintf("mode: %s\nload: %g ohm\n", mode, load)
	}
	return s
}
