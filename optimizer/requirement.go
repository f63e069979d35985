package optimizer

import (
	"fmt"
	"slices"

	"loudfor/catalog"
	"loudfor/optimizer/build"
	"loudfor/optimizer/setting"
)

// Every rule that can be dropped to find out what blocks. Dropping a limit on
// numbers raises it to more than any car holds.

// rule is a requirement with the way to drop it.
type rule struct {
	Requirement
	drop func(p *Problem, r *setting.Relaxation)
}

// rulesOf lists the requirements of a problem. The first ones are the first
// that a conflict is freed of, so that it is put in terms of what the customer
// said rather than of what the trade demands, wherever both would do.
func rulesOf(p *Problem) []rule {
	b := &p.Brief
	var all []rule
	add := func(kind RequirementKind, subject, words, remedy string, drop func(*Problem, *setting.Relaxation)) {
		all = append(all, rule{Requirement{Kind: kind, Subject: subject, Words: words, Remedy: remedy}, drop})
	}
	add(RequireCable, "", "the wiring kit carries the current of all amplifiers", "allow a thinner kit than the current asks for, or offer a thicker one",
		func(_ *Problem, r *setting.Relaxation) { r.Cable = true })
	add(RequireSignal, "", "the signal reaches every amplifier", "offer a line converter or a source with line outputs",
		func(_ *Problem, r *setting.Relaxation) { r.Signal = true })
	add(RequireLoad, "", "no amplifier drives less than its rated minimum load", "offer an amplifier rated for a lower load",
		func(_ *Problem, r *setting.Relaxation) { r.Load = true })
	add(RequireStock, "", "only what is in stock, within the limit for a customer", "wait for stock, or ask for more pieces",
		func(_ *Problem, r *setting.Relaxation) { r.Stock = true })
	number := func(kind RequirementKind, what string, value *int, fallback, most int, drop func(*Problem)) {
		n := *value
		if n <= 0 {
			n = fallback
		}
		if n < most {
			add(kind, "", fmt.Sprintf("at most %d %s", n, what), fmt.Sprintf("allow more %s than %d", what, n), func(p *Problem, _ *setting.Relaxation) { drop(p) })
		}
	}
	number(RequireAmplifiers, "bass amplifiers", &b.Amplifiers, catalog.DefaultBrief().Amplifiers, build.AnyAmplifiers, func(p *Problem) { p.Brief.Amplifiers = build.AnyAmplifiers })
	number(RequireBoxes, "boxes", &b.Boxes, catalog.DefaultBrief().Boxes, build.AnyBoxes, func(p *Problem) { p.Brief.Boxes = build.AnyBoxes })
	number(RequireDrivers, "bass drivers", &b.Drivers, catalog.DefaultBrief().Drivers, build.AnyDrivers, func(p *Problem) { p.Brief.Drivers = build.AnyDrivers })
	for i, m := range b.Never {
		add(RequireNever, m.SKU, "never "+m.SKU, "allow "+m.SKU, func(p *Problem, _ *setting.Relaxation) { p.Brief.Never[i].SKU = "" })
	}
	if len(b.Stores) > 0 {
		add(RequireStores, "", "bought only at "+list(b.Stores), "allow other stores", func(p *Problem, _ *setting.Relaxation) { p.Brief.Stores = nil })
	}
	if n := b.MostStores; n > 0 && touring(p) {
		add(RequireMostStores, "", fmt.Sprintf("bought at %s at most", counted(n, "shop")), "go to more shops", func(p *Problem, _ *setting.Relaxation) { p.Brief.MostStores = 0 })
	}
	if b.Front == catalog.FrontReplace {
		what, remedy := "new front speakers", "keep the front speakers"
		if b.FrontWatts > 0 {
			what, remedy = fmt.Sprintf("%s with at least %g W a side", what, b.FrontWatts), remedy+", or ask for less power"
		}
		add(RequireFront, "", what, remedy,
			func(_ *Problem, r *setting.Relaxation) { r.Front = true })
	}
	if b.Space != (catalog.Size3{}) || p.Vehicle.Space != (catalog.Size3{}) {
		s := b.Space
		if s == (catalog.Size3{}) {
			s = p.Vehicle.Space
		}
		add(RequireSpace, "", fmt.Sprintf("boxes within %s", size(s)), "make more room", func(_ *Problem, r *setting.Relaxation) { r.Space = true })
	}
	if boot := p.Vehicle.Boot; boot != ([2]float64{}) {
		add(RequireBoot, "", fmt.Sprintf("boxes that go through the boot's opening of %s", opening(boot)), "take a car with a larger opening",
			func(_ *Problem, r *setting.Relaxation) { r.Boot = true })
	}
	for i, m := range b.Must {
		words := m.SKU
		if m.Count > 1 {
			words = fmt.Sprintf("%s x %d", m.SKU, m.Count)
		}
		remedy := "do without " + words
		if part := p.Catalogue.Part(m.SKU); part != nil && !part.Priced {
			remedy += ", give it a price, or name it under owned"
		}
		add(RequireMust, m.SKU, words+" must be in it", remedy, func(p *Problem, _ *setting.Relaxation) { p.Brief.Must[i].SKU = "" })
	}
	if b.Cap != (catalog.Money{}) {
		trips := ""
		if touring(p) && slices.ContainsFunc(p.Catalogue.Shops, func(s *catalog.Store) bool { return s.Trip.Minor > 0 }) {
			trips = ", trips to the shops too"
		}
		add(RequireCap, "", fmt.Sprintf("no more than %s, everything included%s", b.Cap, trips), "raise the cap", func(p *Problem, _ *setting.Relaxation) { p.Brief.Cap = catalog.Money{} })
	}
	return all
}

// counted writes a number of things.
func counted(n int, what string) string {
	if n != 1 {
		what += "s"
	}
	return fmt.Sprintf("%d %s", n, what)
}

// size writes a size in whole centimetres.
func size(s catalog.Size3) string {
	return fmt.Sprintf("%.0f x %.0f x %.0f cm", 100*s.Width, 100*s.Depth, 100*s.Height)
}

// opening writes the size of one.
func opening(o [2]float64) string { return fmt.Sprintf("%.0f x %.0f cm", 100*o[0], 100*o[1]) }

func list(words []string) string {
	s := ""
	for i, w := range words {
		switch {
		case i > 0 && i == len(words)-1:
			s += " and "
		case i > 0:
			s += ", "
		}
		s += w
	}
	return s
}
