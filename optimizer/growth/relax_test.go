package growth

import (
	"maps"
	"testing"

	"loudfor/catalog"
)

// The least that a piece can cost, by hand: where it is cheapest, what must not be in
// nowhere, and in a deal no less than what the deal leaves of its price.
func TestLeastPrices(t *testing.T) {
	usd := func(minor int64) catalog.Money { return catalog.Money{Minor: minor, Currency: "USD"} }
	part := func(sku string, minor int64, offers ...int64) *catalog.Part {
		p := &catalog.Part{SKU: sku, Kind: catalog.KindKit, Price: usd(minor), Priced: true, Stock: catalog.Unlimited, Limit: catalog.Unlimited}
		for _, o := range offers {
			p.Offers = append(p.Offers, catalog.Offer{Store: "Yard", Price: usd(o), Stock: catalog.Unlimited})
		}
		return p
	}
	shelf := []*catalog.Part{part("A", 100), part("B", 300, 280), part("C", 100, 120), part("never", 10)}
	pair := []catalog.Mention{{SKU: "A", Count: 1}, {SKU: "B", Count: 1}}
	for name, c := range map[string]struct {
		deals []*catalog.Deal
		want  map[string]int64
	}{
		"none":                     {nil, map[string]int64{"A": 100, "B": 280, "C": 100}},
		"a set":                    {[]*catalog.Deal{{Form: catalog.DealSet, Parts: pair, Price: usd(190)}}, map[string]int64{"A": 50, "B": 140, "C": 100}},
		"a set that saves nothing": {[]*catalog.Deal{{Form: catalog.DealSet, Parts: pair, Price: usd(1000)}}, map[string]int64{"A": 100, "B": 280, "C": 100}},
		"from three on":            {[]*catalog.Deal{{Form: catalog.DealFrom, Parts: pair[:1], Price: usd(70), From: 3}}, map[string]int64{"A": 70, "B": 280, "C": 100}},
		"every second for half":    {[]*catalog.Deal{{Form: catalog.DealEvery, Parts: pair[:1], Every: 2, OffPPM: 500_000}}, map[string]int64{"A": 50, "B": 280, "C": 100}},
	} {
		b := catalog.Brief{Never: []catalog.Mention{{SKU: "never", Count: 1}}}
		if got := leastPrices(&catalog.Catalogue{Parts: shelf, Deals: c.deals, Currency: "USD"}, &b); !maps.Equal(got, c.want) {
			t.Errorf("%s: %v, want %v", name, got, c.want)
		}
	}
}
