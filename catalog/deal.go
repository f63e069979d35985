package catalog

// A deal is a price that depends on what is bought together. There are three
// forms:
//
//   - a set of pieces for one price,
//   - a lower price each from so many pieces of one part on,
//   - every so many-th piece of one part at a discount.
//
// Only pieces that are bought take part, each of them in one deal at most, and
// nobody has to take one: the customer pays the least that can be paid. A deal of
// a shop is about pieces of that shop, as many as it has; a piece that a deal makes
// no cheaper costs what its shop asks.
//
// All sums are whole minor units. The one percentage, that of every so many-th
// piece, is taken from the price of the piece, and what is left is rounded
// half up. Where the parts of a set bear different taxes, its price stands for
// them in proportion to their own prices (see Portions).

// DealForm tells the forms apart.
type DealForm int

const (
	DealSet   DealForm = iota // Parts together for Price
	DealFrom                  // at least From pieces: Price each, for all or for the further ones
	DealEvery                 // every Every-th piece with Off taken off
)

// Deal is one line of the list of deals.
type Deal struct {
	Name  string
	Form  DealForm
	Parts []Mention // what a DealSet is made of; of the others the one part, once
	Price Money     // of the set, or of each piece of a DealFrom
	From  int       // of a DealFrom
	// All says that a DealFrom lowers the price of all pieces, those before
	// the From-th as well.
	All    bool
	Every  int   // of a DealEvery
	OffPPM int64 // of a DealEvery, in millionths: 50 % is 500,000
	// Limit is how often one customer gets it: sets, or pieces at the lower
	// price; or Unlimited.
	Limit int
	Store string // the shop that offers it; empty: wherever its parts are sold
	Note  string
	Where Position
	Keys  map[string]Position // where the value of each stated key stands
}

// Reduced is the price of the piece that a DealEvery makes cheaper, of a part
// that costs so much, in minor units.
func (d *Deal) Reduced(price int64) int64 {
	return roundHalfUp(price*(millionths-d.OffPPM), millionths)
}

// Portions splits the price of a set over its lines, in proportion to what
// they cost by themselves. Each border between two lines is rounded half up
// once, so that the portions are whole and add up; that of a line is between
// nothing and what the line costs as long as the set is no dearer than its
// parts.
func Portions(price int64, lines []int64) []int64 {
	var all, passed int64
	for _, l := range lines {
		all += l
	}
	out := make([]int64, len(lines))
	for i, l := range lines {
		if all == 0 {
			continue
		}
		before := share(price, passed, all)
		passed += l
		out[i] = share(price, passed, all) - before
	}
	if all == 0 && len(out) > 0 {
		out[0] = price
	}
	return out
}

// Alone is what the pieces of a deal cost without it, for a DealSet; ok is
// false if one of them is not in the catalogue or has no price.
func (c *Catalogue) Alone(d *Deal) (sum Money, ok bool) {
	sum.Currency = c.Currency
	for _, m := range d.Parts {
		p := c.Part(m.SKU)
		if p == nil || !p.Priced {
			return sum, false
		}
		sum.Minor += int64(m.Count) * p.Price.Minor
	}
	return sum, true
}

// At is where the value of a key stands; the deal itself if it is not stated.
func (d *Deal) At(key string) Position {
	if at, ok := d.Keys[key]; ok {
		return at
	}
	return d.Where
}
