package optimizer

import (
	"context"
	"fmt"
	"slices"
	"strings"
	"testing"

	"loudfor/catalog"
)

// solvable asks the search itself, not the shortcut by which conflicts are
// found, whether a problem without some of its rules has a build.
func solvable(t *testing.T, p Problem, car *task, dropped []rule) bool {
	t.Helper()
	q, r := p, relaxed{}
	q.Brief.Never, q.Brief.Must = slices.Clone(p.Brief.Never), slices.Clone(p.Brief.Must)
	for _, d := range dropped {
		d.drop(&q, &r)
	}
	empty := func(m catalog.Mention) bool { return m.SKU == "" }
	q.Brief.Never, q.Brief.Must = slices.DeleteFunc(q.Brief.Never, empty), slices.DeleteFunc(q.Brief.Must, empty)
	q.Top = 1
	full, err := readyIn(q, r, car)
	if err != nil {
		t.Fatal(err)
	}
	return len(full.search(context.Background()).total.best) > 0
}

func sameRequirement(a, b Requirement) bool { return a.Kind == b.Kind && a.Subject == b.Subject }

// Each conflict blocks by itself, and none of its members can be spared.
func TestConflictsAreMinimal(t *testing.T) {
	c := garage(t)
	tried, several := 0, 0
	kinds := map[RequirementKind]int{}
	for seed := uint64(20_000); tried < 40; seed++ {
		p, car := c.small(seed)
		if p.Brief.Cap != (catalog.Money{}) {
			p.Brief.Cap.Minor /= 2
		}
		r, err := pickIn(context.Background(), p, car)
		if err != nil {
			t.Fatal(err)
		}
		if r.Outcome != Infeasible {
			continue
		}
		tried++
		if len(r.Conflicts) == 0 {
			t.Fatalf("seed %d: infeasible without a reason", seed)
		}
		if len(r.Conflicts) > 1 {
			several++
		}
		rules := rulesOf(&p)
		for _, set := range r.Conflicts {
			if set[0].Kind == RequireKinds {
				if solvable(t, p, car, rules) {
					t.Fatalf("seed %d: said to lack parts, yet solvable without rules", seed)
				}
				kinds[RequireKinds]++
				continue
			}
			others := slices.DeleteFunc(slices.Clone(rules), func(x rule) bool {
				return slices.ContainsFunc(set, func(q Requirement) bool { return sameRequirement(q, x.Requirement) })
			})
			if len(others)+len(set) != len(rules) {
				t.Fatalf("seed %d: a conflict names a rule that is none", seed)
			}
			if solvable(t, p, car, others) {
				t.Fatalf("seed %d: %+v does not block", seed, set)
			}
			for _, q := range set {
				kinds[q.Kind]++
				i := slices.IndexFunc(rules, func(x rule) bool { return sameRequirement(q, x.Requirement) })
				if !solvable(t, p, car, append(slices.Clone(others), rules[i])) {
					t.Fatalf("seed %d: %s can be spared from %+v", seed, q.Words, set)
				}
				if alone := solvable(t, p, car, rules[i:i+1]); alone != q.Alone {
					t.Fatalf("seed %d: dropping %q alone: said %v, is %v", seed, q.Words, q.Alone, alone)
				}
				if q.Words == "" || q.Remedy == "" {
					t.Fatalf("seed %d: no words for %v", seed, q.Kind)
				}
			}
		}
	}
	t.Logf("%d problems, %d with several conflicts; members by kind: %v", tried, several, kinds)
}

// The sum by which the cap is said to be too low is exact.
func TestCapRemedyIsExact(t *testing.T) {
	c := garage(t)
	tried := 0
	for seed := uint64(30_000); tried < 25; seed++ {
		p, car := c.small(seed)
		if p.Brief.Cap == (catalog.Money{}) {
			continue
		}
		p.Brief.Cap.Minor = 9_000
		r, err := pickIn(context.Background(), p, car)
		if err != nil {
			t.Fatal(err)
		}
		for _, set := range r.Conflicts {
			for _, q := range set {
				if q.Kind != RequireCap || !q.Alone {
					continue
				}
				tried++
				var whole, cents int64
				if _, err := fmt.Sscanf(q.Remedy, "%d.%d USD more in the cap", &whole, &cents); err != nil {
					t.Fatalf("seed %d: %q: %v", seed, q.Remedy, err)
				}
				enough := p
				enough.Brief.Cap.Minor += 100*whole + cents
				if best(t, enough, car) == nil {
					t.Fatalf("seed %d: %s is not enough", seed, q.Remedy)
				}
				enough.Brief.Cap.Minor--
				if best(t, enough, car) != nil {
					t.Fatalf("seed %d: %s is more than needed", seed, q.Remedy)
				}
			}
		}
	}
}

func TestEmptyShelfSaysWhatIsMissing(t *testing.T) {
	c := garage(t)
	p := Problem{Catalogue: &catalog.Catalogue{Currency: "USD"}, Vehicle: c.vehicles[0], Brief: catalog.Brief{Celsius: 20, FrontWatts: 10, Place: "dash", Openings: "shut"}}
	r, err := pickIn(context.Background(), p, c.tasks[0])
	if err != nil {
		t.Fatal(err)
	}
	var all []string
	for _, q := range r.Conflicts[0] {
		all = append(all, q.Subject)
	}
	want := "a subwoofer or a loaded enclosure, an amplifier, a source, a wiring kit"
	if got := strings.Join(all, ", "); r.Outcome != Infeasible || got != want {
		t.Errorf("%v: %q, want %q", r.Outcome, got, want)
	}
}
