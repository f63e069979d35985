package generate

import (
	"testing"

	"github.com/google/go-cmp/cmp"

	"loudfor/catalog"
	"loudfor/model/air"
	"loudfor/model/driver"
)

func TestSameSeedSameShelf(t *testing.T) {
	if d := cmp.Diff(Catalogue(300, 7, Tight).Parts, Catalogue(300, 7, Tight).Parts); d != "" {
		t.Error(d)
	}
	if cmp.Equal(Catalogue(300, 7, Tight).Parts, Catalogue(300, 8, Tight).Parts) {
		t.Error("another seed makes the same shelf")
	}
}

// Every generated part is one that could exist.
func TestPartsCouldExist(t *testing.T) {
	seen := map[string]bool{}
	parts := Catalogue(2000, 1, Loose).Parts
	for style := range StyleCount {
		c, owned := Styled(1000, 2, Tight, style)
		for _, p := range c.Parts {
			p.SKU += style.String()
		}
		parts = append(parts, c.Parts...)
		if len(owned) > 0 != (style == Owned) {
			t.Errorf("%v: %d parts are owned", style, len(owned))
		}
	}
	for _, p := range parts {
		if seen[p.SKU] {
			t.Fatalf("%s twice", p.SKU)
		}
		seen[p.SKU] = true
		if p.Price.Minor <= 0 {
			t.Errorf("%s costs %d", p.SKU, p.Price.Minor)
		}
		var err error
		switch p.Kind {
		case catalog.KindSubwoofer:
			_, _, err = driver.Complete(p.Subwoofer.Card, air.At(20))
		case catalog.KindLoaded:
			if _, _, err = driver.Complete(p.Loaded.Card, air.At(20)); err == nil {
				err = p.Loaded.Box.Check()
			}
		case catalog.KindEnclosure:
			err = p.Enclosure.Box.Check()
		case catalog.KindAmplifier:
			err = p.Amplifier.Spec.Check()
		}
		if err != nil {
			t.Errorf("%s: %v", p.SKU, err)
		}
	}
}

// Deals are on parts that are there, save something, and have the forms that the
// reader of catalogues takes; the same seed makes the same ones.
func TestDealsCouldExist(t *testing.T) {
	c := Scattered(Dealt(Catalogue(3000, 1, Tight), 1), 1)
	if d := cmp.Diff(c.Deals, Scattered(Dealt(Catalogue(3000, 1, Tight), 1), 1).Deals); d != "" {
		t.Error(d)
	}
	forms := map[catalog.DealForm]int{}
	for _, d := range c.Deals {
		forms[d.Form]++
		alone := int64(0)
		for _, m := range d.Parts {
			p := c.Part(m.SKU)
			if p == nil || !p.Priced || d.Form == catalog.DealEvery && len(p.Offers) > 0 {
				t.Fatalf("%s: %+v", d.Name, p)
			}
			alone += p.Price.Minor
		}
		if d.Form != catalog.DealEvery && d.Price.Minor >= alone {
			t.Errorf("%s saves nothing", d.Name)
		}
	}
	if len(c.Deals) < 100 || len(forms) != 3 {
		t.Errorf("%d deals of %d forms", len(c.Deals), len(forms))
	}
	limited, several := 0, 0
	for _, p := range c.Parts {
		if p.Stock >= 0 {
			limited++
		}
		if len(p.Offers) > 0 {
			several++
		}
	}
	if limited < 500 || several < 500 || len(c.Shops) != 2 {
		t.Errorf("%d of limited stock, %d sold in several shops, %d trips", limited, several, len(c.Shops))
	}
}
