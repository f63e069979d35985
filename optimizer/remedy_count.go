package optimizer

import (
	"fmt"
	"slices"

	"loudfor/catalog"
	"loudfor/optimizer/build"
	"loudfor/optimizer/setting"
)

// How many boxes, drivers or amplifiers more, or pieces of a must less, would do.

// moreOf raises a number of the brief.
func (c *conflictSearch) moreOf(kind RequirementKind, dropped []int) []Fix {
	field := func(p *Problem) (n *int, fallback, most int, what string) {
		switch kind {
		case RequireBoxes:
			return &p.Brief.Boxes, catalog.DefaultBrief().Boxes, build.AnyBoxes, "box"
		case RequireDrivers:
			return &p.Brief.Drivers, catalog.DefaultBrief().Drivers, build.AnyDrivers, "driver"
		case RequireMostStores:
			return &p.Brief.MostStores, 0, len(shopsOf(p)), "shop"
		}
		return &p.Brief.Amplifiers, catalog.DefaultBrief().Amplifiers, build.AnyAmplifiers, "amplifier"
	}
	value, fallback, most, what := field(&c.p)
	now := *value
	if now <= 0 {
		now = fallback
	}
	n, ok := least(now+1, most, func(n int) bool {
		return c.can(dropped, func(p *Problem, _ *setting.Relaxation) { at, _, _, _ := field(p); *at = n })
	})
	if !ok {
		return nil
	}
	if more := n - now; more != 1 {
		what += map[bool]string{true: "es", false: "s"}[kind == RequireBoxes]
	}
	return []Fix{{Words: fmt.Sprintf("allow %d more %s", n-now, what), Count: n}}
}

// fewerOf asks for fewer pieces of what must be in.
func (c *conflictSearch) fewerOf(sku string, dropped []int) []Fix {
	at := slices.IndexFunc(c.p.Brief.Must, func(m catalog.Mention) bool { return m.SKU == sku })
	if at < 0 || c.p.Brief.Must[at].Count < 2 {
		return nil
	}
	now := c.p.Brief.Must[at].Count
	n, ok := least(1, now-1, func(n int) bool {
		return c.can(dropped, func(p *Problem, _ *setting.Relaxation) {
			for i := range p.Brief.Must {
				if p.Brief.Must[i].SKU == sku {
					p.Brief.Must[i].Count = now - n
				}
			}
		})
	})
	if !ok {
		return nil
	}
	return []Fix{{Words: fmt.Sprintf("do with %d of %s", now-n, sku), Count: now - n}}
}
