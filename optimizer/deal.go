package optimizer

import (
	"slices"

	"loudfor/catalog"
)

// Deals make the price of a build less than the sum of its parts. A piece takes
// part in one deal at most, owned pieces in none, and the customer pays the
// least of all ways of applying them: so the price of a build is its list price
// less the greatest saving.
//
// The search needs three figures for every part (proofs in the package
// documentation):
//
//   - price, for bounds: what the piece costs at least if every deal that it
//     could be in took off its share;
//   - full, for a part that outranks another: what it costs without any deal;
//   - worth, for a part that is outranked: what a build is cheaper without it,
//     at least; its price less the saving of a whole deal, which may fail
//     without the piece.
//
// For a part in no deal all three are the same.

// offer is a deal as this customer meets it.
type offer struct {
	deal   *catalog.Deal
	uses   []use   // of a set; else the one part
	pools  []int   // for each: which of its sales the pieces have to come from; -1: any
	asked  []int64 // for each: its share of a set's price, minor units
	times  int     // how often it can be had
	saving int64   // each time, weighed, off the list prices
	place  int     // among all offers
}

// single says that it is about pieces of one part.
func (o *offer) single() bool { return len(o.uses) == 1 }

// gain is how often the offer saves when n pieces of its part are left to it.
func (o *offer) gain(n int) int {
	times := 0
	switch d := o.deal; d.Form {
	case catalog.DealSet:
		times = n / o.uses[0].count
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
	return min(times, o.times)
}

// lowers is how many of n pieces in the offer pay its price.
func (o *offer) lowers(n int) int {
	if o.deal.Form == catalog.DealSet {
		return o.gain(n) * o.uses[0].count
	}
	return o.gain(n)
}

// haggle finds the offers and what they do to the prices of the parts.
func (t *task) haggle() error {
	t.listSales()
	for _, d := range t.p.Catalogue.Deals {
		if err := t.offer(d); err != nil {
			return err
		}
	}
	for _, o := range t.offers {
		if o.single() {
			t.shareAlone(o)
		} else {
			t.share(o)
		}
	}
	for _, it := range t.shelf.items {
		if it.share > 0 {
			it.price = it.full - it.share
		}
		t.bends = t.bends || it.dealt
		t.tabulate(it)
	}
	return nil
}

// tableSize is more pieces of one part than a search ever puts in a build.
const tableSize = 2 * (anyDrivers + anyAmplifiers)

// tabulate works out beforehand what the deals about one part, and its cheaper
// shops, save.
func (t *task) tabulate(it *item) {
	size := 0
	switch {
	case len(it.sales) > 0:
		size = min(max(t.buyableIn(it)+1, 0), tableSize)
	case len(it.alone) > 0:
		size = tableSize
	}
	table := make([]int64, size)
	for n := range table {
		table[n] = it.savings(n, make([]int, len(it.sales)), nil)
	}
	it.table = table
}

// offer takes a deal up if this customer can have it and it saves something.
func (t *task) offer(d *catalog.Deal) error {
	if stores := t.brief.Stores; d.Store != "" && len(stores) > 0 && !slices.ContainsFunc(stores, func(s string) bool { return catalog.SameStore(s, d.Store) }) {
		return nil
	}
	o := &offer{deal: d, times: plenty}
	if d.Limit != catalog.Unlimited {
		o.times = d.Limit
	}
	for _, m := range d.Parts {
		it, err := t.shelf.named(m, "the deal "+d.Name)
		if err != nil {
			return err
		}
		pool, sold := it.soldIn(d.Store)
		if !it.part.Priced || !sold {
			return nil
		}
		o.uses, o.pools = append(o.uses, use{it, max(m.Count, 1)}), append(o.pools, pool)
	}
	if len(o.uses) == 0 {
		return nil
	}
	o.price(t)
	if o.saving <= 0 || o.times <= 0 {
		return nil
	}
	o.place = len(t.offers)
	t.offers = append(t.offers, o)
	for _, u := range o.uses {
		u.item.dealt = true
	}
	if first := o.uses[0].item; o.single() {
		first.alone = append(first.alone, o)
	} else {
		first.sets = append(first.sets, o)
	}
	return nil
}

// price works out what the offer asks, and what it saves each time.
func (o *offer) price(t *task) {
	first := o.uses[0].item
	switch d := o.deal; d.Form {
	case catalog.DealSet:
		var own []int64
		for _, u := range o.uses {
			own = append(own, int64(u.count)*t.ownPrice(u.item))
		}
		o.asked = catalog.Portions(d.Price.Minor, own)
		for i, u := range o.uses {
			o.saving += u.item.weigh(t, int64(u.count)*u.item.part.Price.Minor-o.asked[i])
		}
	case catalog.DealFrom:
		o.asked = []int64{d.Price.Minor}
		o.saving = first.weigh(t, first.part.Price.Minor-d.Price.Minor)
	case catalog.DealEvery:
		if len(first.sales) > 0 {
			return // part of which price? The reader of catalogues refuses it
		}
		o.asked = []int64{d.Reduced(first.part.Price.Minor)}
		o.saving = first.weigh(t, first.part.Price.Minor-o.asked[0])
	}
}

// weigh weighs a difference of prices of a part, which may be below zero.
func (it *item) weigh(t *task, minor int64) int64 {
	w := t.till.weight[it.part.Kind]
	return weigh(minor, w) - weigh(-minor, w)
}

// buyableIn is how many pieces of a part a build of the search can buy.
func (t *task) buyableIn(it *item) int {
	slot := 1
	switch it.part.Kind {
	case catalog.KindSubwoofer:
		slot = t.brief.Drivers
	case catalog.KindEnclosure, catalog.KindLoaded:
		slot = t.brief.Boxes
	case catalog.KindAmplifier:
		slot = t.brief.Amplifiers + 1 // one for the front
	}
	return min(slot, it.most) - it.owned
}

// share splits the saving of a set over its pieces: to each line what it saves
// itself, to each piece of a line as much, rounded up.
func (t *task) share(o *offer) {
	for _, u := range o.uses {
		if t.buyableIn(u.item) < u.count {
			return // in no build of the search
		}
	}
	for i, u := range o.uses {
		saved := u.item.weigh(t, int64(u.count)*u.item.part.Price.Minor-o.asked[i])
		u.item.save(perPiece(saved, u.count), o.saving)
	}
}

// shareAlone does the same for a deal about pieces of one part, of which there
// can be any number. Where shops differ in price, a piece that only counts for
// the deal may be bought where it costs less, so all that the deal saves is the
// share of the pieces that it makes cheaper.
func (t *task) shareAlone(o *offer) {
	it := o.uses[0].item
	for n := 1; n <= t.buyableIn(it); n++ {
		now, before := int64(o.gain(n))*o.saving, int64(o.gain(n-1))*o.saving
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
func (it *item) save(share, whole int64) {
	it.share, it.whole = max(it.share, share), max(it.whole, whole)
}

// list is the price of n pieces without deals.
func (it *item) list(n int) int64 {
	return int64(n)*it.each + int64(max(0, n-it.owned))*it.full
}

// worth is what any build that holds the part is cheaper, at least, with one
// piece less. It can be below zero: a piece may be what a deal wants.
func (it *item) worth() int64 {
	if it == nil {
		return 0
	}
	if it.owned > 0 { // this piece may be the owned one
		return it.each + min(0, it.full-it.whole)
	}
	return it.each + it.full - it.whole
}
