package audit

import (
	"cmp"
	"math"
	"slices"

	"loudfor/catalog"
	"loudfor/model/supply"
	"loudfor/optimizer/build"
	"loudfor/optimizer/verify"
)

// What can be had, for how much at least: prices are millionths of a minor unit
// with tax and the labour that goes with a piece.

// ppm is how many millionths of a minor unit of money there are in one.
const ppm = 1_000_000

// boundless is more than any sum, and far from overflowing.
const boundless = int64(math.MaxInt64 / 8)

// piece is a part as this customer meets it.
type piece struct {
	part  *catalog.Part
	owned int
	most  int   // pieces that can be in a build, owned ones included
	must  int   // pieces that have to be
	each  int64 // labour for a piece, owned or not
	least int64 // what one that is bought costs at least

	demand float64 // of an amplifier with all channels at their ratings, A
}

// lower is what so many pieces cost at least. It is convex in n, so two uses of
// one part never cost less together than these added.
func (p *piece) lower(n int) int64 {
	if p == nil {
		return 0
	}
	return int64(n)*p.each + int64(max(0, n-p.owned))*p.least
}

func (p *piece) sku() string { return p.part.SKU }

// stock lists every part that can be in a build, cheapest first. What must be in
// one excludes others of its slot: of sources, pairs, kits, converters and
// blockers a build has one.
func (a *auditor) stock() {
	b := &a.brief
	count := func(list []catalog.Mention, sku string) (n int) {
		for _, m := range list {
			if m.SKU == sku {
				n += max(m.Count, 1)
			}
		}
		return n
	}
	labour := catalog.LabourLines(b, &a.Vehicle)
	for _, l := range labour {
		if l.Per == catalog.KindCount {
			a.fixed += l.Price.Minor * (ppm + b.TaxOnLabour(&l))
		}
	}
	for _, part := range a.Catalogue.Parts {
		a.bySKU[part.SKU] = &piece{part: part}
	}
	for _, part := range a.Catalogue.Parts {
		if part.Kind >= catalog.KindSheet {
			continue
		}
		p := a.bySKU[part.SKU]
		p.owned, p.must = count(b.Owned, part.SKU), count(b.Must, part.SKU)
		p.most = p.owned + a.buyable(part)
		if count(b.Never, part.SKU) > 0 {
			p.most = 0
		}
		for _, l := range labour {
			switch work := l.Price.Minor * (ppm + b.TaxOnLabour(&l)); {
			case l.Per != part.Kind:
			case l.Installed:
				p.each += work
			default:
				p.least += work
			}
		}
		p.least += a.leastPrice(part)
		if part.Amplifier != nil {
			p.demand = verify.RatedCurrent(part.Amplifier.Spec)
		}
		if p.must > 0 {
			a.musts = append(a.musts, p)
		}
		if p.most > 0 {
			a.kinds[part.Kind] = append(a.kinds[part.Kind], p)
		}
	}
	for kind, list := range a.kinds {
		switch catalog.Kind(kind) {
		case catalog.KindSource, catalog.KindKit, catalog.KindFront, catalog.KindConverter, catalog.KindBlocker:
			if slices.ContainsFunc(list, func(p *piece) bool { return p.must > 0 }) {
				a.forced[kind] = true
				a.kinds[kind] = slices.DeleteFunc(list, func(p *piece) bool { return p.must == 0 })
			}
		}
		slices.SortStableFunc(a.kinds[kind], func(p, q *piece) int {
			return cmp.Or(cmp.Compare(p.lower(1), q.lower(1)), cmp.Compare(p.sku(), q.sku()))
		})
	}
	a.limit = boundless
	if b.Cap != (catalog.Money{}) {
		a.limit = b.Cap.Minor*ppm + ppm/2 - 1 - a.fixed
	}
	a.kits()
}

// buyable is how many pieces all shops that the brief allows sell.
func (a *auditor) buyable(p *catalog.Part) int {
	if !p.Priced {
		return 0
	}
	n := 0
	for _, o := range a.offers(p) {
		if o.Stock == catalog.Unlimited {
			n = build.Plenty
		}
		n += max(0, o.Stock)
	}
	if p.Limit != catalog.Unlimited {
		n = min(n, max(0, p.Limit))
	}
	return n
}

// offers are those of the shops that the brief allows.
func (a *auditor) offers(p *catalog.Part) []catalog.Offer {
	all := append([]catalog.Offer{{Store: p.Store, Price: p.Price, Stock: p.Stock}}, p.Offers...)
	return slices.DeleteFunc(all, func(o catalog.Offer) bool { return !a.brief.Sells(o.Store) })
}

// leastPrice is what no piece of a part is paid less than: its price in the
// cheapest shop, or its share of the best deal.
func (a *auditor) leastPrice(p *catalog.Part) int64 {
	least := boundless / ppm
	for _, o := range a.offers(p) {
		least = min(least, o.Price.Minor)
	}
	tax := ppm + a.brief.TaxOn(p.Kind)
	price := least * tax
	for _, d := range a.Catalogue.Deals {
		for i, m := range d.Parts {
			if m.SKU != p.SKU {
				continue
			}
			switch d.Form {
			case catalog.DealSet:
				var alone []int64
				for _, n := range d.Parts {
					alone = append(alone, int64(n.Count)*a.bySKU[n.SKU].part.Price.Minor)
				}
				price = min(price, catalog.Portions(d.Price.Minor, alone)[i]*tax/int64(m.Count))
			case catalog.DealFrom:
				price = min(price, d.Price.Minor*tax)
			case catalog.DealEvery:
				price = min(price, (int64(d.Every-1)*least+min(least, d.Reduced(p.Price.Minor)))*tax/int64(d.Every))
			}
		}
	}
	return price
}

// kit is a wiring kit laid in the car.
type kit struct {
	*piece
	resistance float64 // ohm, go and return
	capacity   float64 // A that it carries
	line       supply.Line
	feed       supply.Feed
}

// reachTolerance lets a kit pass that a rounded figure makes too short.
const reachTolerance = 0.02

func (a *auditor) kits() {
	for _, p := range a.kinds[catalog.KindKit] {
		k, run := p.part.Kit, a.Vehicle.CableRun
		if !(run > 0) {
			run = k.Length
		}
		if k.Length > 0 && k.Length < run*(1-reachTolerance) {
			continue
		}
		v := (supply.Kit{Area: k.Area, Length: k.Length, CopperClad: k.CopperClad, Fuse: k.Fuse}).Carries(0, 0)
		if !v.OK {
			continue
		}
		laid := kit{piece: p, resistance: supply.Resistance(k.Area, run, k.CopperClad), feed: a.feed, capacity: min(v.Ampacity, supply.LargestFuse(v.Ampacity), v.Fuse)}
		laid.feed.CableResistance = laid.resistance
		laid.line = laid.feed.Line()
		a.cables = append(a.cables, laid)
		if n := len(a.lines); n > 0 && a.lines[n-1].resistance < laid.resistance {
			laid = a.lines[n-1]
		}
		a.lines = append(a.lines, laid)
	}
}
