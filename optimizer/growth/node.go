package growth

import (
	"cmp"
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

type node struct {
	rules
	way   *optimizer.Build  // the best build of the node not yet gone on with
	ways  []optimizer.Build // it and those after it, as far as they are known
	whole bool              // there are no others
	end   *optimizer.Build  // the last step, without the tie
	lost  int64             // what is lost on the way to it, at least
	spare int64             // and at most
	bound worth
	depth int
	cut   func(optimizer.Core) int64 // see trim; nil: none
	goals []goal                     // of the cut
	base  rules                      // of the node that was trimmed
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

// buyable says whether builds of the node can buy a part, its price apart.
func (g *stage) buyable(p *catalog.Part, r *rules) bool {
	if _, can := g.least[p.SKU]; !can {
		return false
	}
	most, bound := r.most[p.SKU]
	return !bound || most > g.own[p.SKU]
}

// affords says whether a build of the node can buy a piece of a part, as far as the
// money goes.
func (g *stage) affords(p *catalog.Part, r *rules, o *outlay) bool {
	sum := o.fixed
	if g.own[p.SKU] >= r.least[p.SKU] {
		sum += g.piece(p, true)
	}
	for v, w := range o.open {
		if slot(v) != slotOf(p.Kind) {
			sum += w.price
		}
	}
	return g.buyable(p, r) && sum/catalogMillion <= g.cash+1
}

// relaxedEnd is the question of a later step as if it were not tied to this one: what the
// node's rules say is bought is there and paid for, for what is thrown away then
// the least is paid, and all other money is there for the step. spent is what is paid
// before.
func (g *stage) relaxedEnd(later int, r *rules, o *outlay) (p optimizer.Problem, spent int64) {
	held := g.held.clone()
	for sku, n := range r.least {
		if buy := n - g.own[sku]; buy > 0 {
			held[sku] += buy
		}
	}
	visits := later - g.step + 1
	spent = g.net + (o.fixed+int64(visits-2)*g.once())/catalogMillion - g.resale(held) - int64(visits)
	p = g.problem(later, g.budgets[later].Minor-spent, held)
	p.Catalogue = g.relaxed(visits)
	p.Brief.Stores, p.Brief.MostStores = nil, 0
	if p.Brief.Front == catalog.FrontEither {
		p.Brief.FrontWatts = 0
	}
	p.Aside = g.aside(r, o, later == len(g.budgets)-1)
	return p, spent
}

// next looks for the best build of a node that was not yet gone on with. The first builds
// of its parent are the first of all that it has, too, where they keep its rules.
func (g *stage) next(n *node) (err error) {
	for i := range n.ways {
		b := &n.ways[i]
		if !g.seen[keyOf(b)] && g.keeps(b, &n.rules) && (n.cut == nil || n.cut(coreOf(b)) == 0) &&
			!slices.ContainsFunc(b.Lines, func(l optimizer.Line) bool { return g.useless(n, l.Part) }) {
			n.way, n.ways = b, n.ways[i:]
			return nil
		}
	}
	if n.way = nil; n.whole {
		return nil
	}
	p := g.problem(g.step, g.cash, g.held)
	p.Aside = n.cut
	var never []*catalog.Part
	for _, part := range p.Catalogue.Parts {
		if g.useless(n, part) {
			q := *part
			q.Limit = 0
			never = append(never, &q)
		}
	}
	if len(never) > 0 {
		p.Catalogue = p.Catalogue.With(never...)
	}
	n.ways, n.whole, err = g.find(p, n.rules, func(b *optimizer.Build) bool { return g.seen[keyOf(b)] })
	if len(n.ways) > 0 {
		n.way = &n.ways[0]
	}
	return err
}

// complete works a node out; false where no plan goes on with any of its builds. What
// is known of its parent is taken over.
func (g *stage) complete(n, parent *node) (bool, error) {
	if err := g.next(n); n.way == nil {
		return false, err
	}
	o := g.outlay(&n.rules)
	last := len(g.budgets) - 1
	levels := append([]build.Level{}, n.bound.levels...)
	if parent == nil {
		levels = make([]build.Level, last+1)
		for i := range g.past.steps {
			levels[i] = build.Round(g.past.steps[i].build.Objective)
		}
	}
	levels[g.step] = build.Round(n.way.Objective)
	n.bound.levels = levels
	if parent == nil || g.step < last-1 || !g.keeps(n.end, &rules{least: n.least}) || g.aside(&n.rules, &o, true)(coreOf(n.end)) != n.lost {
		for later := g.step + 1; later <= last; later++ {
			p, spent := g.relaxedEnd(later, &n.rules, &o)
			b, err := g.first(p)
			if b == nil {
				return false, err
			}
			n.lost = p.Aside(coreOf(b))
			n.bound.net = spent + b.Cost.Minor + n.lost/catalogMillion
			levels[later], n.end, n.spare = build.Round(b.Objective), b, p.Brief.Cap.Minor-b.Cost.Minor
		}
	}
	if g.order == catalog.PlanFair {
		n.bound.short = g.short(levels)
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

// fork is what to decide next about a node: how many pieces of a part.
type fork struct {
	sku   string
	count int // so many at least, or fewer
}

// fork follows the relaxed end: what it uses is bought now or it is not. Once that is
// settled, the best build of the node decides. ok is false where only one build is
// left, or those with more parts than it.
func (g *stage) fork(n *node) (f fork, ok bool) {
	o := g.outlay(&n.rules)
	dearest := func(b *optimizer.Build) []optimizer.Line {
		return slices.SortedStableFunc(slices.Values(b.Lines), func(a, b optimizer.Line) int {
			return cmp.Compare(g.least[b.Part.SKU], g.least[a.Part.SKU])
		})
	}
	lines := dearest(n.end)
	if g.order == catalog.PlanFirst { // few builds are as loud as the best
		lines = dearest(n.way)
	}
	for _, l := range lines {
		sku := l.Part.SKU
		at := max(n.least[sku], g.own[sku]) + 1
		most, bound := n.most[sku]
		if at > l.Count || bound && at > most || !g.affords(g.p.Catalogue.Part(sku), &n.rules, &o) {
			continue
		}
		return fork{sku, at}, true
	}
	lines = dearest(n.way)
	for _, l := range lines { // what is bought first
		if at := max(n.least[l.Part.SKU], g.own[l.Part.SKU]) + 1; at <= l.Count {
			return fork{l.Part.SKU, at}, true
		}
	}
	for _, l := range lines {
		if at := n.least[l.Part.SKU] + 1; at <= l.Count {
			return fork{l.Part.SKU, at}, true
		}
	}
	return f, false
}

// part makes the two nodes of a fork.
func (n *node) part(f fork) [2]*node {
	x, y := *n, *n
	a, b := &x, &y
	a.depth++
	a.least, b.most = n.least.clone(), n.most.clone()
	a.least[f.sku], b.most[f.sku] = f.count, f.count-1
	return [2]*node{a, b}
}
