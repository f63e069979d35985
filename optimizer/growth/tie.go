package growth

import (
	"math"
	"slices"

	"loudfor/catalog"
	"loudfor/optimizer"
	"loudfor/optimizer/build"
	"loudfor/optimizer/completion"
)

// What ties two steps together: of what a step buys some may be of no use later. A build
// needs a bass block and an amplifier, and what the later step has of them may be more
// than this step can pay for; then it has others, which are thrown away.

// amplifierUses says what is known of amplifiers: oneUse, that a build without one for the
// front is possible wherever one with it is, and as loud; plain, that it costs no more
// then, whatever was bought at other steps. Under the order fair it may still count less
// as thrown away.
func (s *solver) amplifierUses() (oneUse, plain bool) {
	b, c := &s.p.Brief, s.p.Catalogue
	is := func(kind catalog.Kind) func(catalog.Mention) bool {
		return func(m catalog.Mention) bool {
			p := c.Part(m.SKU)
			return p != nil && p.Kind == kind
		}
	}
	oneUse = b.Front == catalog.FrontKeep && b.Goal == catalog.GoalReading && s.order != catalog.PlanFair &&
		!slices.ContainsFunc(b.Must, is(catalog.KindAmplifier)) && !slices.ContainsFunc(b.Owned, is(catalog.KindFront)) &&
		!slices.ContainsFunc(c.ByKind(catalog.KindSource), func(p *catalog.Part) bool {
			return completion.SourcePower(p.Source, build.StockLoad) <= 0
		})
	return oneUse, oneUse && len(c.Deals) == 0 && s.once() == 0 && b.MostStores == 0 &&
		!slices.ContainsFunc(c.Shops, func(s *catalog.Store) bool { return s.Trip.Minor > 0 })
}

// way is a way to fill a slot: for how much, and how much of that is lost, millionths of
// a minor unit; and what counts as thrown away of it, minor units.
type way struct{ price, lost, thrown int64 }

var noWay = way{build.NoAside, build.NoAside, build.NoAside}

func (w way) min(o way) way {
	return way{min(w.price, o.price), min(w.lost, o.lost), min(w.thrown, o.thrown)}
}

func (w way) add(o way, n int64) way {
	if w == noWay || o == noWay {
		return noWay
	}
	return way{w.price + n*o.price, w.lost + n*o.lost, w.thrown + n*o.thrown}
}

// sized are the cheapest driver and the cheapest enclosure of one size.
type sized struct {
	hole        float64
	driver, box way
}

// outlay is what the builds of a node spend at least.
type outlay struct {
	fixed int64      // for what its rules name, and the labour for a build
	open  [slots]way // the cheapest of what they do not name and is not there, each piece of its own
	sizes []sized
	// The bass block of which the rules name a part, if they do: a driver or an enclosure.
	driver, box *catalog.Part
	free        bool // a part of the bass is there already: nothing is known of the block
}

func (g *stage) outlay(r *rules) (o outlay) {
	filled := [slots]bool{}
	for sku := range g.own {
		if p := g.p.Catalogue.Part(sku); p != nil {
			if v := slotOf(p.Kind); v < slots {
				filled[v] = true
			}
			o.free = o.free || p.Kind == catalog.KindEnclosure
		}
	}
	o.free = o.free || filled[bassSlot]
	o.fixed = g.once()
	for sku, n := range r.least {
		p := g.p.Catalogue.Part(sku)
		buy := max(0, n-g.own[sku])
		if o.fixed += int64(buy)*g.piece(p, true) + int64(n-buy)*g.piece(p, false); buy == 0 {
			continue
		}
		if v := slotOf(p.Kind); v < slots {
			filled[v] = true
		}
		switch p.Kind {
		case catalog.KindSubwoofer:
			o.driver = p
		case catalog.KindEnclosure:
			o.box = p
		case catalog.KindLoaded:
			o.free = true
		}
	}
	o.free = o.free || o.driver != nil && o.box != nil
	for v := range slots {
		if o.open[v] = noWay; filled[v] {
			o.open[v] = way{}
		}
	}
	loaded := noWay
	for _, p := range g.p.Catalogue.Parts {
		if !g.buyable(p, r) {
			continue
		}
		w := g.other(p)
		switch v := slotOf(p.Kind); {
		case p.Kind == catalog.KindEnclosure:
			o.size(p.Enclosure.Hole).box = o.size(p.Enclosure.Hole).box.min(w)
		case p.Kind == catalog.KindSubwoofer:
			o.size(p.Subwoofer.Card.Size).driver = o.size(p.Subwoofer.Card.Size).driver.min(w)
		case p.Kind == catalog.KindLoaded:
			loaded = loaded.min(w)
		case v < slots:
			o.open[v] = o.open[v].min(w)
		}
	}
	if !filled[bassSlot] {
		o.open[bassSlot] = loaded
		for _, s := range o.sizes {
			o.open[bassSlot] = o.open[bassSlot].min(o.fit(s.hole, func(s sized) way { return s.driver }).add(s.box, 1))
		}
	}
	return o
}

// other is a piece of which a later step makes no use.
func (g *stage) other(p *catalog.Part) way {
	price := g.piece(p, true)
	return way{price, price - g.brings(p.SKU)*catalogMillion, g.least[p.SKU] - g.brings(p.SKU)}
}

// size finds the row of exactly one size.
func (o *outlay) size(hole float64) *sized {
	for i := range o.sizes {
		if o.sizes[i].hole == hole {
			return &o.sizes[i]
		}
	}
	o.sizes = append(o.sizes, sized{hole, noWay, noWay})
	return &o.sizes[len(o.sizes)-1]
}

// fit is the cheapest of what fits a size.
func (o *outlay) fit(hole float64, of func(sized) way) way {
	least := noWay
	for _, s := range o.sizes {
		if math.Abs(s.hole-hole) <= build.SizeTolerance {
			least = least.min(of(s))
		}
	}
	return least
}

func (o *outlay) drivers(hole float64) way { return o.fit(hole, func(s sized) way { return s.driver }) }
func (o *outlay) boxes(hole float64) way   { return o.fit(hole, func(s sized) way { return s.box }) }

// keep is a piece of which the later step makes use.
func (g *stage) keep(p *catalog.Part, r *rules) way {
	if q := g.p.Catalogue.Part(p.SKU); g.buyable(q, r) {
		return way{price: g.piece(q, true)}
	}
	return noWay
}

// blocks are the ways to a bass block of what the rules do not name of it, where a later
// step has some other one.
func (g *stage) blocks(c *optimizer.Core, r *rules, o *outlay) (all [4]way) {
	all = [4]way{noWay, noWay, noWay, o.open[bassSlot]}
	switch {
	case o.free || c.Driver == nil:
		return [4]way{}
	case c.Box == nil:
		all[0] = g.keep(c.Driver, r)
		if o.driver != nil {
			return [4]way{o.boxes(o.driver.Subwoofer.Card.Size), noWay, noWay, noWay}
		}
		if o.box != nil {
			return [4]way{o.drivers(o.box.Enclosure.Hole), noWay, noWay, noWay}
		}
		return all
	}
	size, hole, holes := c.Driver.Subwoofer.Card.Size, c.Box.Enclosure.Hole, int64(max(c.Box.Enclosure.Box.Drivers, 1))
	switch {
	case o.driver != nil:
		size, all[3] = o.driver.Subwoofer.Card.Size, noWay
		if all[0] = o.boxes(size); math.Abs(size-hole) <= build.SizeTolerance {
			all[1] = g.keep(c.Box, r)
		}
	case o.box != nil:
		hole, all[3] = o.box.Enclosure.Hole, noWay
		if all[0] = o.drivers(hole); math.Abs(size-hole) <= build.SizeTolerance {
			all[1] = g.keep(c.Driver, r)
		}
	default:
		d, b := g.keep(c.Driver, r), g.keep(c.Box, r)
		all[0] = b.add(d, holes)
		all[1] = d.add(o.boxes(size), 1)
		all[2] = b.add(o.drivers(hole), holes)
	}
	return all
}

// aside is what is lost at least, in millionths, when a later step has some bass: of what
// a build of the node has to buy some cannot be had with the money of its step, and
// then another piece is thrown away.
func (g *stage) aside(r *rules, o *outlay, final bool) func(optimizer.Core) int64 {
	room := (g.cash+1)*catalogMillion - o.fixed - o.open[sourceSlot].price
	most := int64(build.NoAside) // that may be thrown away
	if g.order == catalog.PlanFair && g.best != nil && g.best.short == 0 && final {
		most = g.best.thrown
	}
	return func(c optimizer.Core) int64 {
		thrown := int64(0)
		if most < build.NoAside {
			thrown = g.thrown(&c, r)
		}
		amps := [2]way{{price: o.open[ampSlot].price}, noWay}
		if g.oneUse && c.Amp != nil && o.open[ampSlot].price > 0 {
			amps = [2]way{g.keep(c.Amp, r), o.open[ampSlot]}
		}
		kits := [2]way{{price: o.open[kitSlot].price}, noWay}
		if c.Kit != nil && o.open[kitSlot].price > 0 {
			kits = [2]way{g.keep(c.Kit, r), o.open[kitSlot]}
		}
		least := int64(build.NoAside)
		for _, b := range g.blocks(&c, r, o) {
			for _, a := range amps {
				for _, k := range kits {
					if a.price+b.price+k.price <= room && thrown+a.thrown+b.thrown+k.thrown <= most {
						least = min(least, a.lost+b.lost+k.lost)
					}
				}
			}
		}
		return least
	}
}

// thrown is what counts as thrown away of what a node's rules say is bought when the end
// has some bass.
func (g *stage) thrown(c *optimizer.Core, r *rules) (sum int64) {
	for sku, n := range r.least {
		p := g.p.Catalogue.Part(sku)
		var kept *catalog.Part
		switch p.Kind {
		case catalog.KindSubwoofer, catalog.KindLoaded:
			kept = c.Driver
		case catalog.KindKit:
			kept = c.Kit
		case catalog.KindAmplifier:
			if g.oneUse {
				kept = c.Amp
			}
		}
		if buy := n - g.own[sku]; buy > 0 && kept != nil && kept.SKU != sku {
			sum += int64(buy) * (g.least[sku] - g.brings(sku))
		}
	}
	return sum
}

func coreOf(b *optimizer.Build) optimizer.Core {
	c := optimizer.Core{Driver: b.Bass.Part, Drivers: b.Holds(b.Bass.Part.SKU), Amp: b.Bass.Amplifier, Amps: b.Holds(b.Bass.Amplifier.SKU)}
	if b.Bass.Enclosure != nil && b.Bass.Enclosure != b.Bass.Part {
		c.Box, c.Boxes = b.Bass.Enclosure, b.Holds(b.Bass.Enclosure.SKU)
	}
	for _, l := range b.Lines {
		if l.Part.Kind == catalog.KindKit {
			c.Kit = l.Part
		}
	}
	return c
}

// goal is the bass of later steps, as far as it is given, and the most that may be lost on
// the way to it, minor units.
type goal struct {
	optimizer.Core
	spare int64
	bare  int64 // the most that a source may cost which that step has
}

// losing is what is lost with some pieces of a part beyond those of a node, where a later
// step has another one.
func (g *stage) losing(r *rules, p *catalog.Part, n int, kept *catalog.Part) int64 {
	if p == nil || kept == nil || p.SKU == kept.SKU {
		return 0
	}
	return int64(max(0, max(n, 1)-max(g.own[p.SKU], r.least[p.SKU]))) * g.other(g.p.Catalogue.Part(p.SKU)).lost
}

// towards refuses the builds of a node with which more is lost than any of some goals
// allows.
func (g *stage) towards(r rules, goals []goal) func(optimizer.Core) int64 {
	return func(c optimizer.Core) int64 {
		for i := range goals {
			to := &goals[i]
			sum := g.losing(&r, c.Driver, c.Drivers, to.Driver) + g.losing(&r, c.Box, c.Boxes, to.Box) + g.losing(&r, c.Kit, 1, to.Kit)
			if g.oneUse {
				sum += g.losing(&r, c.Amp, c.Amps, to.Amp)
			}
			if sum <= (to.spare+1)*catalogMillion {
				return 0
			}
		}
		return build.NoAside
	}
}

// useless says that no build of a node leads to a goal with a source that it buys: neither is
// there money for that source at the end, nor to throw it away.
func (g *stage) useless(n *node, p *catalog.Part) bool {
	if n.cut == nil || p.Kind != catalog.KindSource || g.own[p.SKU] > 0 || n.least[p.SKU] > 0 {
		return false
	}
	w := g.other(p)
	price := g.least[p.SKU] * (catalogMillion + g.p.Brief.TaxOn(p.Kind)) // its labour is there already
	return !slices.ContainsFunc(n.goals, func(to goal) bool {
		sum := int64(0)
		for sku, k := range n.least {
			switch q := g.p.Catalogue.Part(sku); q.Kind {
			case catalog.KindSubwoofer, catalog.KindLoaded:
				sum += g.losing(&n.base, q, k, to.Driver)
			case catalog.KindKit:
				sum += g.losing(&n.base, q, k, to.Kit)
			case catalog.KindAmplifier:
				if g.oneUse {
					sum += g.losing(&n.base, q, k, to.Amp)
				}
			}
		}
		return sum+price <= (to.bare+1)*catalogMillion || sum+w.lost <= (to.spare+1)*catalogMillion
	})
}

// mostGoals are followed at once.
const mostGoals = 12

// trim leaves out what can never become as loud at the end as the best plan, once that
// is as loud as any of the node; if that is all, it says so. The ends as loud have
// few pairs of driver and amplifier, for each of which the cheapest is found. With two
// uses of amplifiers a list of pairs can lack some.
func (g *stage) trim(n *node) (all bool, err error) {
	last := len(g.budgets) - 1
	if !g.oneUse || g.order != catalog.PlanLast || g.step != last-1 || g.best == nil || n.bound.levels[last] != g.best.levels[last] {
		return false, nil
	}
	o := g.outlay(&n.rules)
	p, _ := g.relaxedEnd(last, &n.rules, &o)
	p.Top, p.Distinct = mostGoals, optimizer.DistinctBass
	g.asked++
	pairs, err := g.series.Pick(g.ctx, p)
	if err != nil {
		return false, err
	}
	if pairs.Stop != optimizer.StopComplete {
		g.stopped = true
		return false, errStopped
	}
	least := g.best.levels[last]
	free := p
	var gratis []*catalog.Part
	for _, q := range p.Catalogue.Parts {
		if k := q.Kind; (k == catalog.KindSource || k == catalog.KindConverter || k == catalog.KindBlocker) && q.Priced {
			r := *q
			r.Price.Minor = 0
			gratis = append(gratis, &r)
		}
	}
	free.Catalogue = p.Catalogue.With(gratis...)
	var goals []goal
	for i := range pairs.Builds {
		b := &pairs.Builds[i]
		if build.Round(b.Objective) < least {
			break
		}
		if i == mostGoals-1 {
			return false, nil // there may be others
		}
		of := optimizer.Core{Driver: b.Bass.Part, Amp: b.Bass.Amplifier}
		without, err := g.cheapest(free, of, least)
		if err != nil {
			return false, err
		}
		if without == nil {
			continue
		}
		cheapest, err := g.cheapest(p, of, least)
		if err != nil {
			return false, err
		}
		if cheapest == nil {
			continue
		}
		to := goal{of, p.Brief.Cap.Minor - cheapest.Cost.Minor, p.Brief.Cap.Minor - without.Cost.Minor}
		kit := coreOf(cheapest).Kit
		if g.own[kit.SKU] == 0 && n.least[kit.SKU] == 0 {
			// So with this kit, and with others for no less than the cheapest of them.
			other := p
			q := *kit
			q.Limit = 0
			other.Catalogue = p.Catalogue.With(&q)
			if cheapest, err = g.cheapest(other, of, least); err != nil {
				return false, err
			}
			if cheapest != nil {
				goals = append(goals, goal{of, p.Brief.Cap.Minor - cheapest.Cost.Minor, to.bare})
			}
			to.Kit = kit
		}
		goals = append(goals, to)
	}
	n.goals, n.base = goals, n.rules
	n.cut = g.towards(n.rules, goals)
	n.ways, n.whole = nil, false
	return len(goals) == 0, nil
}

// cheapest is the cheapest build with a driver and an amplifier that reaches a level.
func (g *stage) cheapest(p optimizer.Problem, of optimizer.Core, least build.Level) (*optimizer.Build, error) {
	p.Distinct = optimizer.DistinctParts
	p.Aside = func(c optimizer.Core) int64 {
		if c.Driver != nil && c.Driver.SKU != of.Driver.SKU || c.Amp != nil && c.Amp.SKU != of.Amp.SKU {
			return build.NoAside
		}
		return 0
	}
	g.asked++
	steps, whole, err := g.series.From(g.ctx, p, least.DB())
	if err == nil && !whole {
		g.stopped = true
		err = errStopped
	}
	if err != nil || len(steps) == 0 {
		return nil, err
	}
	return &steps[0], nil
}
