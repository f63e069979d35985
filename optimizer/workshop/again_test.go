package workshop

import (
	"context"
	"testing"

	"loudfor/catalog"
	"loudfor/optimizer"
	"loudfor/optimizer/build"
)

// Between the two states only prices differ: every box of the old prices is
// there at what its sheets and hours cost now, what comes new was not to be had,
// and the best build at the new prices is no worse than with the boxes that are
// thought of at those prices alone.
func TestReprice(t *testing.T) {
	p := shopProblem(t, "250-reading")
	changed := func(sku string, change func(*catalog.Part)) *catalog.Part {
		q := *p.Catalogue.Part(sku)
		change(&q)
		return &q
	}
	newer := p.Catalogue.With(
		changed("DM-BENCH", func(q *catalog.Part) { q.Price.Minor = q.Price.Minor * 3 / 2 }),
		changed("DM-MDF18P", func(q *catalog.Part) { q.Stock = 0 }),
		changed("KE-M3", func(q *catalog.Part) { q.Price.Minor += 2000 }),
	)
	before, after, err := Reprice(context.Background(), p, newer)
	if err != nil {
		t.Fatal(err)
	}
	alone := stocked(t, p)
	was := map[string]*Box{}
	for _, b := range alone.Boxes {
		was[b.Part.SKU] = b
	}
	kept, fresh, gone := 0, 0, 0
	if len(before.Catalogue.Parts) != len(after.Catalogue.Parts) {
		t.Fatalf("%d parts before, %d after", len(before.Catalogue.Parts), len(after.Catalogue.Parts))
	}
	for i, b := range before.Catalogue.Parts {
		if after.Catalogue.Parts[i].SKU != b.SKU {
			t.Fatalf("%s stands where %s was", after.Catalogue.Parts[i].SKU, b.SKU)
		}
	}
	for _, box := range after.Boxes {
		old, now := before.Catalogue.Part(box.Part.SKU), after.Catalogue.Part(box.Part.SKU)
		if now != box.Part {
			t.Fatalf("%s is another part in the catalogue", box.Part.SKU)
		}
		again, err := Make(newer, &p.Brief, box.Description)
		switch {
		case err != nil:
			t.Fatal(err)
		case box.Sheet.SKU == "DM-MDF18P":
			gone++
			if now.Priced {
				t.Errorf("%s is built of sheets that are sold out", box.Part.SKU)
			}
		case !now.Priced || now.Price != again.Part.Price:
			t.Errorf("%s costs %s, made again %s", box.Part.SKU, now.Price, again.Part.Price)
		}
		if b := was[box.Part.SKU]; b == nil {
			fresh++
			if old.Priced {
				t.Errorf("%s was to be had before", box.Part.SKU)
			}
		} else {
			kept++
			if unnamed(b) != unnamed(box) || old.Price != b.Part.Price {
				t.Errorf("%s is another box", box.Part.SKU)
			}
		}
	}
	if kept != len(alone.Boxes) || fresh == 0 || gone == 0 {
		t.Errorf("%d of %d boxes kept, %d new, %d without sheets", kept, len(alone.Boxes), fresh, gone)
	}
	at := func(c *catalog.Catalogue) *optimizer.Build {
		q := p
		q.Catalogue = c
		b, err := optimizer.First(context.Background(), q)
		if err != nil || b == nil {
			t.Fatal(b, err)
		}
		return b
	}
	if b, want := at(before.Catalogue), at(alone.Catalogue); !b.Same(want) || b.Cost != want.Cost {
		t.Errorf("the old answer is another one: %v, %v", build.Mentions(b.Lines), build.Mentions(want.Lines))
	}
	q := p
	q.Catalogue = newer
	if b, want := at(after.Catalogue), at(stocked(t, q).Catalogue); b.Objective < want.Objective {
		t.Errorf("%.3f dB at the new prices, %.3f with the boxes of those prices alone", b.Objective, want.Objective)
	}
}

// A box that several amplifiers ask for is one part under one name.
func TestEachBoxOnce(t *testing.T) {
	s := stocked(t, shopProblem(t, "250-reading"))
	named, known := map[string]bool{}, map[catalog.BuiltBox]bool{}
	for _, b := range s.Boxes {
		if named[b.Part.SKU] || known[unnamed(b)] {
			t.Errorf("%s is there twice", b.Part.SKU)
		}
		named[b.Part.SKU], known[unnamed(b)] = true, true
		if s.Catalogue.Part(b.Part.SKU) != b.Part || s.Box(b.Part.SKU) != b || b.Description.SKU != b.Part.SKU {
			t.Errorf("%s has several names", b.Part.SKU)
		}
	}
	for _, p := range s.Catalogue.Parts {
		if b := s.Box(p.SKU); b != nil && b.Part != p {
			t.Errorf("%s stands for another box", p.SKU)
		}
	}
}
