package optimizer

import (
	"context"
	"slices"
	"testing"

	"loudfor/catalog"
	"loudfor/model/amplifier"
	"loudfor/optimizer/setting"
)

// eases is a fix as a change of the problem, and the same with one unit less,
// in every way in which there can be less; pieces say which units they are.
func eases(q *Requirement, f *Fix, b *catalog.Brief, v *catalog.Vehicle) (enough func(*Problem, *setting.Relaxation), less []func(*Problem, *setting.Relaxation)) {
	shrink := func(s catalog.Size3, side int) catalog.Size3 {
		at := []*float64{&s.Width, &s.Depth, &s.Height}[side]
		*at -= 1.0 / millimetres
		return s
	}
	switch q.Kind {
	case RequireCap:
		by := func(n int64) func(*Problem, *setting.Relaxation) {
			return func(p *Problem, _ *setting.Relaxation) { p.Brief.Cap = f.Cap; p.Brief.Cap.Minor += n }
		}
		return by(0), []func(*Problem, *setting.Relaxation){by(-1)}
	case RequireSpace:
		to := func(s catalog.Size3) func(*Problem, *setting.Relaxation) {
			return func(p *Problem, _ *setting.Relaxation) { p.Brief.Space = s }
		}
		for side := range 3 {
			if now := [3]float64{b.Space.Width, b.Space.Depth, b.Space.Height}[side]; [3]float64{f.Space.Width, f.Space.Depth, f.Space.Height}[side] > now+1e-9 {
				less = append(less, to(shrink(f.Space, side)))
			}
		}
		return to(f.Space), less
	case RequireBoot:
		to := func(boot [2]float64) func(*Problem, *setting.Relaxation) {
			return func(p *Problem, _ *setting.Relaxation) { p.Vehicle.Boot = boot }
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
		to := func(load float64) func(*Problem, *setting.Relaxation) {
			return func(_ *Problem, r *setting.Relaxation) { r.Load, r.Least = true, load }
		}
		return to(f.Load), []func(*Problem, *setting.Relaxation){to(f.Load * 1.05)}
	case RequireCable:
		to := func(amps float64) func(*Problem, *setting.Relaxation) {
			return func(_ *Problem, r *setting.Relaxation) { r.Cable, r.Amps = true, amps }
		}
		less = append(less, to(f.Amps-1))
		if f.Amps == 1 {
			less = nil
		}
		return to(f.Amps), less
	case RequireStores:
		to := func(stores []string) func(*Problem, *setting.Relaxation) {
			return func(p *Problem, _ *setting.Relaxation) { p.Brief.Stores = slices.Concat(b.Stores, stores) }
		}
		for i := range f.Stores {
			less = append(less, to(slices.Delete(slices.Clone(f.Stores), i, i+1)))
		}
		return to(f.Stores), less
	case RequireBoxes:
		to := func(n int) func(*Problem, *setting.Relaxation) {
			return func(p *Problem, _ *setting.Relaxation) { p.Brief.Boxes = n }
		}
		return to(f.Count), []func(*Problem, *setting.Relaxation){to(f.Count - 1)}
	case RequireDrivers:
		to := func(n int) func(*Problem, *setting.Relaxation) {
			return func(p *Problem, _ *setting.Relaxation) { p.Brief.Drivers = n }
		}
		return to(f.Count), []func(*Problem, *setting.Relaxation){to(f.Count - 1)}
	case RequireAmplifiers:
		to := func(n int) func(*Problem, *setting.Relaxation) {
			return func(p *Problem, _ *setting.Relaxation) { p.Brief.Amplifiers = n }
		}
		return to(f.Count), []func(*Problem, *setting.Relaxation){to(f.Count - 1)}
	case RequireFront:
		if f.FrontWatts == 0 {
			return func(p *Problem, _ *setting.Relaxation) { p.Brief.Front = f.Front }, nil
		}
		to := func(w float64) func(*Problem, *setting.Relaxation) {
			return func(p *Problem, _ *setting.Relaxation) { p.Brief.FrontWatts = w }
		}
		return to(f.FrontWatts), []func(*Problem, *setting.Relaxation){to(f.FrontWatts + 1.0/tenths)}
	case RequireStock:
		to := func(more []catalog.Mention) func(*Problem, *setting.Relaxation) {
			return func(p *Problem, _ *setting.Relaxation) { p.Catalogue = stockedUp(p.Catalogue, more) }
		}
		for i := range f.Stock {
			fewer := slices.Clone(f.Stock)
			fewer[i].Count--
			less = append(less, to(fewer))
		}
		return to(f.Stock), less
	case RequireMust:
		to := func(n int) func(*Problem, *setting.Relaxation) {
			return func(p *Problem, _ *setting.Relaxation) {
				for i := range p.Brief.Must {
					if p.Brief.Must[i].SKU == q.Subject {
						p.Brief.Must[i].Count = n
					}
				}
			}
		}
		return to(f.Count), []func(*Problem, *setting.Relaxation){to(f.Count + 1)}
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
		switch seed % 5 {
		case 4:
			for _, part := range p.Catalogue.Parts {
				if part.Kind == catalog.KindKit {
					part.Kit.Fuse = 3
				}
			}
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
		judge := &conflictSearch{ctx: context.Background(), p: p, rules: rules, car: car, known: map[string]verdict{}}
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
				can := func(ease func(*Problem, *setting.Relaxation)) bool {
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
	if kinds[RequireCable] == 0 {
		t.Error("no cable was too thin")
	}
	if long() {
		for _, kind := range []RequirementKind{RequireCap, RequireSpace, RequireBoot, RequireStores, RequireFront, RequireStock, RequireDrivers, RequireLoad} {
			if kinds[kind] == 0 {
				t.Errorf("no fix for %s came up", kind)
			}
		}
	}
}

// Where one of a part can be had, a build that must hold more of it is told to do with one.
func TestDoWithFewer(t *testing.T) {
	c := garage(t)
	p, car := c.small(2)
	r, err := pickIn(context.Background(), p, car)
	if err != nil || len(r.Builds) == 0 {
		t.Fatalf("%v, %v", r.Outcome, err)
	}
	driver := r.Builds[0].Lines[slices.IndexFunc(r.Builds[0].Lines, func(l Line) bool { return l.Part.Kind == catalog.KindSubwoofer })].Part
	for must := 2; must <= 4; must++ {
		q := p
		shop := *p.Catalogue
		shop.Parts = slices.Clone(shop.Parts)
		for i, part := range shop.Parts {
			if part.SKU == driver.SKU {
				one := *part
				one.Stock = 1
				shop.Parts[i] = &one
			}
		}
		q.Catalogue, q.Brief.Must = &shop, []catalog.Mention{{SKU: driver.SKU, Count: must}}
		r, err := pickIn(context.Background(), q, car)
		if err != nil || r.Outcome != Infeasible {
			t.Fatalf("%v, %v", r.Outcome, err)
		}
		found := false
		for _, set := range r.Conflicts {
			for _, q := range set {
				found = found || q.Kind == RequireMust && slices.ContainsFunc(q.Fixes, func(f Fix) bool { return f.Count == 1 })
			}
		}
		if !found {
			t.Errorf("%d of %s, of which there is one: %+v", must, driver.SKU, r.Conflicts)
		}
	}
}

// Of what is sold out as few are asked for as will do, though the best build has more.
func TestAsFewOfThemAsWillDo(t *testing.T) {
	c := garage(t)
	checked := 0
	for seed := uint64(1); checked < 3 && seed < 200; seed++ {
		p, car := c.small(seed)
		r, err := pickIn(context.Background(), p, car)
		if err != nil {
			t.Fatal(err)
		}
		if len(r.Builds) == 0 {
			continue
		}
		i := slices.IndexFunc(r.Builds[0].Lines, func(l Line) bool { return l.Part.Kind == catalog.KindSubwoofer && l.Count > 1 })
		if i < 0 {
			continue
		}
		driver := r.Builds[0].Lines[i].Part
		shop := *p.Catalogue
		shop.Parts = nil
		for _, part := range p.Catalogue.Parts {
			if part.Kind == catalog.KindLoaded || part.Kind == catalog.KindSubwoofer && part.SKU != driver.SKU {
				continue
			}
			if part.SKU == driver.SKU {
				none := *part
				none.Stock = 0
				part = &none
			}
			shop.Parts = append(shop.Parts, part)
		}
		p.Catalogue, p.Brief.Must, p.Brief.Owned = &shop, nil, nil
		if r, err = pickIn(context.Background(), p, car); err != nil {
			t.Fatal(err)
		}
		for _, set := range r.Conflicts {
			for _, q := range set {
				for _, f := range q.Fixes {
					if q.Kind == RequireStock && q.Alone && len(f.Stock) > 0 {
						checked++
						for n, want := range []Outcome{Infeasible, Optimal} {
							eased := p
							eased.Catalogue = stockedUp(p.Catalogue, []catalog.Mention{{SKU: driver.SKU, Count: f.Stock[0].Count - 1 + n}})
							if got, err := pickIn(context.Background(), eased, car); err != nil || got.Outcome != want {
								t.Errorf("seed %d: %q, and with %d it is %v, %v", seed, f.Words, f.Stock[0].Count-1+n, got.Outcome, err)
							}
						}
					}
				}
			}
		}
	}
	if checked == 0 {
		t.Error("nothing was sold out")
	}
}
