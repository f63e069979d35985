package optimizer

import (
	"math"
	"math/bits"
	"sort"
)

// Prices are exact integers in minor units, or, with taxes that differ by kind,
// in parts of one (till.go). Tax is laid on the sum once, and rounded half up
// once, as a till does it. With a tax of zero or more the till's figure is
// strictly monotone in the sum, so comparing sums compares prices, and the cap
// becomes one integer: the largest sum that still passes the till.

const (
	million = 1_000_000

	// dearest stands in for any price above it: far beyond a car, and small
	// enough that no sum of a build's prices overflows.
	dearest = int64(1e14)

	// boundless is the largest sum when no cap is stated.
	boundless = int64(1e17)
)

// taxed is the till's figure for a sum: round_half_up(sum x (1 + tax)).
func taxed(sum, taxPPM int64) int64 {
	if sum <= 0 {
		return 0
	}
	high, low := bits.Mul64(uint64(sum), uint64(million+taxPPM))
	low, carry := bits.Add64(low, million/2, 0)
	high += carry
	if high >= million {
		return math.MaxInt64
	}
	q, _ := bits.Div64(high, low, million)
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
	// taxed is monotone, so the first sum above the cap can be searched for.
	const most = int(boundless)
	first := sort.Search(most, func(sum int) bool { return taxed(int64(sum), taxPPM) > limit })
	return int64(first) - 1
}
