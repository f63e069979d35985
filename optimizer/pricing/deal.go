package pricing

import (
	"slices"

	"loudfor/catalog"
	"loudfor/optimizer/build"
)

// Deals make the price of a build less than the sum of its parts. A piece takes
// part in one deal at most, owned pieces in none, and the customer pays the
// least of all ways of applying them: so the price of a build is its list price
// less the greatest saving.
//
// A search needs three figures for every part (proofs on the package page): Lower for
// bounds, List for a part that outranks another, Marginal for one that is outranked.

// Deal is a deal as this customer meets it.
type Deal struct {
	Terms  *catalog.Deal
	Uses   []Use   // of a set; else the one part
	pools  []int   // for each: which of its sales the pieces have to come from; -1: any
	asked  []int64 // for each: its share of a set's price, minor units
	Times  int     // how often it can be had
	Saving int64   // each time, weighed, off the list prices
	place  int     // among all deals
}

// single says that it is about pieces of one part.
func (o *Deal) single() bool { return len(o.Uses) == 1 }

// gain is how often the deal saves when n pieces of its part are left to it.
func (o *Deal) gain(n int) int {
	times := 0
	switch d := o.Terms; d.Form {
	case catalog.DealSet:
		times = n / o.Uses[0].Count
	case catalog.DealFrom:
		switch {
		case n < d.From:
		case d.All:
			times = n
		default:
			times = n - d.From + 1
		}
	case catalog.DealEvery:
		times = n / d.Every
	}
	return min(times, o.Times)
}

// lowers is how many of n pieces in the deal pay its price.
func (o *Deal) lowers(n int) int {
	if o.Terms.Form == catalog.DealSet {
		return o.gain(n) * o.Uses[0].Count
	}
	return o.gain(n)
}

// ApplyDeals finds the deals that can be had and what they do to the prices of the parts.
func (t *Book) ApplyDeals() error {
	t.listSales()
	for _, d := range t.Problem.Catalogue.Deals {
		if err := t.takeUp(d); err != nil {
			return err
		}
	}
	for _, o := range t.Deals {
		if o.single() {
			t.shareAlone(o)
		} else {
			t.share(o)
		}
	}
	for _, it := range t.Shelf.Items {
		if it.share > 0 {
			it.price = it.Full - it.share
		}
		t.NonAdditive = t.NonAdditive || it.Dealt
		t.tabulate(it)
	}
	return nil
}

// TableSize is more pieces of one part than a search ever puts in a build.
const TableSize = 2 * (build.AnyDrivers + build.AnyAmplifiers)

// tabulate works out beforehand what the deals about one part, and its cheaper
// shops, save.
func (t *Book) tabulate(it *Item) {
	size := 0
	switch {
	case len(it.sales) > 0:
		size = min(max(t.BuyableIn(it)+1, 0), TableSize)
	case len(it.alone) > 0:
		size = TableSize
	}
	table := make([]int64, size)
	for n := range table {
		table[n] = it.savings(n, make([]int, len(it.sales)), nil)
	}
	it.table = table
}

// takeUp takes a deal up if this customer can have it and it saves something.
func (t *Book) takeUp(d *catalog.Deal) error {
	if stores := t.Brief.Stores; d.Store != "" && len(stores) > 0 && !slices.ContainsFunc(stores, func(s string) bool { return catalog.SameStore(s, d.Store) }) {
		return nil
	}
	o := &Deal{Terms: d, Times: build.Plenty}
	if d.Limit != catalog.Unlimited {
		o.Times = d.Limit
	}
	for _, m := range d.Parts {
		it, err := t.Shelf.named(m, "the deal "+d.Name)
		if err != nil {
			return err
		}
		pool, sold := it.soldIn(d.Store)
		if !it.Part.Priced || !sold {
			return nil
		}
		o.Uses, o.pools = append(o.Uses, Use{it, max(m.Count, 1)}), append(o.pools, pool)
	}
	if len(o.Uses) == 0 {
		return nil
	}
	o.price(t)
	if o.Saving <= 0 || o.Times <= 0 {
		return nil
	}
	o.place = len(t.Deals)
	t.Deals = append(t.Deals, o)
	for _, u := range o.Uses {
		u.Item.Dealt = true
	}
	if first := o.Uses[0].Item; o.single() {
		first.alone = append(first.alone, o)
	} else {
		first.sets = append(first.sets, o)
	}
	return nil
}

// price works out what the deal asks, and what it saves each time.
func (o *Deal) price(t *Book) {
	first := o.Uses[0].Item
	switch d := o.Terms; d.Form {
	case catalog.DealSet:
		var own []int64
		for _, u := range o.Uses {
			own = append(own, int64(u.Count)*t.ownPrice(u.Item))
		}
		o.asked = catalog.Portions(d.Price.Minor, own)
		for i, u := range o.Uses {
			o.Saving += u.Item.weighted(t, int64(u.Count)*u.Item.Part.Price.Minor-o.asked[i])
		}
	case catalog.DealFrom:
		o.asked = []int64{d.Price.Minor}
		o.Saving = first.weighted(t, first.Part.Price.Minor-d.Price.Minor)
	case catalog.DealEvery:
		if len(first.sales) > 0 {
			return // part of which price? The reader of catalogues refuses it
		}
		o.asked = []int64{d.Reduced(first.Part.Price.Minor)}
		o.Saving = first.weighted(t, first.Part.Price.Minor-o.asked[0])
	}
}

// weighted weighs a difference of prices of a part, which may be below zero.
func (it *Item) weighted(t *Book, minor int64) int64 {
	w := t.Tax.weight[it.Part.Kind]
	return weighted(minor, w) - weighted(-minor, w)
}

// BuyableIn is how many pieces of a part a build of the search can buy.
func (t *Book) BuyableIn(it *Item) int {
	slot := 1
	switch it.Part.Kind {
	case catalog.KindSubwoofer:
		slot = t.Brief.Drivers
	case catalog.KindEnclosure, catalog.KindLoaded:
		slot = t.Brief.Boxes
	case catalog.KindAmplifier:
		slot = t.Brief.Amplifiers + 1 // one for the front
	}
	return min(slot, it.Most) - it.Owned
}

// share splits the saving of a set over its pieces: to each line what it saves
// itself, to each piece of a line as much, rounded up.
func (t *Book) share(o *Deal) {
	for _, u := range o.Uses {
		if t.BuyableIn(u.Item) < u.Count {
			return // in no build of the search
		}
	}
	for i, u := range o.Uses {
		saved := u.Item.weighted(t, int64(u.Count)*u.Item.Part.Price.Minor-o.asked[i])
		u.Item.save(perPiece(saved, u.Count), o.Saving)
	}
}

// shareAlone does the same for a deal about pieces of one part, of which there
// can be any number. Where shops differ in price, a piece that only counts for
// the deal may be bought where it costs less, so all that the deal saves is the
// share of the pieces that it makes cheaper.
func (t *Book) shareAlone(o *Deal) {
	it := o.Uses[0].Item
	for n := 1; n <= t.BuyableIn(it); n++ {
		now, before := int64(o.gain(n))*o.Saving, int64(o.gain(n-1))*o.Saving
		over := n
		if len(it.sales) > 0 {
			over = max(o.lowers(n), 1)
		}
		it.save(perPiece(now, over), now-before)
	}
}

func perPiece(saving int64, pieces int) int64 {
	return (saving + int64(pieces) - 1) / int64(pieces)
}

// save notes what a deal takes off one piece, and what fails without it.
func (it *Item) save(share, whole int64) {
	it.share, it.Whole = max(it.share, share), max(it.Whole, whole)
}

// List is the price of n pieces without deals.
func (it *Item) List(n int) int64 {
	return int64(n)*it.Each + int64(max(0, n-it.Owned))*it.Full
}

// Marginal is what any build that holds the part is cheaper, at least, with one
// piece less. It can be below zero: a piece may be what a deal wants.
func (it *Item) Marginal() int64 {
	if it == nil {
		return 0
	}
	if it.Owned > 0 { // this piece may be the owned one
		return it.Each + min(0, it.Full-it.Whole)
	}
	return it.Each + it.Full - it.Whole
}
