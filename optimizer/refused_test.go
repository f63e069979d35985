package optimizer

import (
	"context"
	"slices"
	"strings"
	"testing"

	"loudfor/catalog"
	"loudfor/optimizer/setting"
)

// A build that the recheck refuses is shown and marked, with what is needed to find
// the cause, and hides no other.
func TestARefusedBuildIsShown(t *testing.T) {
	c := garage(t)
	refused := 0
	for seed := uint64(1); refused < 10; seed++ {
		p, car := c.small(seed)
		p.Bare = seed%2 == 0
		task, err := readyIn(p, setting.Relaxation{}, car)
		if err != nil {
			t.Fatal(err)
		}
		s := task.search(context.Background())
		ranked := len(s.total.best)
		if ranked < 2 {
			continue
		}
		refused++
		s.total.best[1].level += 1000                                     // a level that the build does not have
		task.Problem.Brief.Cap = catalog.Money{Minor: 1, Currency: "USD"} // a rule that the search did not know
		r, err := s.result(context.Background(), p)
		if err != nil || len(r.Builds) != ranked {
			t.Fatalf("seed %d: %d of %d builds, %v", seed, len(r.Builds), ranked, err)
		}
		for i := range r.Builds {
			b := &r.Builds[i]
			if !strings.Contains(b.Fault, "above the cap") || strings.Contains(b.Fault, "it was found at") != (i == 1) {
				t.Fatalf("seed %d: build %d: %q", seed, i+1, b.Fault)
			}
			if len(b.Warnings) == 0 || !strings.Contains(b.Warnings[0], "not confirmed") || !strings.Contains(b.Warnings[0], b.Lines[0].Part.SKU) || b.Doubts[0] != b.Warnings[0] {
				t.Fatalf("seed %d: %q", seed, b.Warnings)
			}
			if err := Remark(p, b); err != nil || !strings.Contains(b.Warnings[0], "not confirmed") || strings.Count(strings.Join(b.Warnings, ""), "not confirmed") != 1 {
				t.Fatalf("seed %d: %v, %q", seed, err, b.Warnings)
			}
		}
	}
}

// What cannot be put together at all gives way to what ranks behind it.
func TestWhatCannotBePutTogetherGivesWay(t *testing.T) {
	c := garage(t)
	for seed, done := uint64(1), 0; done < 10; seed++ {
		p, car := c.small(seed)
		task, err := readyIn(p, setting.Relaxation{}, car)
		if err != nil {
			t.Fatal(err)
		}
		s := task.search(context.Background())
		ranked := len(s.total.best)
		if ranked < 2 {
			continue
		}
		done++
		var second []string
		for _, u := range s.total.best[1].parts {
			for range u.Count {
				second = append(second, u.Item.Part.SKU)
			}
		}
		slices.Sort(second)
		s.total.best[0].parts = nil
		r, err := s.result(context.Background(), p)
		if err != nil || len(r.Builds) != ranked-1 || r.Builds[0].Rank != 1 || !slices.Equal(skus(&r.Builds[0]), second) {
			t.Fatalf("seed %d: %d of %d builds, %v", seed, len(r.Builds), ranked, err)
		}
		for i := range s.total.best {
			s.total.best[i].parts = nil
		}
		if _, err := s.result(context.Background(), p); err == nil || !strings.Contains(err.Error(), "internal error") {
			t.Fatalf("seed %d: nothing can be shown, and no error: %v", seed, err)
		}
	}
}
