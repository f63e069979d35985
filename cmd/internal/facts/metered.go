package facts

import (
	"fmt"
	"math"
	"strings"
)

// Odds is the likelihood ratio of a logarithm as people say one.
func Odds(gain float64) string {
	const most = 1000
	if gain > math.Log(most) {
		return fmt.Sprintf("more than %d", most)
	}
	return fmt.Sprintf("%.2g", math.Exp(gain))
}

// Valued is a value with its spread, to the digits that the spread is worth.
func Valued(value, spread float64, unit string) string {
	decimals := 0
	if spread > 0 {
		decimals = max(0, min(3, 1-int(math.Floor(math.Log10(spread)))))
	}
	return strings.TrimSpace(Fixed(value, decimals) + " +/- " + Fixed(spread, decimals) + " " + unit)
}
