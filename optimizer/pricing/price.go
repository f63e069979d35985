package pricing

import (
	"math"
	"math/bits"
	"sort"
)

// Prices are exact integers in minor units, or, with taxes that differ by kind,
// in parts of one (tax.go). Tax is laid on the sum once, and rounded half up
// once, as a till does it. With a tax of zero or more the till's figure is
// strictly monotone in the sum, so comparing sums compares prices, and the cap
// becomes one integer: the largest sum that still passes the till.

const (
	Million = 1_000_000

	// Dearest stands in for any price above it: far beyond a car, and small
	// enough that no sum of a build's prices overflows.
	Dearest = int64(1e14)

	// Boundless is the largest sum when no cap is stated.
	Boundless = int64(1e17)
)

// Taxed is the till's figure for a sum: round_half_up(sum x (1 + tax)).
func Taxed(sum, taxPPM int64) int64 {
	if sum <= 0 {
		return 0
	}
	high, low := bits.Mul64(uint64(sum), uint64(Million+taxPPM))
	low, carry := bits.Add64(low, Million/2, 0)
	high += carry
	if high >= Million {
		return math.MaxInt64
	}
	q, _ := bits.Div64(high, low, Million)
	if q > math.MaxInt64 {
		return math.MaxInt64
	}
	return int64(q)
}

// largestSum is the largest sum whose taxed figure is at most the cap; -1 if
// there is none.
func largestSum(limit, taxPPM int64) int64 {
	if limit < 0 {
		return -1
	}
	// Taxed is monotone, so the first sum above the cap can be searched for.
	const most = int(Boundless)
	first := sort.Search(most, func(sum int) bool { return Taxed(int64(sum), taxPPM) > limit })
	return int64(first) - 1
}
