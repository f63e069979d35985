package optimizer

import (
	"cmp"
	"slices"
	"strings"

	"loudfor/catalog"
	"loudfor/model/supply"
	"loudfor/optimizer/build"
	"loudfor/optimizer/verify"
)

// The oracle finds the best builds by looking at every combination of parts
// and every way of putting it together and of paying for it. It drops nothing,
// sorts nothing before the end, and shares no code with the search but the
// model, the front's figures and the tolerances; each rule of the package
// documentation is written down a second time. What does not depend on the bass
// block is listed once for each amplifier, and what an amplifier draws and
// a cart costs once for each of them, which is a matter of waiting, not of the result.

type oracle struct {
	p    Problem
	t    *task // for the car and the defaults
	list map[oracleKey][]remainder
	best map[string]oracleBuild
	amps map[*catalog.Part]float64 // rated current
	seen int
	till oracleTill
}

type oracleKey struct {
	amp    *catalog.Part
	number int
	spare  bool
}

// remainder is everything but bass block, bass amplifiers and kit.
type remainder struct {
	parts []*catalog.Part
	own   *catalog.Part
	front build.Level
}

type oracleBuild struct {
	level build.Level
	price int64    // millionths of a minor unit, everything included
	cost  int64    // what the till makes of it
	skus  []string // with repeats, sorted
	pair  string   // bass driver and amplifier
}

func (a oracleBuild) compare(b oracleBuild) int {
	return cmp.Or(cmp.Compare(b.level, a.level), cmp.Compare(a.price, b.price), cmp.Compare(len(a.skus), len(b.skus)), slices.Compare(a.skus, b.skus))
}

func (o *oracle) of(kind catalog.Kind) (list []*catalog.Part) {
	for _, p := range o.p.Catalogue.Parts {
		if p.Kind == kind {
			list = append(list, p)
		}
	}
	return list
}

func mentioned(list []catalog.Mention, sku string) (n int) {
	for _, m := range list {
		if m.SKU == sku {
			n += m.Count
		}
	}
	return n
}

// run ranks all builds within the cap and returns the first of them.
func (o *oracle) run(first int) []oracleBuild {
	return o.rank(o.all(), o.p.Brief.Cap, o.p.Distinct, first)
}

// all lists every build, whatever it costs: the best arrangement of every set of
// parts with every pair of bass driver and amplifier.
func (o *oracle) all() (all []oracleBuild) {
	o.till = newOracleTill(&o.p)
	o.list, o.best = map[oracleKey][]remainder{}, map[string]oracleBuild{}
	o.amps = map[*catalog.Part]float64{}
	for _, amp := range o.of(catalog.KindAmplifier) {
		o.amps[amp] = verify.RatedCurrent(amp.Amplifier.Spec)
	}
	for m := 1; m <= o.t.Brief.Boxes; m++ {
		for _, sub := range o.of(catalog.KindSubwoofer) {
			for _, box := range o.of(catalog.KindEnclosure) {
				o.block(sub, box, m)
			}
		}
		for _, loaded := range o.of(catalog.KindLoaded) {
			o.block(loaded, nil, m)
		}
	}
	for _, b := range o.best {
		all = append(all, b)
	}
	slices.SortFunc(all, oracleBuild.compare)
	return all
}

// rank takes of all builds, best first, those within a cap, and of those that
// are ranked as one the first.
func (o *oracle) rank(all []oracleBuild, limit catalog.Money, distinct Distinct, first int) (ranked []oracleBuild) {
	seen, sets := map[string]bool{}, map[string]bool{}
	for _, b := range all {
		set := strings.Join(b.skus, " ")
		key := set
		if distinct == DistinctBass {
			key = b.pair
		}
		if seen[key] || limit != (catalog.Money{}) && b.cost > limit.Minor {
			continue
		}
		if seen[key] = true; len(ranked) < first && !sets[set] { // no set twice, with two ways to connect it
			sets[set] = true
			ranked = append(ranked, b)
		}
	}
	return ranked
}

// judge holds one combination against the rules about the whole of it.
func (o *oracle) judge(l build.Level, d, amp *catalog.Part, bassParts []*catalog.Part, kit *catalog.Part, r *remainder) {
	o.seen++
	if o.p.Brief.Goal == catalog.GoalMusic {
		l = min(l, r.front)
	}
	all := append(append(append(make([]*catalog.Part, 0, 16), bassParts...), kit), r.parts...)
	slices.SortFunc(all, func(a, b *catalog.Part) int { return strings.Compare(a.SKU, b.SKU) })
	amps := 0.0
	var skus []string
	for _, p := range all {
		if mentioned(o.p.Brief.Never, p.SKU) > 0 {
			return
		}
		amps += o.amps[p]
		skus = append(skus, p.SKU)
	}
	due, ok := o.till.due(all)
	if !ok {
		return
	}
	k := kit.Kit
	if !(supply.Kit{Area: k.Area, Length: k.Length, CopperClad: k.CopperClad, Fuse: k.Fuse}).Carries(amps, 0).OK {
		return
	}
	for _, m := range o.p.Brief.Must {
		n := 0
		for _, p := range all {
			if p.SKU == m.SKU {
				n++
			}
		}
		if n < m.Count {
			return
		}
	}
	b := oracleBuild{level: l, price: due, cost: verify.RoundHalfUp(due), skus: skus, pair: d.SKU + " " + amp.SKU}
	key := b.pair + "|" + strings.Join(b.skus, " ")
	if old, known := o.best[key]; !known || b.compare(old) < 0 {
		o.best[key] = b
	}
}
