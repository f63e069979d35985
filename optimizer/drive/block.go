package drive

import (
	"loudfor/catalog"
	"loudfor/model/bass"
	"loudfor/model/enclosure"
	"loudfor/optimizer/pricing"
	"loudfor/optimizer/setting"
)

// Block is one driver in a number of equal boxes.
type Block struct {
	Driver *pricing.Item // subwoofer or loaded enclosure
	Boxes  int
	Holes  int // drivers in each box
}

// Drivers is how many there are in all boxes.
func (g *Block) Drivers() int { return g.Boxes * g.Holes }

// Loaded says that the boxes are sold with their drivers in them.
func (g *Block) Loaded() bool { return g.Driver.Part.Kind == catalog.KindLoaded }

// Uses is what the block with one of the housings is made of.
func (g *Block) Uses(box *pricing.Item) (driver, housing pricing.Use) {
	if g.Loaded() {
		return pricing.Use{Item: g.Driver, Count: g.Boxes}, pricing.Use{}
	}
	return pricing.Use{Item: g.Driver, Count: g.Drivers()}, pricing.Use{Item: box, Count: g.Boxes}
}

// Price of the block with one of the housings.
func (g *Block) Price(box *pricing.Item) int64 {
	if g.Loaded() {
		return g.Base()
	}
	return g.Base() + box.Lower(g.Boxes)
}

// Base is the price of the block without its housings.
func (g *Block) Base() int64 {
	if g.Loaded() {
		return g.Driver.Lower(g.Boxes)
	}
	return g.Driver.Lower(g.Drivers())
}

// HoldsMusts says whether a block holds all that must be in it.
func (t *Gear) HoldsMusts(g *Block, box *pricing.Item) bool {
	d, h := g.Uses(box)
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

// FitsHole checks the hole; what the car has no room for is in no group.
func (t *Gear) FitsHole(g *Block, box *pricing.Item) bool {
	return g.Loaded() || setting.FitsHole(g.Driver.Part.Subwoofer, box.Part.Enclosure)
}

// FitsRoom says whether the car has room for so many boxes, and they pass its boot.
func (t *Gear) FitsRoom(outside catalog.Size3, boxes int) bool {
	return (t.Relaxed.Space || setting.FitsSpace(outside, t.Space, boxes)) && (t.Relaxed.Boot || setting.Passes(outside, t.Vehicle.Boot))
}

// Setup is the block as the model takes it.
func (t *Gear) Setup(g *Block, box *pricing.Item) bass.Setup {
	s := bass.Setup{Driver: t.Drivers[g.Driver].Driver, Box: BoxOf(g, box), Boxes: g.Boxes, Air: t.Air}
	if !g.Loaded() {
		s.Displacement = g.Driver.Part.Subwoofer.Displacement
	}
	return s
}

// BoxOf is one box of a block, full of drivers.
func BoxOf(g *Block, box *pricing.Item) (b enclosure.Box) {
	if g.Loaded() {
		b = g.Driver.Part.Loaded.Box
	} else {
		b = box.Part.Enclosure.Box
	}
	b.Drivers = g.Holes
	return b
}

// Displacement is the volume that a subwoofer takes up in its box, m3.
func (t *Gear) Displacement(sub *pricing.Item) float64 {
	if v := sub.Part.Subwoofer.Displacement; v > 0 {
		return v
	}
	return enclosure.Displacement(t.Drivers[sub].Driver.Size)
}
