package growth

import (
	"container/heap"
	"strings"

	"loudfor/catalog"
	"loudfor/optimizer"
	"loudfor/optimizer/build"
)

// Best first: of all nodes the one is opened whose bound comes before those of all
// others, until none comes before the best plan that was found.

// front is the nodes that are not opened yet.
type front struct {
	nodes []*node
	order catalog.PlanOrder
}

func (f *front) Len() int      { return len(f.nodes) }
func (f *front) Swap(i, j int) { f.nodes[i], f.nodes[j] = f.nodes[j], f.nodes[i] }
func (f *front) Push(x any)    { f.nodes = append(f.nodes, x.(*node)) }
func (f *front) Less(i, j int) bool {
	a, b := f.nodes[i], f.nodes[j]
	if c := a.bound.compare(&b.bound, f.order); c != 0 {
		return c < 0
	}
	return a.depth > b.depth
}
func (f *front) Pop() any {
	last := len(f.nodes) - 1
	n := f.nodes[last]
	f.nodes = f.nodes[:last]
	return n
}

func keyOf(b *optimizer.Build) string { return strings.Join(b.SKUs(), "\x00") }

// grow finds the best plan that goes on from some steps, if it is better than the best.
func (s *solver) grow(d *draft) error {
	step := len(d.steps)
	var held counts
	var net int64
	if step > 0 {
		held, net = d.steps[step-1].held, d.steps[step-1].net
	}
	if step == len(s.budgets)-1 {
		return s.finish(d, held, net)
	}
	return parts(held, s.p.Brief.Resale > 0, func(sold counts) error {
		g := &stage{solver: s, past: d, step: step, held: held.clone(), sold: sold, net: net - s.resale(sold), seen: map[string]bool{}, own: s.owned.clone()}
		for sku, n := range sold {
			g.held = g.held.with(sku, -n)
		}
		for sku, n := range g.held {
			g.own[sku] += n
		}
		g.cash = s.budgets[step].Minor - g.net
		return g.explore()
	})
}

// parts gives every choice of some of the pieces; nothing alone where none may be sold.
func parts(held counts, any bool, try func(counts) error) error {
	if !any {
		return try(counts{})
	}
	skus := sorted(held)
	var choose func(i int, sold counts) error
	choose = func(i int, sold counts) error {
		if i == len(skus) {
			return try(sold)
		}
		for n := 0; n <= held[skus[i]]; n++ {
			if err := choose(i+1, sold.with(skus[i], n)); err != nil {
				return err
			}
		}
		return nil
	}
	return choose(0, counts{})
}

func (g *stage) explore() error {
	f := &front{order: g.order}
	add := func(n, parent *node) error {
		ok, err := g.complete(n, parent)
		if ok && (g.best == nil || n.bound.compare(&g.best.worth, g.order) <= 0) {
			heap.Push(f, n)
		}
		return err
	}
	defer func() {
		if g.stopped {
			for _, n := range f.nodes {
				g.unseen = max(g.unseen, n.bound.first(g.order))
			}
		}
	}()
	if err := add(&node{}, nil); err != nil {
		g.unseen = build.Loudest
		return err
	}
	for f.Len() > 0 {
		n := heap.Pop(f).(*node)
		if g.best != nil && n.bound.compare(&g.best.worth, g.order) > 0 {
			return nil
		}
		if err := g.widen(n, add); err != nil {
			g.unseen = max(g.unseen, n.bound.first(g.order))
			return err
		}
	}
	return nil
}

// widen goes on with builds of a node and parts it.
func (g *stage) widen(n *node, add func(n, parent *node) error) error {
	if n.cut == nil {
		if end, err := g.trim(n); end || err != nil {
			return err
		}
		if n.cut != nil {
			return add(n, n)
		}
	}
	// The loudest build that leaves enough for the relaxed end, and the loudest that is
	// paid for with what that end leaves: often one of them makes the best plan of the node.
	tries := []*optimizer.Build{n.way}
	if n.cut == nil {
		p := g.problem(g.step, g.cash, g.held)
		p.Aside = g.towards(n.rules, []goal{{Core: coreOf(n.end), spare: n.spare}})
		near, _, err := g.find(p, n.rules, nil)
		if err != nil {
			return err
		}
		p = g.problem(g.step, min(g.cash, n.spare), g.held)
		left, _, err := g.find(p, n.rules, nil)
		if err != nil {
			return err
		}
		for i := range near {
			tries = append(tries, &near[i])
		}
		for i := range left {
			tries = append(tries, &left[i])
		}
	}
	for _, b := range tries {
		if g.seen[keyOf(b)] {
			continue
		}
		if err := g.take(b); err != nil {
			return err
		}
		g.seen[keyOf(b)] = true
	}
	at, ok := g.fork(n)
	if !ok {
		return add(n, n)
	}
	for _, child := range n.part(at) {
		if err := add(child, n); err != nil {
			return err
		}
	}
	return nil
}

// take goes on with a build.
func (g *stage) take(b *optimizer.Build) error {
	d := &draft{steps: append(append([]taken{}, g.past.steps...), g.taken(b))}
	return g.grow(d)
}

func (g *stage) taken(b *optimizer.Build) taken {
	held := g.held.clone()
	for sku, n := range bought(b) {
		held[sku] += n
	}
	return taken{build: b, sold: g.sold, net: g.net + b.Cost.Minor, held: held, ready: g.cash}
}

// first is the level that an order looks at first.
func (w *worth) first(o catalog.PlanOrder) build.Level {
	if o == catalog.PlanFirst {
		return w.levels[0]
	}
	return w.levels[len(w.levels)-1]
}

// short is the shortfall of levels.
func (s *solver) short(levels []build.Level) build.Level {
	best := make([]build.Level, len(levels))
	for i := range levels {
		if best[i] = build.Silent; s.nothing[i] != nil {
			best[i] = build.Round(s.nothing[i].Objective)
		}
	}
	return shortfall(levels, best)
}

// finish is the last step: what is not used any more is sold.
func (s *solver) finish(d *draft, held counts, net int64) error {
	last := len(s.budgets) - 1
	fair := s.order == catalog.PlanFair
	return parts(held, s.p.Brief.Resale > 0 || fair, func(gone counts) error {
		// All that is gone is thrown away, whatever else is.
		if fair && s.best != nil && s.best.short == 0 && s.value(gone)-s.resale(gone) > s.best.thrown {
			return nil
		}
		rest, r := held.clone(), rules{}
		for sku, n := range gone {
			rest = rest.with(sku, -n)
		}
		sales := s.resale(gone)
		if fair { // what is kept has a use
			r.least = counts{}
			for sku, n := range rest {
				r.least[sku] = n + s.owned[sku]
			}
		}
		there := rest
		if s.p.Brief.Resale == 0 { // what has no use is there all the same
			there, r.most = held, counts{}
			for sku := range gone {
				r.most[sku] = rest[sku] + s.owned[sku]
			}
		}
		cash := s.budgets[last].Minor - net + sales
		found, _, err := s.find(s.problem(last, cash, there), r, nil)
		if len(found) == 0 {
			return err
		}
		b := &found[0]
		unused := counts{}
		for sku, n := range held {
			if k := min(n, max(0, s.owned[sku]+n-b.Holds(sku))); k > 0 {
				unused[sku] = k
			}
		}
		t := taken{build: b, held: there, sold: gone, ready: cash, net: net - sales + b.Cost.Minor}
		if s.p.Brief.Resale == 0 { // it lies idle
			t.sold = counts{}
		} else { // what the build leaves over, too
			for sku, n := range unused {
				if more := n - gone[sku]; more > 0 {
					extra := counts{sku: more}
					t.sold, t.held = t.sold.with(sku, more), t.held.with(sku, -more)
					t.net -= s.resale(extra)
					t.ready += s.resale(extra)
				}
			}
		}
		full := &draft{steps: append(append([]taken{}, d.steps...), t)}
		s.judge(full)
		return nil
	})
}

// judge ranks a whole plan.
func (s *solver) judge(d *draft) {
	last := &d.steps[len(d.steps)-1]
	all := counts{}
	for i := range d.steps {
		d.levels = append(d.levels, build.Round(d.steps[i].build.Objective))
		for sku, n := range bought(d.steps[i].build) {
			all[sku] += n
		}
	}
	wasted := counts{}
	for sku, n := range all {
		if k := min(n, max(0, s.owned[sku]+n-last.build.Holds(sku))); k > 0 {
			wasted[sku] = k
		}
	}
	d.net = last.net
	sales := int64(0)
	for i := range d.steps {
		sales += s.resale(d.steps[i].sold)
	}
	d.thrown = s.value(wasted) - sales
	if s.order == catalog.PlanFair {
		d.short = s.short(d.levels)
	}
	if d.before(s.best, s.order) {
		s.best = d
	}
}
