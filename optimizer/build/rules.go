package build

// What the rules take as equal, and what is assumed where nothing is stated:
// the figures that the search and its recheck have in common.

const (
	// SizeTolerance separates nominal sizes: the nearest two (6.5 and 6.75
	// inches) are 6 mm apart.
	SizeTolerance = 0.003

	// CutTolerance is what a jigsaw and a rasp give, m.
	CutTolerance = 0.002

	// RoomTolerance lets a box pass that rounding makes too large, m.
	RoomTolerance = 0.0005

	// WattsTolerance lets a pair pass whose power is short by rounding only.
	WattsTolerance = 1e-9

	// StockLoad, ohm, and StockSize, m, are what cars come with (common practice, no
	// source), assumed for the speakers that nobody described.
	StockLoad = 4.0
	StockSize = 0.165

	// Plenty is more pieces than any build holds.
	Plenty = 1 << 20

	// AnyDrivers, AnyBoxes and AnyAmplifiers are more than any car holds.
	AnyDrivers    = 16
	AnyBoxes      = 8
	AnyAmplifiers = 4
)
