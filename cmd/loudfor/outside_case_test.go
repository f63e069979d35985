package main

import (
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// Random small shops, customers and cars, written as the files that a person would
// write. Numbers are chosen so that each rule is clearly kept or clearly broken, and
// the enumeration needs no physics to tell which.

// outPart is one part of a shop, as its file states it; a zero value is not stated.
type outPart struct {
	sku, kind, store string
	price            int64 // cents; below zero: none, it can only be owned
	stock, limit     int   // below zero: not stated
	offers           []outOffer

	inches, coils, holes  int // of drivers and boxes; holes of a loaded enclosure: its drivers
	ohm                   int // of a coil
	depth                 int // of a driver, or free in a box, mm
	outside               [3]int
	channels              int
	mono, stereo, bridged int // lowest rated load, ohm; 0: not rated
	highPass, lineIn      bool
	watts, preOuts        int  // of a source, a channel; pairs of line outputs
	weak                  bool // front speakers whose cones stand hardly a watt of bass, and all of theirs above 250 Hz
	length                int  // of a cable, dm

	body string // its other keys, in YAML
}

type outOffer struct {
	store string
	price int64
	stock int
}

// outDeal is one deal: a set where parts is filled, else for pieces of one part.
type outDeal struct {
	name  string
	parts []outCount
	price int64
	from  int
	all   bool
	every int
	off   int64 // percent
	limit int   // below zero: none
	store string
}

type outCount struct {
	sku string
	n   int
}

type outWork struct {
	name      string
	price     int64
	per       string // a kind, or build
	installed bool
	tax       int64 // hundredths of a percent; below zero: not stated
}

// outCase is a whole question.
type outCase struct {
	parts []*outPart
	deals []outDeal
	trips map[string]int64

	limit                       int64 // the cap
	tax                         int64 // hundredths of a percent
	taxes                       map[string]int64
	work                        []outWork
	music                       bool
	front                       string
	owned, must, never          []outCount
	stores                      []string
	mostStores                  int
	space                       [3]int // cm; zero: not stated
	boot                        [2]int
	cable                       int // dm
	boxes, drivers, amplifiers  int
	frontWatts, top             int
	alike                       bool
	folder, shop, brief, garage string
}

var outShops = []string{"Gate", "Yard", "Pier"}

// outDraw makes a case of a seed and writes its files.
func outDraw(t *testing.T, seed uint64) *outCase {
	t.Helper()
	g := rand.New(rand.NewPCG(seed, 0x6f757473))
	one := func(chance float64) bool { return g.Float64() < chance }
	c := &outCase{trips: map[string]int64{}, taxes: map[string]int64{}, cable: 45, boxes: 1 + g.IntN(2), drivers: 1 + g.IntN(4), amplifiers: 1 + g.IntN(2),
		music: one(0.4), front: []string{"keep", "keep", "replace", "either"}[g.IntN(4)], frontWatts: []int{10, 10, 25}[g.IntN(3)], top: 1 + g.IntN(5), alike: one(0.5)}
	c.stock(g)
	shops := outShops[:1+g.IntN(3)]
	for _, p := range c.parts {
		p.stock, p.limit, p.store = -1, -1, shops[g.IntN(len(shops))]
		p.price = p.price * int64(80+g.IntN(50)) / 100
		if one(0.3) {
			p.price = p.price / 1000 * 1000 // ties by chance
		}
		switch g.IntN(14) {
		case 0:
			p.stock = g.IntN(3)
		case 1:
			p.limit = 1 + g.IntN(2)
		case 2:
			p.price = -1
		}
		for _, s := range shops {
			if s != p.store && p.price > 0 && one(0.3) {
				p.offers = append(p.offers, outOffer{s, p.price * int64(70+g.IntN(50)) / 100, g.IntN(4) - 1})
			}
		}
	}
	for _, s := range shops {
		if one(0.3) {
			c.trips[s] = int64(g.IntN(2500))
		}
	}
	any := func() *outPart { return c.parts[g.IntN(len(c.parts))] }
	for range g.IntN(4) {
		c.deal(g, any())
	}
	for range g.IntN(4) {
		c.owned = append(c.owned, outCount{any().sku, 1 + g.IntN(2)})
	}
	c.owned = merged(c.owned)
	if one(0.2) {
		c.must = []outCount{{any().sku, 1}}
	}
	if one(0.2) {
		if p := any(); outCounted(c.must, p.sku) == 0 {
			c.never = []outCount{{p.sku, 1}}
		}
	}
	if one(0.25) {
		c.stores = []string{shops[g.IntN(len(shops))]}
	}
	if one(0.3) {
		c.mostStores = 1 + g.IntN(2)
	}
	if one(0.4) {
		c.space = [3]int{60 + g.IntN(60), 38 + g.IntN(15), 40 + g.IntN(15)}
	}
	if one(0.2) {
		c.boot = [2]int{45 + g.IntN(40), 36 + g.IntN(15)}
	}
	if one(0.2) {
		c.cable = 60 // some kits are too short
	}
	c.money(g)
	c.write(t)
	return c
}

// money draws what is laid on the prices of the shelf.
func (c *outCase) money(g *rand.Rand) {
	one := func(chance float64) bool { return g.Float64() < chance }
	c.limit = int64(25_000 + g.IntN(70_000))
	if one(0.6) {
		c.tax = int64(g.IntN(2000))
	}
	if one(0.3) {
		c.taxes["labour"] = int64(g.IntN(1500))
	}
	sets := false
	for _, d := range c.deals {
		sets = sets || len(d.parts) > 0
	}
	// How a set's price stands for parts taxed differently is a matter of its own.
	if one(0.4) && !sets {
		c.taxes[[]string{"subwoofer", "amplifier", "enclosure", "wiring kit"}[g.IntN(4)]] = int64(g.IntN(1500))
	}
	for i := range g.IntN(3) {
		w := outWork{name: fmt.Sprintf("work %d", i), price: int64(g.IntN(5000)), per: []string{"build", "amplifier", "subwoofer", "enclosure"}[g.IntN(4)], tax: -1}
		w.installed = w.per != "build" && one(0.3)
		if one(0.3) {
			w.tax = int64(g.IntN(2000))
		}
		c.work = append(c.work, w)
	}
}

// stock fills the shop.
func (c *outCase) stock(g *rand.Rand) {
	one := func(chance float64) bool { return g.Float64() < chance }
	add := func(p outPart) { c.parts = append(c.parts, &p) }
	for i := range 1 + g.IntN(2) {
		p := outPart{sku: fmt.Sprintf("SW%d", i), kind: "subwoofer", inches: 10 + 2*min(1, g.IntN(4)), coils: 1 + g.IntN(2), ohm: 2 + 2*g.IntN(2), depth: 130 + 10*g.IntN(3), price: int64(3500 + g.IntN(9000))}
		p.body = fmt.Sprintf("size: %d in, coils: %d x %d ohm, rms: %d W, fs: %d Hz, qts: 0.%d, vas: %d L, xmax: %d mm, depth: %d mm",
			p.inches, p.coils, p.ohm, 150+10*g.IntN(40), 26+g.IntN(14), 35+g.IntN(30), 30+g.IntN(40), 6+g.IntN(12), p.depth)
		add(p)
	}
	for i := range 1 + g.IntN(2) {
		p := outPart{sku: fmt.Sprintf("BX%d", i), kind: "enclosure", inches: 10 + 2*min(1, g.IntN(4)), holes: 1 + g.IntN(2), depth: []int{0, 140, 300}[g.IntN(3)], price: int64(3000 + g.IntN(6000))}
		p.outside = [3]int{36*p.holes + g.IntN(10), 30 + g.IntN(10), 34 + g.IntN(8)}
		p.body = fmt.Sprintf("type: %s, holes: %d x %d in, volume: %d L, outside: %d x %d x %d cm",
			[]string{"sealed", "vented, tuning: 36 Hz"}[g.IntN(2)], p.holes, p.inches, p.holes*(20+g.IntN(30)), p.outside[0], p.outside[1], p.outside[2])
		if p.depth > 0 {
			p.body += fmt.Sprintf(", depth: %d mm", p.depth)
		}
		add(p)
	}
	if one(0.4) {
		p := outPart{sku: "LD0", kind: "loaded enclosure", coils: 1 + g.IntN(2), ohm: 2 + 2*g.IntN(2), holes: 1 + g.IntN(2), price: int64(8000 + g.IntN(9000))}
		p.outside = [3]int{36*p.holes + g.IntN(10), 30 + g.IntN(10), 34 + g.IntN(8)}
		p.body = fmt.Sprintf("type: sealed, volume: %d L, outside: %d x %d x %d cm, drivers: %d, driver: {size: 10 in, coils: %d x %d ohm, rms: %d W, fs: 33 Hz, qts: 0.55, vas: 30 L, xmax: %d mm}",
			p.holes*25, p.outside[0], p.outside[1], p.outside[2], p.holes, p.coils, p.ohm, 100+10*g.IntN(40), 6+g.IntN(12))
		add(p)
	}
	for i := range 1 + g.IntN(2) {
		add(outAmplifier(g, fmt.Sprintf("AM%d", i)))
	}
	for i := range 1 + g.IntN(2) {
		p := outPart{sku: fmt.Sprintf("KT%d", i), kind: "wiring kit", length: 50 + 20*g.IntN(2), price: int64(1500 + g.IntN(4000))}
		p.body = fmt.Sprintf("gauge: %d AWG, length: %d.%d m, fuse: %d A", []int{8, 4, 2}[g.IntN(3)], p.length/10, p.length%10, []int{40, 60}[g.IntN(2)])
		add(p)
	}
	for i := range 1 + g.IntN(2) {
		p := outPart{sku: fmt.Sprintf("HU%d", i), kind: "source", preOuts: g.IntN(3), watts: []int{0, 5, 15, 15}[g.IntN(4)], highPass: one(0.5), price: int64(4000 + g.IntN(6000))}
		p.body = fmt.Sprintf("pre_outs: %d, high_pass: %t, basis: measured", p.preOuts, p.highPass)
		if p.watts > 0 {
			p.body += fmt.Sprintf(", power: 4 x %d W, load: 4 ohm", p.watts)
		}
		add(p)
	}
	for i := range g.IntN(3) {
		p := outPart{sku: fmt.Sprintf("FS%d", i), kind: "front speakers", weak: one(0.4), price: int64(2000 + g.IntN(8000))}
		travel := "fs: 90 Hz, xmax: 30 mm"
		if p.weak {
			travel = "fs: 60 Hz, xmax: 1.5 mm"
		}
		p.body = fmt.Sprintf("load: 4 ohm, rms: %d W, sensitivity: %d dB, size: 6.5 in, %s", 50+10*g.IntN(4), 86+g.IntN(6), travel)
		add(p)
	}
	if one(0.5) {
		add(outPart{sku: "LC0", kind: "line converter", channels: 2, price: int64(500 + g.IntN(1500)), body: "channels: 2"})
	}
	if one(0.3) {
		add(outPart{sku: "BB0", kind: "bass blocker", price: int64(300 + g.IntN(900)), body: "capacitance: 220 uF"})
	}
}

// outAmplifier draws a mono block, or one of several channels.
func outAmplifier(g *rand.Rand, sku string) outPart {
	p := outPart{sku: sku, kind: "amplifier", channels: []int{1, 1, 2, 4}[g.IntN(4)], highPass: g.IntN(2) == 0, lineIn: g.IntN(2) == 0, price: int64(5000 + g.IntN(9000))}
	w := 100 + 10*g.IntN(12)
	var ratings []string
	rate := func(mode string, load, watts int) {
		ratings = append(ratings, fmt.Sprintf("{mode: %s, load: %d ohm, watts: %d, basis: measured}", mode, load, watts))
	}
	if p.channels == 1 {
		rate("mono", 4, w)
		if p.mono = 4; g.IntN(2) == 0 {
			rate("mono", 2, w*3/2)
			p.mono = 2
		}
	} else {
		rate("stereo", 4, 50)
		rate("bridged", 4, w)
		p.stereo, p.bridged = 4, 4
		if g.IntN(2) == 0 {
			rate("stereo", 2, 70)
			p.stereo = 2
		}
	}
	p.body = fmt.Sprintf("channels: %d, class: D, high_pass: %t, speaker_input: %t, ratings: [%s]", p.channels, p.highPass, p.lineIn, strings.Join(ratings, ", "))
	return p
}

// deal draws a deal about a part.
func (c *outCase) deal(g *rand.Rand, p *outPart) {
	if p.price < 0 {
		return
	}
	d := outDeal{name: fmt.Sprintf("deal %d", len(c.deals)), limit: -1}
	if g.IntN(3) == 0 {
		d.limit = 1 + g.IntN(2)
	}
	if g.IntN(3) == 0 {
		d.store = p.store
	}
	d.parts = []outCount{{p.sku, 1}}
	switch g.IntN(3) {
	case 0:
		all := p.price
		for range 1 + g.IntN(2) {
			if q := c.parts[g.IntN(len(c.parts))]; q.price > 0 && outCounted(d.parts, q.sku) == 0 && (d.store == "" || q.store == d.store) {
				d.parts, all = append(d.parts, outCount{q.sku, 1}), all+q.price
			}
		}
		if len(d.parts) < 2 {
			d.parts[0].n, all = 2, 2*p.price
		}
		d.price = all * int64(60+g.IntN(35)) / 100
	case 1:
		d.from, d.all, d.price = 2, g.IntN(2) == 0, p.price*int64(60+g.IntN(35))/100
	case 2:
		if len(p.offers) > 0 {
			return
		}
		d.every, d.off = 2, int64(10+g.IntN(90))
	}
	c.deals = append(c.deals, d)
}

// write writes the files.
func (c *outCase) write(t *testing.T) {
	t.Helper()
	c.folder = t.TempDir()
	for _, f := range []struct {
		to   *string
		name string
		text string
	}{{&c.shop, "shop.yaml", c.shopFile()}, {&c.brief, "brief.yaml", c.keys(true)}, {&c.garage, "cars.yaml", c.carFile()}} {
		*f.to = filepath.Join(c.folder, f.name)
		if err := os.WriteFile(*f.to, []byte(f.text), 0o600); err != nil {
			t.Fatal(err)
		}
	}
}
