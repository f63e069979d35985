package verify

import (
	"testing"

	"loudfor/catalog"
)

// What carts cost, worked out by hand. A deal is taken where it saves, a piece counts
// for one deal, a shop's deal takes that shop's pieces, and the rest costs what the
// cheapest shop that still has some asks.

func offer(store string, price int64, stock int) catalog.Offer {
	return catalog.Offer{Store: store, Price: catalog.Money{Minor: price, Currency: "USD"}, Stock: stock}
}

func ware(sku string, count int, from ...catalog.Offer) *Ware {
	return &Ware{Part: &catalog.Part{SKU: sku}, Own: from[0].Price.Minor, Count: count, Tax: 1, From: from, Several: len(from) > 1}
}

func TestLeastPaid(t *testing.T) {
	const any = catalog.Unlimited
	of := func(sku string, n int) []catalog.Mention { return []catalog.Mention{{SKU: sku, Count: n}} }
	money := func(minor int64) catalog.Money { return catalog.Money{Minor: minor, Currency: "USD"} }
	set := func(price int64, limit int, store string) *catalog.Deal {
		return &catalog.Deal{Form: catalog.DealSet, Parts: append(of("A", 2), of("B", 1)...), Price: money(price), Limit: limit, Store: store}
	}
	from := func(n int, all bool, price int64, limit int) *catalog.Deal {
		return &catalog.Deal{Form: catalog.DealFrom, Parts: of("A", 1), From: n, All: all, Price: money(price), Limit: limit}
	}
	every := func(n int, off int64, limit int) *catalog.Deal {
		return &catalog.Deal{Form: catalog.DealEvery, Parts: of("A", 1), Every: n, OffPPM: off, Limit: limit}
	}
	a := func(n int) *Ware { return ware("A", n, offer("near", 100, any)) }
	b := func(n int) *Ware { return ware("B", n, offer("near", 60, any)) }
	for _, c := range []struct {
		name  string
		goods []*Ware
		deals []*catalog.Deal
		want  int64 // -1: not to be had
	}{
		{"no deal", []*Ware{a(3), b(2)}, nil, 420},
		{"one set, the rest at its price", []*Ware{a(3), b(2)}, []*catalog.Deal{set(200, any, "")}, 200 + 100 + 60},
		{"two sets", []*Ware{a(4), b(2)}, []*catalog.Deal{set(200, any, "")}, 400},
		{"one of two sets", []*Ware{a(4), b(2)}, []*catalog.Deal{set(200, 1, "")}, 200 + 260},
		{"a set that costs more than its parts", []*Ware{a(2), b(1)}, []*catalog.Deal{set(261, any, "")}, 260},
		{"a set without one of its parts", []*Ware{a(2)}, []*catalog.Deal{set(1, any, "")}, 200},
		{"the second and third cheaper", []*Ware{a(3)}, []*catalog.Deal{from(2, false, 70, any)}, 100 + 2*70},
		{"the second alone cheaper", []*Ware{a(3)}, []*catalog.Deal{from(2, false, 70, 1)}, 200 + 70},
		{"all of three cheaper", []*Ware{a(3)}, []*catalog.Deal{from(3, true, 70, any)}, 210},
		{"two of three cheaper", []*Ware{a(3)}, []*catalog.Deal{from(3, true, 70, 2)}, 240},
		{"too few", []*Ware{a(2)}, []*catalog.Deal{from(3, true, 70, any)}, 200},
		{"every second at half", []*Ware{a(5)}, []*catalog.Deal{every(2, 500_000, any)}, 300 + 2*50},
		{"one second at half", []*Ware{a(5)}, []*catalog.Deal{every(2, 500_000, 1)}, 400 + 50},
		{"the better of two on the same pieces", []*Ware{a(2)}, []*catalog.Deal{every(2, 500_000, any), from(2, true, 70, any)}, 140},
		{"both, on different pieces", []*Ware{a(4), b(1)}, []*catalog.Deal{set(200, any, ""), every(2, 500_000, any)}, 200 + 150},
		{"the cheaper shop as far as it goes", []*Ware{ware("A", 5, offer("near", 100, any), offer("far", 80, 2))}, nil, 2*80 + 3*100},
		{"not so many", []*Ware{ware("A", 5, offer("near", 100, 2), offer("far", 80, 2))}, nil, -1},
		{"a shop's set needs its pieces", []*Ware{ware("A", 2, offer("near", 100, any), offer("far", 80, 1)), ware("B", 1, offer("near", 60, any), offer("far", 50, any))},
			[]*catalog.Deal{set(100, any, "far")}, 180 + 50},
		{"a shop's set where it has them", []*Ware{ware("A", 2, offer("near", 100, any), offer("far", 90, 2)), ware("B", 1, offer("near", 60, any), offer("far", 50, any))},
			[]*catalog.Deal{set(100, any, "far")}, 100},
		{"and not from another", []*Ware{ware("A", 4, offer("near", 100, 2), offer("far", 90, 2)), ware("B", 2, offer("near", 60, any), offer("far", 50, any))},
			[]*catalog.Deal{set(100, any, "far")}, 100 + 200 + 50},
		// A deal of no shop takes pieces wherever they are, and they have to be there.
		{"pieces of a deal of no shop", []*Ware{ware("A", 3, offer("near", 100, 2), offer("far", 80, 1))}, []*catalog.Deal{from(2, false, 70, any)}, 80 + 140},
		{"and not more than there are", []*Ware{ware("A", 3, offer("near", 100, 1), offer("far", 80, 1))}, []*catalog.Deal{from(2, true, 70, any)}, -1},
		// Part of which price? None, where several shops sell it.
		{"every second, of several shops", []*Ware{ware("A", 4, offer("near", 100, any), offer("far", 120, any))}, []*catalog.Deal{every(2, 500_000, any)}, 400},
	} {
		got, ok := LeastPaid(c.goods, c.deals)
		if !ok {
			got = -1
		}
		if got != c.want {
			t.Errorf("%s: %d, want %d", c.name, got, c.want)
		}
		for _, w := range c.goods {
			if w.taken != 0 || w.free != 0 || w.plain != 0 {
				t.Errorf("%s: the cart is not as it was", c.name)
			}
		}
	}
}

// TestRoundHalfUp: at a till half a cent is a cent.
func TestRoundHalfUp(t *testing.T) {
	for millionths, want := range map[int64]int64{0: 0, 499_999: 0, 500_000: 1, 1_499_999: 1, 1_500_000: 2, 7_000_000: 7} {
		if got := RoundHalfUp(millionths); got != want {
			t.Errorf("%d millionths: %d, want %d", millionths, got, want)
		}
	}
}
