package optimizer

import (
	"errors"
	"fmt"
	"slices"

	"loudfor/catalog"
	"loudfor/model/cabin"
)

// A finished build is held against the brief once more, from the catalogue's
// own figures and by the shortest way that can be read: no shelf, no lists, no
// bounds. Only the cabin's response is taken over. What fails here is a fault
// of the program, not of the user's files.

// recheckTolerance, dB: the same formulas in another order.
const recheckTolerance = 1e-6

// recheck lists everything about a build that does not hold.
func recheck(p Problem, b *Build, room *cabin.Response) error {
	c := checker{p: p, b: b, room: room, count: make(map[string]int)}
	for _, l := range b.Lines {
		c.count[l.Part.SKU] += l.Count
		c.lines = append(c.lines, l)
	}
	c.shelf()
	c.money()
	c.block()
	c.wiring()
	c.current()
	c.signal()
	c.front()
	c.level()
	return errors.Join(c.faults...)
}

type checker struct {
	p      Problem
	b      *Build
	room   *cabin.Response
	count  map[string]int
	lines  []Line
	faults []error
}

func (c *checker) fault(format string, values ...any) {
	c.faults = append(c.faults, fmt.Errorf(format, values...))
}

// of lists the parts of a kind.
func (c *checker) of(kind catalog.Kind) (parts []*catalog.Part) {
	for _, l := range c.lines {
		if l.Part.Kind == kind {
			parts = append(parts, l.Part)
		}
	}
	return parts
}

func (c *checker) owned(sku string) (n int) {
	for _, m := range c.p.Brief.Owned {
		if m.SKU == sku {
			n += max(m.Count, 1)
		}
	}
	return n
}

func (c *checker) shelf() {
	brief := &c.p.Brief
	for _, l := range c.lines {
		p := l.Part
		if !slices.Contains(c.p.Catalogue.Parts, p) {
			c.fault("%s is not in the catalogue", p.SKU)
		}
		buy := max(0, l.Count-c.owned(p.SKU))
		if buy > 0 && !p.Priced {
			c.fault("%s has no price", p.SKU)
		}
		if buy > 0 && (p.Stock >= 0 && buy > p.Stock || p.Limit >= 0 && buy > p.Limit) {
			c.fault("%d x %s cannot be bought", buy, p.SKU)
		}
		if buy > 0 && len(brief.Stores) > 0 && !slices.ContainsFunc(brief.Stores, func(s string) bool { return catalog.SameStore(s, p.Store) }) {
			c.fault("%s is in another store", p.SKU)
		}
		if slices.ContainsFunc(brief.Never, func(m catalog.Mention) bool { return m.SKU == p.SKU }) {
			c.fault("%s must not be used", p.SKU)
		}
	}
	for _, m := range brief.Must {
		if c.count[m.SKU] < max(m.Count, 1) {
			c.fault("%s must be used", m.SKU)
		}
	}
	for _, kind := range []catalog.Kind{catalog.KindSource, catalog.KindKit} {
		if n := len(c.of(kind)); n != 1 {
			c.fault("%d parts of kind %d instead of one", n, int(kind))
		}
	}
}
