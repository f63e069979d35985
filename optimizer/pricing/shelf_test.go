package pricing

import (
	"strings"
	"testing"

	"loudfor/catalog"
	"loudfor/optimizer/setting"
)

func shelved(sku string, kind catalog.Kind, stock, limit int) *catalog.Part {
	return &catalog.Part{SKU: sku, Kind: kind, Priced: true, Price: catalog.Money{Minor: 100}, Stock: stock, Limit: limit}
}

// TestShelf: what a brief names has to be there, and of each part there are those
// owned and those that can be bought.
func TestShelf(t *testing.T) {
	const any = catalog.Unlimited
	c := &catalog.Catalogue{Parts: []*catalog.Part{
		shelved("B", catalog.KindAmplifier, 3, any), shelved("A", catalog.KindAmplifier, any, 2), shelved("C", catalog.KindKit, any, any), shelved("D", catalog.KindKit, 1, 5)}}
	of := func(sku string, n int) []catalog.Mention { return []catalog.Mention{{SKU: sku, Count: n}} }
	for _, b := range []catalog.Brief{{Owned: of("X", 1)}, {Must: of("X", 1)}, {Never: of("X", 1)}} {
		if s, err := stockShelf(c, &b, setting.Relaxation{}); err == nil || s != nil || !strings.Contains(err.Error(), "X") {
			t.Errorf("%+v: %v", b, err)
		}
	}
	s, err := stockShelf(c, &catalog.Brief{Owned: append(of("A", 0), of("D", 2)...), Must: of("B", 2)}, setting.Relaxation{})
	if err != nil {
		t.Fatal(err)
	}
	for i, want := range []struct {
		sku               string
		owned, must, most int
	}{{"A", 1, 0, 3}, {"B", 0, 2, 3}, {"C", 0, 0, 0}, {"D", 2, 0, 3}} {
		it := s.Items[i]
		if want.sku == "C" {
			want.most = it.Most // as many as one likes
		}
		if it.Part.SKU != want.sku || it.ID != i || it.Owned != want.owned || it.Must != want.must || it.Most != want.most || s.BySKU[want.sku] != it {
			t.Errorf("%+v, want %+v", it, want)
		}
	}
	if s.Items[2].Most < 100 {
		t.Errorf("%d of what there is any number of", s.Items[2].Most)
	}
	twice := &catalog.Catalogue{Parts: []*catalog.Part{c.Parts[0], c.Parts[0]}}
	if _, err := stockShelf(twice, &catalog.Brief{}, setting.Relaxation{}); err == nil {
		t.Error("one SKU twice")
	}
}
