package optimizer

// What the rules take as equal, and what is assumed where nothing is stated:
// the figures that the search and its recheck have in common.

const (
	// sizeTolerance separates nominal sizes: the nearest two (6.5 and 6.75
	// inches) are 6 mm apart.
	sizeTolerance = 0.003

	// cutTolerance is what a jigsaw and a rasp give, m.
	cutTolerance = 0.002

	// roomTolerance lets a box pass that rounding makes too large, m.
	roomTolerance = 0.0005

	// wattsTolerance lets a pair pass whose power is short by rounding only.
	wattsTolerance = 1e-9

	// stockLoad and stockSize are what cars come with (common practice, no
	// source), assumed for the speakers that nobody described.
	stockLoad = 4.0
	stockSize = 0.165

	// plenty is more pieces than any build holds.
	plenty = 1 << 20
)
