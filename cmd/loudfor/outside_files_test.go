package main

import (
	"fmt"
	"slices"
	"strings"
)

// How the files of a case read.

// dollars writes cents as files have them.
func dollars(cents int64) string { return fmt.Sprintf("%d.%02d USD", cents/100, cents%100) }

// percent writes hundredths of a percent.
func percent(p int64) string { return fmt.Sprintf("%d.%02d %%", p/100, p%100) }

func (c *outCase) shopFile() string {
	var b strings.Builder
	b.WriteString("parts:\n")
	for _, p := range c.parts {
		fmt.Fprintf(&b, "  - {sku: %s, kind: %s, store: %s, %s", p.sku, p.kind, p.store, p.body)
		if p.price >= 0 {
			fmt.Fprintf(&b, ", price: %s", dollars(p.price))
		}
		if p.stock >= 0 {
			fmt.Fprintf(&b, ", stock: %d", p.stock)
		}
		if p.limit >= 0 {
			fmt.Fprintf(&b, ", limit: %d", p.limit)
		}
		for i, o := range p.offers {
			b.WriteString([]string{", offers: [", ", "}[min(i, 1)])
			fmt.Fprintf(&b, "{store: %s, price: %s", o.store, dollars(o.price))
			if o.stock >= 0 {
				fmt.Fprintf(&b, ", stock: %d", o.stock)
			}
			b.WriteString("}")
		}
		if len(p.offers) > 0 {
			b.WriteString("]")
		}
		b.WriteString("}\n")
	}
	if len(c.deals) > 0 {
		b.WriteString("deals:\n")
	}
	for _, d := range c.deals {
		fmt.Fprintf(&b, "  - {name: %s", d.name)
		switch {
		case d.from > 0:
			fmt.Fprintf(&b, ", sku: %s, from: %d, price: %s, applies: %s", d.parts[0].sku, d.from, dollars(d.price), map[bool]string{true: "all", false: "further"}[d.all])
		case d.every > 0:
			fmt.Fprintf(&b, ", sku: %s, every: %d, off: %d %%", d.parts[0].sku, d.every, d.off)
		default:
			fmt.Fprintf(&b, ", parts: %s, price: %s", mentions(d.parts), dollars(d.price))
		}
		if d.limit >= 0 {
			fmt.Fprintf(&b, ", limit: %d", d.limit)
		}
		if d.store != "" {
			fmt.Fprintf(&b, ", store: %s", d.store)
		}
		b.WriteString("}\n")
	}
	if len(c.trips) > 0 {
		b.WriteString("stores:\n")
	}
	for _, s := range outShops {
		if trip, ok := c.trips[s]; ok {
			fmt.Fprintf(&b, "  - {name: %s, trip: %s}\n", s, dollars(trip))
		}
	}
	return b.String()
}

// keys are those of the brief; a build to predict has neither must nor never.
func (c *outCase) keys(brief bool) string {
	var b strings.Builder
	fmt.Fprintf(&b, "cap: %s\nvehicle: the van\nplace: dash\nopenings: shut\nfront: %s\nboxes: %d\ndrivers: %d\namplifiers: %d\nfront_watts: %d W\n",
		dollars(c.limit), c.front, c.boxes, c.drivers, c.amplifiers, c.frontWatts)
	fmt.Fprintf(&b, "goal: %s\nowned: %s\n", map[bool]string{true: "music", false: "reading"}[c.music], mentions(c.owned))
	if brief {
		fmt.Fprintf(&b, "must: %s\nnever: %s\n", mentions(c.must), mentions(c.never))
	}
	if len(c.stores) > 0 {
		fmt.Fprintf(&b, "stores: [%s]\n", strings.Join(c.stores, ", "))
	}
	if c.mostStores > 0 {
		fmt.Fprintf(&b, "most_stores: %d\n", c.mostStores)
	}
	if c.space[0] > 0 {
		fmt.Fprintf(&b, "space: %d x %d x %d cm\n", c.space[0], c.space[1], c.space[2])
	}
	fmt.Fprintf(&b, "tax: {default: %s", percent(c.tax))
	for _, kind := range []string{"subwoofer", "amplifier", "enclosure", "wiring kit", "labour"} {
		if p, ok := c.taxes[kind]; ok {
			fmt.Fprintf(&b, ", %s: %s", kind, percent(p))
		}
	}
	b.WriteString("}\n")
	if len(c.work) > 0 {
		b.WriteString("labour:\n")
	}
	for _, w := range c.work {
		fmt.Fprintf(&b, "  - {name: %s, price: %s, per: %s", w.name, dollars(w.price), w.per)
		if w.installed {
			b.WriteString(", pieces: installed")
		}
		if w.tax >= 0 {
			fmt.Fprintf(&b, ", tax: %s", percent(w.tax))
		}
		b.WriteString("}\n")
	}
	return b.String()
}

func (c *outCase) carFile() string {
	s := fmt.Sprintf("vehicles:\n  - name: the van\n    body: small sedan\n    space: 160 x 60 x 60 cm\n    alternator: 120 A\n    cable_run: %d.%d m\n", c.cable/10, c.cable%10)
	if c.boot[0] > 0 {
		s += fmt.Sprintf("    boot_opening: %d x %d cm\n", c.boot[0], c.boot[1])
	}
	return s
}

// mentions writes a list such as [A, "B x 2"].
func mentions(list []outCount) string {
	var all []string
	for _, m := range list {
		if m.n == 1 {
			all = append(all, m.sku)
		} else {
			all = append(all, fmt.Sprintf("%q", fmt.Sprintf("%s x %d", m.sku, m.n)))
		}
	}
	return "[" + strings.Join(all, ", ") + "]"
}

// merged names each part once.
func merged(list []outCount) (out []outCount) {
	for _, m := range list {
		if i := slices.IndexFunc(out, func(o outCount) bool { return o.sku == m.sku }); i >= 0 {
			out[i].n += m.n
		} else {
			out = append(out, m)
		}
	}
	return out
}

func outCounted(list []outCount, sku string) (n int) {
	for _, m := range list {
		if m.sku == sku {
			n += m.n
		}
	}
	return n
}
