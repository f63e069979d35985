package optimizer

import (
	"context"
	"math/big"
	"testing"

	"github.com/google/go-cmp/cmp"

	"loudfor/catalog"
)

// Sheets and workshops are no parts of a build: with them in the catalogue
// nothing changes, neither the ranking nor a single count of the proof.
func TestMaterialChangesNothing(t *testing.T) {
	c := garage(t)
	for seed := uint64(1); seed <= 10; seed++ {
		p, _ := c.small(seed)
		p.Bare = true
		want, err := Pick(context.Background(), p)
		if err != nil {
			t.Fatal(err)
		}
		price := catalog.Money{Minor: 100, Currency: p.Catalogue.Currency}
		p.Catalogue = p.Catalogue.With(
			&catalog.Part{SKU: "AA", Kind: catalog.KindSheet, Price: price, Priced: true, Stock: catalog.Unlimited, Limit: catalog.Unlimited,
				Sheet: &catalog.Sheet{Thickness: 0.018, Length: 2.44, Width: 1.22}},
			&catalog.Part{SKU: "ZZ", Kind: catalog.KindWorkshop, Price: price, Priced: true, Stock: catalog.Unlimited, Limit: catalog.Unlimited,
				Workshop: &catalog.Workshop{}})
		p.Brief.Owned = append(p.Brief.Owned[:len(p.Brief.Owned):len(p.Brief.Owned)], catalog.Mention{SKU: "AA", Count: 1})
		got, err := Pick(context.Background(), p)
		if err != nil {
			t.Fatal(err)
		}
		if diff := cmp.Diff(want.Proof, got.Proof, cmp.Comparer(func(a, b *big.Int) bool { return a.Cmp(b) == 0 })); diff != "" || len(want.Builds) != len(got.Builds) {
			t.Errorf("seed %d: %d and %d builds; proof (-without +with):\n%s", seed, len(want.Builds), len(got.Builds), diff)
			continue
		}
		for i := range want.Builds {
			if want.Builds[i].Cost != got.Builds[i].Cost || want.Builds[i].Objective != got.Builds[i].Objective {
				t.Errorf("seed %d: build %d changed", seed, i+1)
			}
		}
	}
}
