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

// TestMoreComesFirst: of two sets the one with more of the first SKU in which they
// differ comes first, that which goes on before that which ends.
func TestMoreComesFirst(t *testing.T) {
	var items []*Item
	for i, sku := range []string{"A", "B", "C"} {
		items = append(items, &Item{ID: i, Part: &catalog.Part{SKU: sku}})
	}
	of := func(counts ...int) (s Set) {
		for i, n := range counts {
			if n > 0 {
				s = append(s, Use{Item: items[i], Count: n})
			}
		}
		return s
	}
	rising := []Set{of(2, 1, 1), of(2), of(1, 2), of(1, 1, 1), of(1, 1), of(1, 0, 3), of(1, 0, 1), of(1), of(0, 1), of(0, 0, 1), of()}
	for i, a := range rising {
		for j, b := range rising {
			if got := sign(a.CompareSKUs(b)); got != sign(i-j) {
				t.Errorf("%v and %v: %d", a, b, got)
			}
		}
	}
}

// TestLimitOfTheCap: the sum that a cap allows, tax and what is fixed taken off; without
// a cap there is no limit. With 7.5 % on top, 100.00 are 93.02: 93.03 would cost 100.01.
func TestLimitOfTheCap(t *testing.T) {
	taxes := TaxTotals{Unit: Million + 75_000, Fixed: 1000}
	if got := taxes.Limit(catalog.Money{Minor: 10_000, Currency: "USD"}); got != 9302-1000 {
		t.Errorf("%d", got)
	}
	if got := taxes.Limit(catalog.Money{}); got != Boundless {
		t.Errorf("%d without a cap", got)
	}
}

// A set in words says how many there are of what is there more than once.
func TestSetInWords(t *testing.T) {
	of := func(sku string, n int) Use { return Use{Item: &Item{Part: &catalog.Part{SKU: sku}}, Count: n} }
	for want, s := range map[string]Set{"": nil, "A": {of("A", 1)}, "A, B x 2, C x 3": {of("A", 1), of("B", 2), of("C", 3)}} {
		if got := SKUs(s); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}

// A build has one source, one kit, an amplifier or more, and of the rest one or none.
func TestWhatIsWhole(t *testing.T) {
	of := func(kinds ...catalog.Kind) (s Set) {
		for _, k := range kinds {
			s = append(s, Use{Item: &Item{Part: &catalog.Part{Kind: k}}, Count: 1})
		}
		return s
	}
	const source, kit, amp, pair, line, blocker = catalog.KindSource, catalog.KindKit, catalog.KindAmplifier, catalog.KindFront, catalog.KindConverter, catalog.KindBlocker
	for _, c := range []struct {
		s     Set
		whole bool
	}{
		{of(source, kit, amp), true}, {of(source, kit, amp, amp), true}, {of(source, kit, amp, pair, line, blocker), true},
		{of(kit, amp), false}, {of(source, amp), false}, {of(source, kit), false}, {of(source, source, kit, amp), false}, {of(source, kit, kit, amp), false},
		{of(source, kit, amp, pair, pair), false}, {of(source, kit, amp, line, line), false}, {of(source, kit, amp, blocker, blocker), false}, {nil, false},
	} {
		if got := c.s.Whole(); got != c.whole {
			t.Errorf("%v: %t", c.s.Kinds(), got)
		}
	}
}
