package optimizer

import (
	"context"
	"slices"
	"testing"

	"loudfor/catalog"
	"loudfor/model/amplifier"
)

// eases is a fix as a change of the problem, and the same with one unit less,
// in every way in which there can be less; pieces say which units they are.
func eases(q *Requirement, f *Fix, b *catalog.Brief, v *catalog.Vehicle) (enough func(*Problem, *relaxed), less []func(*Problem, *relaxed)) {
	shrink := func(s catalog.Size3, side int) catalog.Size3 {
		at := []*float64{&s.Width, &s.Depth, &s.Height}[side]
		*at -= 1.0 / millimetres
		return s
	}
	switch q.Kind {
	case RequireCap:
		by := func(n int64) func(*Problem, *relaxed) {
			return func(p *Problem, _ *relaxed) { p.Brief.Cap = f.Cap; p.Brief.Cap.Minor += n }
		}
		return by(0), []func(*Problem, *relaxed){by(-1)}
	case RequireSpace:
		to := func(s catalog.Size3) func(*Problem, *relaxed) {
			return func(p *Problem, _ *relaxed) { p.Brief.Space = s }
		}
		for side := range 3 {
			if now := [3]float64{b.Space.Width, b.Space.Depth, b.Space.Height}[side]; [3]float64{f.Space.Width, f.Space.Depth, f.Space.Height}[side] > now+1e-9 {
				less = append(less, to(shrink(f.Space, side)))
			}
		}
		return to(f.Space), less
	case RequireBoot:
		to := func(boot [2]float64) func(*Problem, *relaxed) {
			return func(p *Problem, _ *relaxed) { p.Vehicle.Boot = boot }
		}
		for side := range f.Boot {
			if f.Boot[side] > v.Boot[side]+1e-9 {
				smaller := f.Boot
				smaller[side] -= 1.0 / millimetres
				less = append(less, to(smaller))
			}
		}
		return to(f.Boot), less
	case RequireLoad:
		to := func(load float64) func(*Problem, *relaxed) {
			return func(_ *Problem, r *relaxed) { r.load, r.least = true, load }
		}
		return to(f.Load), []func(*Problem, *relaxed){to(f.Load * 1.05)}
	case RequireCable:
		to := func(amps float64) func(*Problem, *relaxed) {
			return func(_ *Problem, r *relaxed) { r.cable, r.amps = true, amps }
		}
		less = append(less, to(f.Amps-1))
		if f.Amps == 1 {
			less = nil
		}
		return to(f.Amps), less
	case RequireStores:
		to := func(stores []string) func(*Problem, *relaxed) {
			return func(p *Problem, _ *relaxed) { p.Brief.Stores = slices.Concat(b.Stores, stores) }
		}
		for i := range f.Stores {
			less = append(less, to(slices.Delete(slices.Clone(f.Stores), i, i+1)))
		}
		return to(f.Stores), less
	case RequireBoxes:
		to := func(n int) func(*Problem, *relaxed) { return func(p *Problem, _ *relaxed) { p.Brief.Boxes = n } }
		return to(f.Count), []func(*Problem, *relaxed){to(f.Count - 1)}
	case RequireDrivers:
		to := func(n int) func(*Problem, *relaxed) { return func(p *Problem, _ *relaxed) { p.Brief.Drivers = n } }
		return to(f.Count), []func(*Problem, *relaxed){to(f.Count - 1)}
	case RequireAmplifiers:
		to := func(n int) func(*Problem, *relaxed) { return func(p *Problem, _ *relaxed) { p.Brief.Amplifiers = n } }
		return to(f.Count), []func(*Problem, *relaxed){to(f.Count - 1)}
	case RequireFront:
		if f.FrontWatts == 0 {
			return func(p *Problem, _ *relaxed) { p.Brief.Front = f.Front }, nil
		}
		to := func(w float64) func(*Problem, *relaxed) {
			return func(p *Problem, _ *relaxed) { p.Brief.FrontWatts = w }
		}
		return to(f.FrontWatts), []func(*Problem, *relaxed){to(f.FrontWatts + 1.0/tenths)}
	case RequireStock:
		to := func(more []catalog.Mention) func(*Problem, *relaxed) {
			return func(p *Problem, _ *relaxed) { p.Catalogue = stockedUp(p.Catalogue, more) }
		}
		for i := range f.Stock {
			fewer := slices.Clone(f.Stock)
			fewer[i].Count--
			less = append(less, to(fewer))
		}
		return to(f.Stock), less
	case RequireMust:
		to := func(n int) func(*Problem, *relaxed) {
			return func(p *Problem, _ *relaxed) {
				for i := range p.Brief.Must {
					if p.Brief.Must[i].SKU == q.Subject {
						p.Brief.Must[i].Count = n
					}
				}
			}
		}
		return to(f.Count), []func(*Problem, *relaxed){to(f.Count + 1)}
	}
	return nil, nil
}

// Every stated amount is enough, and one unit less is not: asked of the search
// itself, with what lies outside a set that is not alone set aside.
func TestFixesAreExact(t *testing.T) {
	c := garage(t)
	cases := 60
	if !long() {
		cases = 15
	}
	kinds := map[RequirementKind]int{}
	for seed := uint64(60_000); cases > 0; seed++ {
		p, car := c.small(seed)
		switch seed % 4 {
		case 0:
			p.Brief.Cap.Minor /= 2
		case 1:
			p.Brief.Space = catalog.Size3{Width: 0.35, Depth: 0.3, Height: 0.25}
		case 2:
			p.Brief.FrontWatts, p.Brief.Front = 60, catalog.FrontReplace
			p.Brief.Stores = []string{"Yard"}
		case 3:
			p.Brief.Drivers, p.Brief.Boxes, p.Brief.Amplifiers = 1, 1, 1
			if seed%8 == 3 { // nothing but the load in the way
				p.Brief = catalog.Brief{Celsius: 20, FrontWatts: 10, Place: p.Brief.Place, Openings: p.Brief.Openings, Drivers: 1, Boxes: 1, Amplifiers: 1}
			}
			for _, part := range p.Catalogue.Parts {
				switch {
				case seed%8 != 3:
				case part.Kind == catalog.KindSubwoofer:
					part.Subwoofer.Card.Coils, part.Subwoofer.Card.CoilLoad, part.Subwoofer.Card.Re = 1, 2, 1.7
				case part.Kind == catalog.KindLoaded:
					part.Stock, part.Priced = 0, false
				case part.Kind == catalog.KindAmplifier:
					spec := &part.Amplifier.Spec
					spec.Ratings = slices.DeleteFunc(slices.Clone(spec.Ratings), func(r amplifier.Rating) bool { return r.Load < 4 })
				}
				if seed%8 != 3 && part.Kind == catalog.KindKit && part.SKU[len(part.SKU)-1]%2 == 0 {
					part.Stock = 0
				}
			}
		}
		r, err := pickIn(context.Background(), p, car)
		if err != nil {
			t.Fatal(err)
		}
		if r.Outcome != Infeasible {
			continue
		}
		cases--
		rules := rulesOf(&p)
		judge := &court{ctx: context.Background(), p: p, rules: rules, car: car, known: map[string]verdict{}}
		for _, set := range r.Conflicts {
			for i := range set {
				q := &set[i]
				var dropped []int
				for k, rule := range rules {
					if !q.Alone && !slices.ContainsFunc(set, func(q Requirement) bool { return sameRequirement(q, rule.Requirement) }) {
						dropped = append(dropped, k)
					}
				}
				brief := p.Brief
				if brief.Space == (catalog.Size3{}) {
					brief.Space = p.Vehicle.Space
				}
				can := func(ease func(*Problem, *relaxed)) bool {
					eased, relaxed := judge.eased(dropped)
					ease(&eased, &relaxed)
					eased.Top = 1
					task, err := readyIn(eased, relaxed, car)
					if err != nil {
						t.Fatal(err)
					}
					return len(task.search(context.Background()).total.best) > 0
				}
				for k := range q.Fixes {
					f := &q.Fixes[k]
					kinds[q.Kind]++
					enough, less := eases(q, f, &brief, &p.Vehicle)
					if enough == nil {
						t.Fatalf("seed %d: a fix for %s", seed, q.Kind)
					}
					if !can(enough) {
						t.Fatalf("seed %d: %q is not enough for %q (alone: %v)", seed, f.Words, q.Words, q.Alone)
					}
					for _, l := range less {
						if can(l) {
							t.Fatalf("seed %d: %q is more than is needed for %q (alone: %v)", seed, f.Words, q.Words, q.Alone)
						}
					}
				}
			}
		}
	}
	t.Logf("fixes by kind: %v", kinds)
	if long() {
		for _, kind := range []RequirementKind{RequireCap, RequireSpace, RequireBoot, RequireStores, RequireFront, RequireStock, RequireDrivers, RequireLoad} {
			if kinds[kind] == 0 {
				t.Errorf("no fix for %s came up", kind)
			}
		}
	}
}
