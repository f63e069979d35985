package catalog

// A box that the shop builds itself needs material and work. Both are parts of
// the catalogue, with a price, a shop and a stock like any other; but no build
// has them as they are: a sheet comes into a build cut up, as an enclosure.

// Sheet is a board that boxes are cut from; its price is that of one sheet.
type Sheet struct {
	Thickness     float64 // m
	Length, Width float64 // m
	Density       float64 // kg/m3, 0: not stated
	// ByArea charges the share of the sheet that is used, for shops that
	// keep the rest, and not the whole sheet.
	ByArea bool
}

// Workshop is where boxes are built; its price is that of an hour.
type Workshop struct {
	PerBox   float64 // s: marking out, glueing, finish
	PerPanel float64 // s: cutting and fitting
	PerHole  float64 // s: a driver's cutout with its bolts
	PerPort  float64 // s: beyond its panels
	Kerf     float64 // m: what the saw takes
}

// ForBuilding tells whether parts of the kind are in a build only as what is
// made of them.
func (k Kind) ForBuilding() bool { return k == KindSheet || k == KindWorkshop }

// firstForBuilding ends the list of kinds that can be in a build themselves.
const firstForBuilding = KindSheet
