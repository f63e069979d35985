package optimizer

import (
	"loudfor/catalog"
	"loudfor/model/bass"
	"loudfor/model/enclosure"
	"loudfor/optimizer/pricing"
	"loudfor/optimizer/setting"
)

// A bass block is so many drivers in so many equal boxes.

// bassBlock is one driver in a number of equal boxes.
type bassBlock struct {
	driver *pricing.Item // subwoofer or loaded enclosure
	boxes  int
	holes  int // drivers in each box
}

func (g *bassBlock) drivers() int { return g.boxes * g.holes }

func (g *bassBlock) loaded() bool { return g.driver.Part.Kind == catalog.KindLoaded }

// uses is what the block with one of the housings is made of.
func (g *bassBlock) uses(box *pricing.Item) (driver, housing pricing.Use) {
	if g.loaded() {
		return pricing.Use{Item: g.driver, Count: g.boxes}, pricing.Use{}
	}
	return pricing.Use{Item: g.driver, Count: g.drivers()}, pricing.Use{Item: box, Count: g.boxes}
}

// price of the block with one of the housings.
func (g *bassBlock) price(box *pricing.Item) int64 {
	if g.loaded() {
		return g.base()
	}
	return g.base() + box.Lower(g.boxes)
}

// base is the price of the block without its housings.
func (g *bassBlock) base() int64 {
	if g.loaded() {
		return g.driver.Lower(g.boxes)
	}
	return g.driver.Lower(g.drivers())
}

// blockMusts says whether a block holds all that must be in it.
func (t *gear) blockMusts(g *bassBlock, box *pricing.Item) bool {
	d, h := g.uses(box)
	for _, it := range t.Musts {
		switch it.Part.Kind {
		case catalog.KindSubwoofer, catalog.KindEnclosure, catalog.KindLoaded:
			if (it != d.Item || d.Count < it.Must) && (it != h.Item || h.Count < it.Must) {
				return false
			}
		}
	}
	return true
}

// blockFits checks the hole; what the car has no room for is in no group.
func (t *gear) blockFits(g *bassBlock, box *pricing.Item) bool {
	return g.loaded() || setting.FitsHole(g.driver.Part.Subwoofer, box.Part.Enclosure)
}

func (t *gear) fitsRoom(outside catalog.Size3, boxes int) bool {
	return (t.Relaxed.Space || setting.FitsSpace(outside, t.Space, boxes)) && (t.Relaxed.Boot || setting.Passes(outside, t.Vehicle.Boot))
}

// setup is the block as the model takes it.
func (t *gear) setup(g *bassBlock, box *pricing.Item) bass.Setup {
	s := bass.Setup{Driver: t.drivers[g.driver].driver, Box: boxOf(g, box), Boxes: g.boxes, Air: t.Air}
	if !g.loaded() {
		s.Displacement = g.driver.Part.Subwoofer.Displacement
	}
	return s
}

// boxOf is one box of a block, full of drivers.
func boxOf(g *bassBlock, box *pricing.Item) (b enclosure.Box) {
	if g.loaded() {
		b = g.driver.Part.Loaded.Box
	} else {
		b = box.Part.Enclosure.Box
	}
	b.Drivers = g.holes
	return b
}

// displacement is the volume that a subwoofer takes up in its box, m3.
func (t *gear) displacement(sub *pricing.Item) float64 {
	if v := sub.Part.Subwoofer.Displacement; v > 0 {
		return v
	}
	return enclosure.Displacement(t.drivers[sub].driver.Size)
}
