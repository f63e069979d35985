package pricing

import (
	"cmp"
	"fmt"
	"math/rand/v2"
	"slices"
	"testing"

	"loudfor/catalog"
	"loudfor/optimizer/build"
	"loudfor/optimizer/setting"
	"loudfor/optimizer/verify"
)

// Carts by chance, in one shop or several, with deals of shops and of none: their price
// is what trying every way of paying gives (verify), and the bill says how it is paid.

// market is a problem of three parts, in several shops if asked for.
func market(g *rand.Rand, several bool) build.Problem {
	usd := func(minor int64) catalog.Money { return catalog.Money{Minor: minor, Currency: "USD"} }
	shops := []string{"far", "near"}
	stock := func() int { return []int{catalog.Unlimited, 1, 2, 3}[g.IntN(4)] }
	whole := &catalog.Catalogue{Currency: "USD"}
	set := build.NewShopSet(whole, shops)
	c := &catalog.Catalogue{Currency: "USD"}
	for i, kind := range []catalog.Kind{catalog.KindSubwoofer, catalog.KindAmplifier, catalog.KindKit} {
		part := &catalog.Part{SKU: string(rune('A' + i)), Kind: kind, Priced: true, Price: usd(int64(100 + g.IntN(900))), Stock: stock(), Limit: catalog.Unlimited, Store: shops[g.IntN(2)]}
		whole.Parts = append(whole.Parts, part)
		sold := *part
		if several && g.IntN(4) > 0 {
			other := map[string]string{"far": "near", "near": "far"}[part.Store]
			part.Offers = []catalog.Offer{{Store: other, Price: usd(max(10, part.Price.Minor+int64(g.IntN(300))-150)), Stock: stock()}}
			list := append([]catalog.Offer{{Store: part.Store, Price: part.Price, Stock: part.Stock}}, part.Offers...)
			slices.SortStableFunc(list, func(a, b catalog.Offer) int { return cmp.Compare(a.Price.Minor, b.Price.Minor) })
			dear := list[len(list)-1]
			sold.Price, sold.Store, sold.Stock, sold.Offers = dear.Price, dear.Store, 0, nil
			for _, o := range list {
				if o.Stock == catalog.Unlimited {
					sold.Stock = catalog.Unlimited
					break
				}
				sold.Stock += o.Stock
			}
			set.Sales[sold.SKU], set.OwnPrices[sold.SKU] = list, part.Price.Minor
		}
		c.Parts = append(c.Parts, &sold)
	}
	for i := range g.IntN(4) {
		d := &catalog.Deal{Name: fmt.Sprint("deal ", i), Form: catalog.DealForm(g.IntN(3)), Limit: []int{catalog.Unlimited, 1, 2}[g.IntN(3)], Store: []string{"", "far", "near"}[g.IntN(3)]}
		first := whole.Parts[g.IntN(3)]
		switch d.Form {
		case catalog.DealSet:
			second := whole.Parts[g.IntN(3)]
			d.Parts = []catalog.Mention{{SKU: first.SKU, Count: 1 + g.IntN(2)}}
			d.Price = usd(first.Price.Minor * int64(d.Parts[0].Count) * int64(50+g.IntN(60)) / 100)
			if second != first {
				d.Parts = append(d.Parts, catalog.Mention{SKU: second.SKU, Count: 1})
				d.Price.Minor += second.Price.Minor * int64(40+g.IntN(70)) / 100
			}
		case catalog.DealFrom:
			d.Parts, d.From, d.All, d.Price = []catalog.Mention{{SKU: first.SKU, Count: 1}}, 2+g.IntN(2), g.IntN(2) == 0, usd(first.Price.Minor*int64(50+g.IntN(60))/100)
		case catalog.DealEvery:
			d.Parts, d.Every, d.OffPPM = []catalog.Mention{{SKU: first.SKU, Count: 1}}, 2+g.IntN(2), int64(100_000+g.IntN(900_000))
		}
		c.Deals = append(c.Deals, d)
	}
	p := build.Problem{Catalogue: c, Brief: catalog.DefaultBrief()}
	if several {
		p.Shops = set
	} else {
		p.Brief.Stores = [][]string{nil, {"near"}, {"far", "near"}}[g.IntN(3)]
	}
	p.Brief.TaxPPM = []int64{0, 75_000}[g.IntN(2)]
	if g.IntN(2) == 0 {
		p.Brief.TaxByKind = map[catalog.Kind]int64{catalog.KindKit: 0}
	}
	if g.IntN(3) == 0 {
		// One rate for all that is bought, and perhaps another for labour.
		p.Brief.TaxPPM, p.Brief.TaxByKind = 190_000, nil
		if rate := int64(20_000); g.IntN(2) == 0 {
			p.Brief.LabourTax, p.Brief.Labour = &rate, []catalog.Labour{{Name: "fit", Price: usd(333), Per: catalog.KindSubwoofer, Installed: true}}
		}
		return p
	}
	p.Brief.LabourTax = []*int64{nil, new(int64)}[g.IntN(2)]
	p.Brief.Labour = []catalog.Labour{{Name: "fit", Price: usd(500), Per: catalog.KindSubwoofer, Installed: true, Taxed: true}, {Name: "fetch", Price: usd(30), Per: catalog.KindAmplifier}}
	if g.IntN(3) == 0 {
		p.Brief.Owned = []catalog.Mention{{SKU: []string{"A", "B"}[g.IntN(2)], Count: 1 + g.IntN(2)}}
	}
	return p
}

func TestCartsByTryingEveryWay(t *testing.T) {
	deals, bought := 0, 0
	for seed := range uint64(1500) {
		g := rand.New(rand.NewPCG(seed, 7))
		p := market(g, seed%2 > 0)
		book, err := Open(p, setting.Relaxation{})
		if err != nil {
			t.Fatalf("seed %d: %v", seed, err)
		}
		var uses []Use
		var list []*catalog.Part
		count, buy := verify.Cart{}, verify.Cart{}
		for _, it := range book.Shelf.Items {
			n := min(g.IntN(5), it.Most)
			if n == 0 {
				continue
			}
			uses, list = append(uses, Use{Item: it, Count: n}), append(list, it.Part)
			count[it.Part.SKU], buy[it.Part.SKU] = n, max(0, n-it.Owned)
		}
		parts := Collect(uses...)
		due := verify.Due(&p, list, count, buy)
		if got := (book.Exact(parts) + book.Tax.Fixed) * book.Tax.Unit; got != due {
			t.Fatalf("seed %d: %s cost %d, by trying every way %d", seed, SKUs(parts), got, due)
		}
		b := build.Build{Lines: book.Lines(parts)}
		book.Bill(&b, parts)
		if b.Cost.Minor != verify.RoundHalfUp(due) || b.Due != [2]uint64{0, uint64(due)} {
			t.Fatalf("seed %d: %d is to be paid, of %d and %d", seed, b.Cost.Minor, due, b.Due)
		}
		sum := int64(0)
		at := map[string]int{} // pieces by part and shop
		for _, l := range b.Lines {
			sum += l.Cost.Minor
			pieces := 0
			for _, from := range l.Purchases() {
				pieces += from.Count
				at[l.Part.SKU+" "+from.Store] += from.Count
			}
			if bought++; pieces != buy[l.Part.SKU] || l.Owned != count[l.Part.SKU]-buy[l.Part.SKU] {
				t.Fatalf("seed %d: %d of %s come from somewhere, and %d are bought", seed, pieces, l.Part.SKU, buy[l.Part.SKU])
			}
		}
		if p.Shops != nil {
			for sku, offers := range p.Shops.Sales {
				for _, o := range offers {
					if n := at[sku+" "+o.Store]; o.Stock != catalog.Unlimited && n > o.Stock {
						t.Fatalf("seed %d: %d of %s from %s, which has %d", seed, n, sku, o.Store, o.Stock)
					}
				}
			}
		}
		for _, d := range b.Deals {
			sum -= d.Saving.Minor
			if deals++; d.Times <= 0 {
				t.Fatalf("seed %d: %+v", seed, d)
			}
		}
		for _, l := range b.Labour {
			sum += l.Cost.Minor
		}
		total := int64(0)
		for _, x := range b.Taxes {
			sum -= x.Sum.Minor
			total += x.Sum.Minor + x.Tax.Minor
		}
		if sum != 0 || total != b.Cost.Minor {
			t.Fatalf("seed %d: %d of the bill are in no sum, and %d with tax make %d", seed, sum, total, b.Cost.Minor)
		}
	}
	if deals < 200 || bought < 2000 {
		t.Errorf("%d deals, %d lines: the carts say little", deals, bought)
	}
}
