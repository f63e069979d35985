package optimizer

import (
	"math/rand/v2"
	"slices"
	"testing"

	"loudfor/catalog"
	"loudfor/optimizer/build"
)

// What pieces cost one customer is what they cost one by one, the cheapest first, of
// all that stand in shops of the brief.
func TestMarketPieceByPiece(t *testing.T) {
	const many = 12 // pieces of a shop that has plenty
	usd := func(minor int) catalog.Money { return catalog.Money{Minor: int64(minor), Currency: "USD"} }
	for seed := range uint64(500) {
		g := rand.New(rand.NewPCG(seed, 24))
		brief := &catalog.Brief{Stores: [][]string{nil, {"near"}, {"far", "mail"}}[g.IntN(3)]}
		part := &catalog.Part{Priced: true, Limit: []int{catalog.Unlimited, 0, 2, 7}[g.IntN(4)]}
		var pieces []int64
		endless := false
		for i, store := range []string{"near", "far", "mail"}[:1+g.IntN(3)] {
			o := catalog.Offer{Store: store, Price: usd(1 + g.IntN(9)), Stock: []int{catalog.Unlimited, 0, 1, 3}[g.IntN(4)]}
			if i == 0 {
				part.Store, part.Price, part.Stock = o.Store, o.Price, o.Stock
			} else {
				part.Offers = append(part.Offers, o)
			}
			if len(brief.Stores) > 0 && !slices.Contains(brief.Stores, store) {
				continue
			}
			n := o.Stock
			if n == catalog.Unlimited {
				n, endless = many, true
			}
			for range n {
				pieces = append(pieces, o.Price.Minor)
			}
		}
		slices.Sort(pieces)
		most := len(pieces)
		if endless {
			most = build.Plenty
		}
		if part.Limit != catalog.Unlimited {
			most = min(most, part.Limit)
		}
		s := marketOf(part, brief)
		if s.most != most {
			t.Fatalf("seed %d: %d pieces of %+v, want %d", seed, s.most, part, most)
		}
		sum := int64(0)
		for n := range min(most, len(pieces), many) + 1 {
			if s.cost(n) != sum {
				t.Fatalf("seed %d: %d pieces of %+v cost %d, one by one %d", seed, n, part, s.cost(n), sum)
			}
			if n < len(pieces) {
				sum += pieces[n]
			}
		}
		for limit := range 10 {
			want := most
			if most > 0 && limit > 0 && pieces[0] > int64(limit) {
				want = 0
			}
			dearest := usd(limit)
			if limit == 0 {
				dearest = catalog.Money{}
			}
			if got := s.within(dearest); got != want {
				t.Fatalf("seed %d: %d within %v, want %d", seed, got, dearest, want)
			}
		}
		if part.Priced = false; marketOf(part, brief).most != 0 {
			t.Fatal("a part without a price is sold")
		}
	}
}

// What a brief lets a build have of a part: as many as are stated, else as the words
// of the brief say by default, one more amplifier for the front, and whatever must be.
func TestNeededPieces(t *testing.T) {
	usual := catalog.DefaultBrief()
	asked := catalog.Brief{Drivers: 5, Boxes: 3, Amplifiers: 4, Must: []catalog.Mention{{SKU: "K", Count: 6}, {SKU: "K", Count: 2}, {SKU: "B"}}}
	for _, c := range []struct {
		sku            string
		kind           catalog.Kind
		stated, silent int
	}{
		{"S", catalog.KindSubwoofer, 5, usual.Drivers}, {"E", catalog.KindEnclosure, 3, usual.Boxes}, {"L", catalog.KindLoaded, 3, usual.Boxes},
		{"A", catalog.KindAmplifier, 5, usual.Amplifiers + 1}, {"H", catalog.KindSource, 1, 1}, {"B", catalog.KindBlocker, 1, 1}, {"K", catalog.KindKit, 8, 1},
	} {
		part := &catalog.Part{SKU: c.sku, Kind: c.kind}
		if stated, silent := needed(&asked)(part), needed(&catalog.Brief{})(part); stated != c.stated || silent != c.silent {
			t.Errorf("%s: %d and %d, want %d and %d", c.kind, stated, silent, c.stated, c.silent)
		}
	}
}
