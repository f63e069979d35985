package optimizer

import (
	"sort"

	"loudfor/model/bass"
)

// The wirings of a class as a bass.Choice: much less than the envelope of them all,
// since voltage goes with coils in parallel and current with coils in series. What
// the money left over can buy is told to the next of some three dozen sums, which
// takes in a little more.

// The pairs of a class are cut by price into offeringSums parts, of offeringPairs at
// least.
const offeringSums, offeringPairs = 40, 64

// offering is the wirings of the first so many pairs.
type offering struct {
	pairs int
	of    *bass.Choice
}

// offeringUnder is the wirings of at least all pairs that cost no more than a sum with
// the cheapest kit and rest.
func (c *class) offeringUnder(sum int64) *bass.Choice {
	return c.offering(sort.Search(len(c.floors), func(i int) bool { return c.floors[i] > sum }))
}

// offering is the wirings of at least the first so many pairs.
func (c *class) offering(pairs int) *bass.Choice {
	c.offeringsOnce.Do(c.offer)
	at := sort.Search(len(c.offerings)-1, func(i int) bool { return c.offerings[i].pairs >= pairs })
	return c.offerings[at].of
}

// offer makes the offerings of a class.
func (c *class) offer() {
	var all bass.Choice
	sums := max(1, min(offeringSums, len(c.pairs)/offeringPairs))
	for n := range c.pairs {
		p := &c.pairs[n]
		for i := range p.ways {
			all.Add(p.ways[i].felt.drive(1).Source)
		}
		if (n+1)*sums/len(c.pairs) > n*sums/len(c.pairs) {
			c.offerings = append(c.offerings, offering{n + 1, all.Closed()})
		}
	}
}
