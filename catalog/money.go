package catalog

import (
	"math/bits"
	"strings"

	"loudfor/catalog/units"
)

// Money is an exact sum in minor units (cents) of one currency.
type Money struct {
	Minor    int64
	Currency string // ISO 4217 code
}

// ParseMoney reads "39.00 USD" or "USD 39.00".
func ParseMoney(text string) (Money, error) {
	p, err := units.ParsePrice(text)
	if err != nil {
		return Money{}, err
	}
	return Money(p), nil
}

// String writes the sum with all its decimals and the code of its currency,
// the same in every locale: "250.00 USD".
func (m Money) String() string { return units.Price(m).String() }

// Decimal writes the sum with all its decimals and without the currency.
func (m Money) Decimal() string {
	number, _, _ := strings.Cut(m.String(), " ")
	return number
}

// millionths is what a tax rate is counted in.
const millionths = 1_000_000

// share is the part-th of all parts of a sum, rounded half up; it does not
// overflow, whatever the sum. part is no more than all.
func share(sum, part, all int64) int64 {
	high, low := bits.Mul64(uint64(sum), uint64(part))
	low, carry := bits.Add64(low, uint64(all)/2, 0)
	q, _ := bits.Div64(high+carry, low, uint64(all))
	return int64(q)
}

// roundHalfUp divides and rounds to the nearest whole number, halves up; over
// is positive.
func roundHalfUp(n, over int64) int64 {
	q, rest := n/over, n%over
	if rest < 0 {
		q, rest = q-1, rest+over
	}
	if 2*rest >= over {
		q++
	}
	return q
}
