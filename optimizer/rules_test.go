package optimizer

import (
	"slices"
	"testing"

	"pgregory.net/rapid"

	"loudfor/catalog"
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
		if got := taxed(c.sum, c.ppm); got != c.want {
			t.Errorf("%d with %d ppm: %d, want %d", c.sum, c.ppm, got, c.want)
		}
	}
}

func TestLargestSumIsTheCap(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		limit := rapid.Int64Range(0, 1e12).Draw(t, "cap")
		ppm := rapid.Int64Range(0, 2*million).Draw(t, "tax")
		sum := largestSum(limit, ppm)
		if taxed(sum, ppm) > limit || taxed(sum+1, ppm) <= limit {
			t.Fatalf("%d makes %d, %d makes %d, the cap is %d", sum, taxed(sum, ppm), sum+1, taxed(sum+1, ppm), limit)
		}
		if got := catalog.WithTax(sum, ppm); got != taxed(sum, ppm) {
			t.Fatalf("the catalogue's till says %d, the search's %d", got, taxed(sum, ppm))
		}
	})
}

func TestBoxesInARow(t *testing.T) {
	box := catalog.Size3{Width: 0.4, Depth: 0.3, Height: 0.35}
	for _, c := range []struct {
		space catalog.Size3
		boxes int
		fits  bool
	}{
		{catalog.Size3{Width: 0.40, Depth: 0.30, Height: 0.35}, 1, true},
		{catalog.Size3{Width: 0.30, Depth: 0.35, Height: 0.40}, 1, true}, // on its side
		{catalog.Size3{Width: 0.39, Depth: 0.50, Height: 0.35}, 1, true}, // turned
		{catalog.Size3{Width: 0.39, Depth: 0.39, Height: 0.39}, 1, false},
		{catalog.Size3{Width: 0.60, Depth: 0.40, Height: 0.35}, 2, true}, // along the depths
		{catalog.Size3{Width: 0.59, Depth: 0.40, Height: 0.35}, 2, false},
		{catalog.Size3{Width: 0.60, Depth: 0.80, Height: 0.35}, 4, false}, // only in a row
		{catalog.Size3{Width: 1.20, Depth: 0.40, Height: 0.35}, 4, true},
		{catalog.Size3{}, 9, true}, // nobody said how much room there is
	} {
		if got := fitsSpace(box, c.space, c.boxes); got != c.fits {
			t.Errorf("%d boxes in %+v: %v", c.boxes, c.space, got)
		}
		if c.space != (catalog.Size3{}) && inARow(box, c.space, c.boxes) != c.fits {
			t.Errorf("the recheck differs: %d boxes in %+v", c.boxes, c.space)
		}
	}
}

func TestHoles(t *testing.T) {
	const inch = 0.0254
	sub := catalog.Subwoofer{Cutout: 0.280, Depth: 0.138, Displacement: 0.0026}
	sub.Card.Size = 12 * inch
	box := catalog.Enclosure{Hole: 12 * inch, Cutout: 0.281, Depth: 0.2}
	box.Box.Drivers, box.Box.Volume = 1, 0.024
	for name, c := range map[string]struct {
		change func(s *catalog.Subwoofer, e *catalog.Enclosure)
		fits   bool
	}{
		"as stated":         {func(*catalog.Subwoofer, *catalog.Enclosure) {}, true},
		"another size":      {func(s *catalog.Subwoofer, _ *catalog.Enclosure) { s.Card.Size = 10 * inch }, false},
		"hole a trifle off": {func(_ *catalog.Subwoofer, e *catalog.Enclosure) { e.Cutout = 0.279 }, true},
		"hole too small":    {func(_ *catalog.Subwoofer, e *catalog.Enclosure) { e.Cutout = 0.27 }, false},
		"hole not stated":   {func(_ *catalog.Subwoofer, e *catalog.Enclosure) { e.Cutout = 0 }, true},
		"too deep":          {func(s *catalog.Subwoofer, _ *catalog.Enclosure) { s.Depth = 0.21 }, false},
		"depth not stated":  {func(s *catalog.Subwoofer, _ *catalog.Enclosure) { s.Depth = 0 }, true},
		"fills the box":     {func(_ *catalog.Subwoofer, e *catalog.Enclosure) { e.Box.Volume = 0.0026 }, false},
		// Of 24 L, two of 11.9 L leave 0.2 L and two of 12.1 L more than all.
		"two leave some room": {func(s *catalog.Subwoofer, e *catalog.Enclosure) { s.Displacement, e.Box.Drivers = 0.0119, 2 }, true},
		"two fill the box":    {func(s *catalog.Subwoofer, e *catalog.Enclosure) { s.Displacement, e.Box.Drivers = 0.0121, 2 }, false},
	} {
		s, e := sub, box
		c.change(&s, &e)
		if got := fitsHole(&s, &e); got != c.fits {
			t.Errorf("%s: %v", name, got)
		}
	}
}

// Adding the same parts to two sets never changes which comes first: what the
// thinning of slots relies on.
func TestSKUOrderIgnoresCommonParts(t *testing.T) {
	var items []*item
	for i, sku := range []string{"A", "B", "C", "D", "E"} {
		items = append(items, &item{id: i, part: &catalog.Part{SKU: sku}})
	}
	draw := func(t *rapid.T, name string) set {
		var uses []use
		for _, i := range rapid.SliceOfN(rapid.IntRange(0, len(items)-1), 3, 3).Draw(t, name) {
			uses = append(uses, use{items[i], 1})
		}
		return collect(uses...)
	}
	written := func(s set) (list []string) {
		for _, u := range s {
			for range u.count {
				list = append(list, u.item.part.SKU)
			}
		}
		return list
	}
	rapid.Check(t, func(t *rapid.T) {
		a, b, common := draw(t, "a"), draw(t, "b"), draw(t, "common")
		order := sign(a.compareSKUs(b))
		if want := slices.Compare(written(a), written(b)); order != want {
			t.Fatalf("%v and %v: %d, as lists %d", written(a), written(b), order, want)
		}
		more := sign(collect(slices.Concat(a, common)...).compareSKUs(collect(slices.Concat(b, common)...)))
		if more != order {
			t.Fatalf("%v and %v: %d, and %d with %v added", written(a), written(b), order, more, written(common))
		}
	})
}

func sign(n int) int { return max(-1, min(1, n)) }

func TestOwnedPiecesComeFirst(t *testing.T) {
	part := &catalog.Part{SKU: "X", Priced: true, Price: catalog.Money{Minor: 500}, Stock: 1, Limit: catalog.Unlimited, Store: "Yard"}
	c := &catalog.Catalogue{Parts: []*catalog.Part{part}}
	b := catalog.Brief{Celsius: 20, FrontWatts: 10, Owned: mention("X"), Stores: []string{"yard"}}
	s, err := stockShelf(c, &b, relaxed{})
	if err != nil {
		t.Fatal(err)
	}
	it := s.items[0]
	if it.most != 2 || it.cost(1) != 0 || it.cost(2) != 500 {
		t.Errorf("most %d, one %d, two %d", it.most, it.cost(1), it.cost(2))
	}
	b.Stores = []string{"North Counter"}
	if s, _ = stockShelf(c, &b, relaxed{}); s.items[0].most != 1 {
		t.Errorf("from another store: most %d", s.items[0].most)
	}
	b.Never = mention("X")
	if s, _ = stockShelf(c, &b, relaxed{}); s.items[0].most != 0 {
		t.Errorf("never: most %d", s.items[0].most)
	}
}
