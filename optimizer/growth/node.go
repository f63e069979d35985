package growth

import (
	"cmp"
	"math"
	"slices"

	"loudfor/catalog"
	"loudfor/optimizer"
	"loudfor/optimizer/build"
)

// A node is a set of builds for one step, after steps that are fixed: those that keep
// its rules. Its worth bounds every plan that goes on with one of them.

// A slot is what every build has one of, so that what a step buys for it is thrown
// away where the end has another one.
type slot int

const (
	bassSlot slot = iota // a bass driver, or a loaded enclosure
	ampSlot
	kitSlot
	sourceSlot
	slots
)

func slotOf(k catalog.Kind) slot {
	switch k {
	case catalog.KindSubwoofer, catalog.KindLoaded:
		return bassSlot
	case catalog.KindAmplifier:
		return ampSlot
	case catalog.KindKit:
		return kitSlot
	case catalog.KindSource:
		return sourceSlot
	}
	return slots
}

// share says whether the last step uses something that this step buys for a slot.
type share int8

const (
	undecided share = iota
	kept
	replaced
)

type node struct {
	rules
	share [slots]share
	way   *optimizer.Build // the best build of the node not yet gone on with
	end   *optimizer.Build // the last step, without the tie
	up    []build.Level    // of all steps
	bound worth
	depth int
}

// stage is a step about to be decided.
type stage struct {
	*solver
	past *draft
	step int
	held counts // bought before and not sold
	sold counts
	net  int64 // spent before, less sales, these included
	cash int64
	seen map[string]bool
	own  counts // owned and held
}

// least is the least that a piece for a slot costs that a build of the node buys, in
// millionths; zero where it need not buy any.
func (g *stage) leastFor(v slot, r *rules) int64 {
	for sku := range g.own {
		if p := g.p.Catalogue.Part(sku); p != nil && slotOf(p.Kind) == v {
			return 0
		}
	}
	least := int64(math.MaxInt64)
	for _, p := range g.p.Catalogue.Parts {
		if slotOf(p.Kind) == v && g.buyable(p, r) {
			least = min(least, g.piece(p, true))
		}
	}
	if least == math.MaxInt64 {
		return 0
	}
	return least
}

// buyable says whether builds of the node can buy a part, its price apart.
func (g *stage) buyable(p *catalog.Part, r *rules) bool {
	if _, can := g.least[p.SKU]; !can {
		return false
	}
	most, bound := r.most[p.SKU]
	return !bound || most > g.own[p.SKU]
}

// outlay is what the builds of a node spend at least, millionths of a minor unit, and
// what each slot costs them that their rules do not yet fill.
type outlay struct {
	fixed int64
	open  [slots]int64
}

func (g *stage) outlay(r *rules) (o outlay) {
	var filled [slots]bool
	for sku, n := range r.least {
		p := g.p.Catalogue.Part(sku)
		buy := max(0, n-g.own[sku])
		if o.fixed += int64(buy)*g.piece(p, true) + int64(n-buy)*g.piece(p, false); buy > 0 {
			if v := slotOf(p.Kind); v < slots {
				filled[v] = true
			}
		}
	}
	for v := range slots {
		if !filled[v] {
			o.open[v] = g.leastFor(v, r)
		}
	}
	return o
}

// affords says whether a build of the node can buy a piece of a part, as far as the
// money goes.
func (g *stage) affords(p *catalog.Part, r *rules, o *outlay) bool {
	sum := o.fixed + g.once()
	if g.own[p.SKU] >= r.least[p.SKU] {
		sum += g.piece(p, true)
	}
	for v, least := range o.open {
		if slot(v) != slotOf(p.Kind) {
			sum += least
		}
	}
	return g.buyable(p, r) && sum/catalogMillion <= g.cash+1
}

// relaxedEnd is the best build of a later step if it were not tied to this one: what the
// node's rules say is bought is there and paid for, for what this step throws away
// the least is paid, and all other money is there for the step.
func (g *stage) relaxedEnd(later int, r *rules, shares *[slots]share, o *outlay) (*optimizer.Build, int64, error) {
	held := g.held.clone()
	for sku, n := range r.least {
		if buy := n - g.own[sku]; buy > 0 {
			held[sku] += buy
		}
	}
	visits := later - g.step + 1
	paid := o.fixed + int64(visits-1)*g.once()
	shop := g.relaxed(visits)
	if later == len(g.budgets)-1 {
		var only [slots]bool
		for v := range slots {
			if o.open[v] == 0 {
				continue
			}
			switch shares[v] {
			case replaced:
				paid += o.open[v]
			case kept:
				only[v] = v != ampSlot // beside a bass amplifier there may be one for the front
			}
		}
		if only != [slots]bool{} {
			var parts []*catalog.Part
			for _, p := range shop.Parts {
				if v := slotOf(p.Kind); v == slots || !only[v] || g.affords(g.p.Catalogue.Part(p.SKU), r, o) {
					parts = append(parts, p)
				}
			}
			shop = catalog.New(shop.Currency, parts)
		}
	}
	spent := g.net + paid/catalogMillion - g.resale(held)
	p := g.problem(later, g.budgets[later].Minor+int64(visits)-spent, held)
	p.Catalogue = shop
	p.Brief.Stores, p.Brief.MostStores = nil, 0
	if p.Brief.Front == catalog.FrontEither {
		p.Brief.FrontWatts = 0
	}
	p.Brief.Owned = slices.DeleteFunc(p.Brief.Owned, func(m catalog.Mention) bool { return shop.Part(m.SKU) == nil })
	b, err := g.first(p)
	if b == nil {
		return nil, 0, err
	}
	return b, spent + b.Cost.Minor - int64(visits), err
}

// complete works a node out; false where no plan goes on with any of its builds. What
// is known of its parent is taken over.
func (g *stage) complete(n, parent *node) (bool, error) {
	var err error
	if parent != nil && g.keeps(parent.way, &n.rules) && !g.seen[keyOf(parent.way)] {
		n.way = parent.way
	} else if n.way, err = g.find(g.problem(g.step, g.cash, g.held), n.rules, func(b *optimizer.Build) bool { return g.seen[keyOf(b)] }); n.way == nil {
		return false, err
	}
	o := g.outlay(&n.rules)
	n.up = nil
	for i := range g.past.steps {
		n.up = append(n.up, build.Round(g.past.steps[i].build.Objective))
	}
	n.up = append(n.up, build.Round(n.way.Objective))
	for later := g.step + 1; later < len(g.budgets); later++ {
		var b *optimizer.Build
		if b, n.bound.net, err = g.relaxedEnd(later, &n.rules, &n.share, &o); b == nil {
			return false, err
		}
		n.up, n.end = append(n.up, build.Round(b.Objective)), b
	}
	n.bound.levels = n.up
	if g.order == catalog.PlanFair {
		n.bound.short = g.short(n.up)
	}
	return true, nil
}

func (g *stage) keeps(b *optimizer.Build, r *rules) bool {
	for sku, n := range r.least {
		if b.Holds(sku) < n {
			return false
		}
	}
	for sku, n := range r.most {
		if b.Holds(sku) > n {
			return false
		}
	}
	return true
}

// fork is what to decide next about a node: a slot, or how many pieces of a part.
type fork struct {
	slot  slot // slots: none
	sku   string
	count int // so many at least, or fewer
}

// fork follows the relaxed end: what it uses is bought now or it is not. Once that is
// settled, the best build of the node decides. ok is false where only one build is
// left, or those with more parts than it.
func (g *stage) fork(n *node) (f fork, ok bool) {
	o := g.outlay(&n.rules)
	lines := slices.Clone(n.end.Lines)
	slices.SortStableFunc(lines, func(a, b optimizer.Line) int {
		return cmp.Compare(g.least[b.Part.SKU], g.least[a.Part.SKU])
	})
	for v := range slots {
		if n.share[v] != undecided || o.open[v] == 0 {
			continue
		}
		if !slices.ContainsFunc(lines, func(l optimizer.Line) bool {
			return slotOf(l.Part.Kind) == v && g.affords(g.p.Catalogue.Part(l.Part.SKU), &n.rules, &o)
		}) {
			return fork{slot: v}, true
		}
	}
	for _, l := range lines {
		sku := l.Part.SKU
		at := max(n.least[sku], g.own[sku]) + 1
		most, bound := n.most[sku]
		v := slotOf(l.Part.Kind)
		if at > l.Count || bound && at > most || v < slots && n.share[v] == replaced && n.least[sku] <= g.own[sku] || !g.affords(g.p.Catalogue.Part(sku), &n.rules, &o) {
			continue
		}
		return fork{slots, sku, at}, true
	}
	lines = slices.Clone(n.way.Lines)
	slices.SortStableFunc(lines, func(a, b optimizer.Line) int {
		return cmp.Compare(g.least[b.Part.SKU], g.least[a.Part.SKU])
	})
	for _, l := range lines { // what is bought first
		if at := max(n.least[l.Part.SKU], g.own[l.Part.SKU]) + 1; at <= l.Count {
			return fork{slots, l.Part.SKU, at}, true
		}
	}
	for _, l := range lines {
		if at := n.least[l.Part.SKU] + 1; at <= l.Count {
			return fork{slots, l.Part.SKU, at}, true
		}
	}
	return f, false
}

// part makes the two nodes of a fork.
func (n *node) part(f fork) [2]*node {
	a := &node{rules: rules{n.least, n.most}, share: n.share, depth: n.depth + 1}
	b := &node{rules: rules{n.least, n.most}, share: n.share, depth: n.depth}
	if f.slot < slots {
		a.share[f.slot], b.share[f.slot] = kept, replaced
		return [2]*node{a, b}
	}
	a.least, b.most = n.least.clone(), n.most.clone()
	a.least[f.sku], b.most[f.sku] = f.count, f.count-1
	return [2]*node{a, b}
}
