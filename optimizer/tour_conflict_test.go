package optimizer

import (
	"context"
	"reflect"
	"slices"
	"testing"

	"loudfor/catalog"
	"loudfor/optimizer/setting"
)

// solvableOnATour asks the search itself, tour by tour.
func solvableOnATour(t *testing.T, p Problem, r setting.Relaxation, car *task) bool {
	t.Helper()
	problems := []Problem{p}
	if touring(&p) {
		if r.Stock {
			p.Catalogue = neverShort(p.Catalogue)
		}
		tours, err := toursOf(&p, needed(&p.Brief))
		if err != nil {
			t.Fatal(err)
		}
		problems = nil
		for _, tour := range tours {
			problems = append(problems, tour.p)
		}
	}
	for _, q := range problems {
		q.Top = 1
		task, err := readyIn(q, r, car)
		if err != nil {
			t.Fatal(err)
		}
		if len(task.search(context.Background()).total.best) > 0 {
			return true
		}
	}
	return false
}

// Where shops have to be chosen, a conflict blocks by itself as well, none of its
// members can be spared, and what is said to be enough is: with the trips, and to
// the cent.
func TestConflictsOfShops(t *testing.T) {
	c := garage(t)
	tried, most, sums := 0, 0, 0
	for seed := uint64(70_000); tried < int(caseCount(t, 40)); seed++ {
		p, car := c.drawn(seed, mixedMost)
		manyShops(&p, seed)
		switch seed % 3 {
		case 0:
			p.Brief.MostStores = 1
		case 1:
			p.Brief.Cap.Minor = 10_000
		}
		if !touring(&p) {
			continue
		}
		got, err := pickIn(context.Background(), p, car)
		if err != nil {
			t.Fatal(err)
		}
		if got.Outcome != Infeasible {
			continue
		}
		tried++
		if len(got.Conflicts) == 0 {
			t.Fatalf("seed %d: infeasible without a reason", seed)
		}
		ladder, err := ladderIn(context.Background(), p, car)
		if err != nil || ladder.Outcome != Infeasible || ladder.Stop != got.Stop || !reflect.DeepEqual(ladder.Conflicts, got.Conflicts) {
			t.Fatalf("seed %d: the ladder is %s for %+v, not %+v: %v", seed, ladder.Outcome, ladder.Conflicts, got.Conflicts, err)
		}
		ended, end := context.WithCancel(context.Background())
		end()
		if ladder, err = ladderIn(ended, p, car); err != nil || ladder.Outcome != Unknown || len(ladder.Conflicts) > 0 {
			t.Fatalf("seed %d: the ladder that was ended is %s: %v", seed, ladder.Outcome, err)
		}
		judge := &conflictSearch{ctx: context.Background(), p: p, rules: rulesOf(&p), car: car, known: map[string]verdict{}}
		can := func(ease func(*Problem), dropped ...int) bool {
			q, r := judge.eased(dropped)
			ease(&q)
			return solvableOnATour(t, q, r, car)
		}
		for _, set := range got.Conflicts {
			if set[0].Kind == RequireKinds {
				continue
			}
			var others []int
			for i, rule := range judge.rules {
				if !slices.ContainsFunc(set, func(q Requirement) bool { return sameRequirement(q, rule.Requirement) }) {
					others = append(others, i)
				}
			}
			as := func(*Problem) {}
			if can(as, others...) {
				t.Fatalf("seed %d: %+v does not block", seed, set)
			}
			for _, q := range set {
				i := slices.IndexFunc(judge.rules, func(x rule) bool { return sameRequirement(q, x.Requirement) })
				if !can(as, append(slices.Clone(others), i)...) {
					t.Fatalf("seed %d: %s can be spared", seed, q.Words)
				}
				dropped := others
				if q.Alone {
					dropped = nil
				}
				for _, f := range q.Fixes {
					switch q.Kind {
					case RequireCap:
						sums++
						if !can(func(p *Problem) { p.Brief.Cap = f.Cap }, dropped...) || can(func(p *Problem) { p.Brief.Cap.Minor = f.Cap.Minor - 1 }, dropped...) {
							t.Fatalf("seed %d: %q is not exact", seed, f.Words)
						}
					case RequireMostStores:
						most++
						if !can(func(p *Problem) { p.Brief.MostStores = f.Count }, dropped...) || can(func(p *Problem) { p.Brief.MostStores = f.Count - 1 }, dropped...) {
							t.Fatalf("seed %d: %q is not exact", seed, f.Words)
						}
					}
				}
				if (q.Kind == RequireCap || q.Kind == RequireMostStores) && q.Alone && len(q.Fixes) == 0 {
					t.Fatalf("seed %d: no amount for %q", seed, q.Words)
				}
			}
		}
	}
	t.Logf("%d problems: %d sums, %d numbers of shops", tried, sums, most)
	if sums == 0 || most == 0 && long() {
		t.Errorf("%d sums and %d numbers of shops only", sums, most)
	}
}

// What the customer is told at the counter: two shops, each with a part of what is
// needed, one shop at most.
func TestMostStoresIsSaid(t *testing.T) {
	c := garage(t)
	for seed := uint64(1); ; seed++ {
		p, car := c.small(seed)
		p.Brief.Cap, p.Brief.Must, p.Brief.Never, p.Brief.Stores, p.Brief.Owned = catalog.Money{}, nil, nil, nil, nil
		if b := best(t, p, car); b == nil {
			continue
		}
		var parts []*catalog.Part
		for _, part := range p.Catalogue.Parts {
			q := *part
			if q.Store = "Yard"; q.Kind == catalog.KindKit {
				q.Store = "Mail"
			}
			parts = append(parts, &q)
		}
		p.Catalogue = catalog.New(p.Catalogue.Currency, parts)
		p.Brief.MostStores = 1
		r, err := pickIn(context.Background(), p, car)
		if err != nil {
			t.Fatal(err)
		}
		if len(r.Conflicts) != 1 || len(r.Conflicts[0]) != 1 || r.Conflicts[0][0].Kind != RequireMostStores || r.Conflicts[0][0].Remedy != "allow 1 more shop" {
			t.Fatalf("seed %d: %+v", seed, r.Conflicts)
		}
		return
	}
}
