package optimizer

import (
	"slices"
	"strings"

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
	uses   []use // of a set; else the one part
	times  int   // how often it can be had
	saving int64 // each time, weighed
	minor  int64 // the same in minor units, before tax
}

// lines are what the parts of a set cost by themselves, in minor units.
func (o *offer) lines() (lines []int64) {
	for _, u := range o.uses {
		lines = append(lines, int64(u.count)*u.item.part.Price.Minor)
	}
	return lines
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

// haggle finds the offers and what they do to the prices of the parts.
func (t *task) haggle() error {
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
		if len(it.alone) > 0 {
			it.table = make([]int64, tableSize)
			for n := range it.table {
				it.table[n] = it.savings(n, nil)
			}
		}
	}
	return nil
}

// tableSize is more pieces of one part than a search ever puts in a build.
const tableSize = 2 * (anyDrivers + anyAmplifiers)

// offer takes a deal up if this customer can have it and it saves something.
func (t *task) offer(d *catalog.Deal) error {
	if stores := t.brief.Stores; d.Store != "" && len(stores) > 0 && !slices.ContainsFunc(stores, func(s string) bool { return strings.EqualFold(s, d.Store) }) {
		return nil
	}
	o := &offer{deal: d, times: plenty}
	if d.Limit != catalog.Unlimited {
		o.times = d.Limit
	}
	var all int64
	for _, m := range d.Parts {
		it, err := t.shelf.named(m, "the deal "+d.Name)
		if err != nil {
			return err
		}
		if !it.part.Priced {
			return nil
		}
		n := max(m.Count, 1)
		o.uses = append(o.uses, use{it, n})
		all += int64(n) * it.part.Price.Minor
	}
	if len(o.uses) == 0 {
		return nil
	}
	first := o.uses[0].item
	weight := t.till.weight[first.part.Kind]
	switch d.Form {
	case catalog.DealSet:
		o.minor = all - d.Price.Minor
		if lines := o.lines(); o.minor > 0 {
			for i, portion := range catalog.Portions(d.Price.Minor, lines) {
				o.saving += weigh(lines[i]-portion, t.till.weight[o.uses[i].item.part.Kind])
			}
		}
	case catalog.DealFrom:
		o.minor = all - d.Price.Minor
		o.saving = weigh(o.minor, weight)
	case catalog.DealEvery:
		o.minor = all - d.Reduced(all)
		o.saving = weigh(o.minor, weight)
	}
	if o.saving <= 0 || o.times <= 0 {
		return nil
	}
	t.offers = append(t.offers, o)
	for _, u := range o.uses {
		u.item.dealt = true
	}
	if o.single() {
		first.alone = append(first.alone, o)
	}
	return nil
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
	lines := o.lines()
	for i, portion := range catalog.Portions(o.deal.Price.Minor, lines) {
		u := o.uses[i]
		saved := weigh(lines[i]-portion, t.till.weight[u.item.part.Kind])
		u.item.save(perPiece(saved, u.count), o.saving)
	}
}

// shareAlone does the same for a deal about pieces of one part, of which there
// can be any number.
func (t *task) shareAlone(o *offer) {
	it := o.uses[0].item
	for n := 1; n <= t.buyableIn(it); n++ {
		now, before := int64(o.gain(n))*o.saving, int64(o.gain(n-1))*o.saving
		it.save(perPiece(now, n), now-before)
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
