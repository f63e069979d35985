package drive

// The pairs or the feeds of a class, cut by price: within a part none is cheaper than
// its floor, and none stronger than the envelope of all that cost less than the next.

// tierRise is by how much the envelope's voltage rises within a tier: about
// a decibel, and as little in the level that it bounds.
const tierRise = 1.12

// PriceTier is the pairs, or for a reading the feeds, of a class between two prices.
type PriceTier struct {
	Floor  int64      // no pair costs less, with its rest
	AtCoil CoilSource // none of them is stronger

	// For a reading: of feeds.
	Cable float64 // none has less resistance before it
	Tree  []FeedNode
}

// CutTiers makes the tiers of a class for music.
func (c *CoilLoad) CutTiers() {
	for i := 0; i < len(c.Choices); {
		t := PriceTier{Floor: c.Floors[i]}
		least := c.Envelopes[i].Voltage
		for ; i < len(c.Choices); i++ {
			// Equal prices belong together.
			if c.Envelopes[i].Voltage > least*tierRise && c.Floors[i] > c.Floors[i-1] {
				break
			}
			t.AtCoil = c.Envelopes[i]
		}
		c.Tiers = append(c.Tiers, t)
	}
}
