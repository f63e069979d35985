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
	for _, p := range Catalogue(2000, 1, Loose).Parts {
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
