package pricing

import (
	"slices"
	"testing"

	"pgregory.net/rapid"

	"loudfor/catalog"
	"loudfor/optimizer/setting"
)

func TestTaxedIsTheTill(t *testing.T) {
	for _, c := range []struct{ sum, ppm, want int64 }{
		{0, 75_000, 0},
		{10_000, 0, 10_000},
		{10_000, 75_000, 10_750},
		{3_900, 75_000, 4_193}, // 4192.5: half up
		{3_899, 75_000, 4_191}, // 4191.425
		{1, 499_999, 1},
		{1, 500_000, 2},
	} {
		if got := Taxed(c.sum, c.ppm); got != c.want {
			t.Errorf("%d with %d ppm: %d, want %d", c.sum, c.ppm, got, c.want)
		}
	}
}

func TestLargestSumIsTheCap(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		limit := rapid.Int64Range(0, 1e12).Draw(t, "cap")
		ppm := rapid.Int64Range(0, 2*Million).Draw(t, "tax")
		sum := largestSum(limit, ppm)
		if Taxed(sum, ppm) > limit || Taxed(sum+1, ppm) <= limit {
			t.Fatalf("%d makes %d, %d makes %d, the cap is %d", sum, Taxed(sum, ppm), sum+1, Taxed(sum+1, ppm), limit)
		}
		if got := (sum*(Million+ppm) + Million/2) / Million; got != Taxed(sum, ppm) {
			t.Fatalf("half up it is %d, not %d", got, Taxed(sum, ppm))
		}
	})
}

// Adding the same parts to two sets never changes which comes first: what the
// thinning of slots relies on.
func TestSKUOrderIgnoresCommonParts(t *testing.T) {
	var items []*Item
	for i, sku := range []string{"A", "B", "C", "D", "E"} {
		items = append(items, &Item{ID: i, Part: &catalog.Part{SKU: sku}})
	}
	draw := func(t *rapid.T, name string) Set {
		var uses []Use
		for _, i := range rapid.SliceOfN(rapid.IntRange(0, len(items)-1), 3, 3).Draw(t, name) {
			uses = append(uses, Use{Item: items[i], Count: 1})
		}
		return Collect(uses...)
	}
	written := func(s Set) (list []string) {
		for _, u := range s {
			for range u.Count {
				list = append(list, u.Item.Part.SKU)
			}
		}
		return list
	}
	rapid.Check(t, func(t *rapid.T) {
		a, b, common := draw(t, "a"), draw(t, "b"), draw(t, "common")
		order := sign(a.CompareSKUs(b))
		if want := slices.Compare(written(a), written(b)); order != want {
			t.Fatalf("%v and %v: %d, as lists %d", written(a), written(b), order, want)
		}
		more := sign(Collect(slices.Concat(a, common)...).CompareSKUs(Collect(slices.Concat(b, common)...)))
		if more != order {
			t.Fatalf("%v and %v: %d, and %d with %v added", written(a), written(b), order, more, written(common))
		}
	})
}

func sign(n int) int { return max(-1, min(1, n)) }

func TestOwnedPiecesComeFirst(t *testing.T) {
	part := &catalog.Part{SKU: "X", Priced: true, Price: catalog.Money{Minor: 500}, Stock: 1, Limit: catalog.Unlimited, Store: "Yard"}
	c := &catalog.Catalogue{Parts: []*catalog.Part{part}}
	b := catalog.Brief{Celsius: 20, FrontWatts: 10, Owned: []catalog.Mention{{SKU: "X", Count: 1}}, Stores: []string{"yard"}}
	s, err := stockShelf(c, &b, setting.Relaxation{})
	if err != nil {
		t.Fatal(err)
	}
	it := s.Items[0]
	if it.Most != 2 || it.Lower(1) != 0 || it.Lower(2) != 500 {
		t.Errorf("most %d, one %d, two %d", it.Most, it.Lower(1), it.Lower(2))
	}
	b.Stores = []string{"North Counter"}
	if s, _ = stockShelf(c, &b, setting.Relaxation{}); s.Items[0].Most != 1 {
		t.Errorf("from another store: most %d", s.Items[0].Most)
	}
	b.Never = []catalog.Mention{{SKU: "X", Count: 1}}
	if s, _ = stockShelf(c, &b, setting.Relaxation{}); s.Items[0].Most != 0 {
		t.Errorf("never: most %d", s.Items[0].Most)
	}
}
