package optimizer

// The pairs or the outfits of a class, cut by price: within a part none is cheaper than
// its floor, and none stronger than the envelope of all that cost less than the next.

// treadRise is by how much the envelope's voltage rises within a tread: about
// a decibel, and as little in the level that it bounds.
const treadRise = 1.12

// tread is the pairs, or for a reading the outfits, of a class between two prices.
type tread struct {
	floor int64      // no pair costs less, with its rest
	felt  coilSource // none of them is stronger

	// For a reading: of outfits.
	cable float64 // none has less resistance before it
	twigs []twig
}

// cut makes the treads of a class for music.
func (c *class) cut() {
	for i := 0; i < len(c.pairs); {
		t := tread{floor: c.floors[i]}
		least := c.envelopes[i].voltage
		for ; i < len(c.pairs); i++ {
			// Equal prices belong together.
			if c.envelopes[i].voltage > least*treadRise && c.floors[i] > c.floors[i-1] {
				break
			}
			t.felt = c.envelopes[i]
		}
		c.treads = append(c.treads, t)
	}
}
