package catalog

import (
	"math"
	"math/big"
	"testing"

	"pgregory.net/rapid"
)

func TestMoneyText(t *testing.T) {
	for text, want := range map[string]string{
		"250 USD": "250.00 USD", "USD 0.5": "0.50 USD", "3900 JPY": "3900 JPY", "1.5 KWD": "1.500 KWD", "-3 EUR": "-3.00 EUR",
	} {
		m, err := ParseMoney(text)
		if err != nil || m.String() != want {
			t.Errorf("%q: %v, %v; want %s", text, m, err, want)
		}
		again, err := ParseMoney(m.String())
		if err != nil || again != m {
			t.Errorf("%v is read again as %v, %v", m, again, err)
		}
	}
	if got := (Money{}).String(); got != "0" {
		t.Errorf("no sum is %q", got)
	}
	if m := (Money{25000, "USD"}); m.Decimal() != "250.00" {
		t.Errorf("%s", m.Decimal())
	}
}

// Worked by hand: 7.5 % on 10.00 is 10.75; on 0.06 it is 0.0645, so 0.06; on
// 0.07 it is 0.07525, so 0.08; half a cent goes up.
func TestHalfUpByHand(t *testing.T) {
	for _, c := range []struct{ minor, ppm, want int64 }{
		{1000, 75_000, 1075}, {6, 75_000, 6}, {7, 75_000, 8}, {20, 25_000, 21}, {60, 25_000, 62}, {0, 75_000, 0}, {100, 0, 100}, {1, 500_000, 2}, {-1, 500_000, -1}, {-3, 500_000, -4}, {3333, 82_500, 3608},
	} {
		if got := roundHalfUp(c.minor*(millionths+c.ppm), millionths); got != c.want {
			t.Errorf("%d with %d ppm is %d, want %d", c.minor, c.ppm, got, c.want)
		}
	}
}

// The rule itself, in exact arithmetic: the nearest whole number, halves up.
func TestRoundHalfUp(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.Int64Range(-1<<60, 1<<60).Draw(t, "n")
		over := rapid.Int64Range(1, 1<<30).Draw(t, "over")
		got := roundHalfUp(n, over)
		// got - 1/2 <= n/over < got + 1/2
		low := new(big.Rat).Add(big.NewRat(got, 1), big.NewRat(-1, 2))
		high := new(big.Rat).Add(big.NewRat(got, 1), big.NewRat(1, 2))
		exact := big.NewRat(n, over)
		if exact.Cmp(low) < 0 || exact.Cmp(high) >= 0 {
			t.Fatalf("%d/%d became %d", n, over, got)
		}
	})
}

// No sum of prices that the reader accepts overflows with a tax.
func TestTaxDoesNotOverflow(t *testing.T) {
	const dearest, pieces, fullTax = 1_000_000_000_000, 4, 1_000_000
	if dearest*pieces > math.MaxInt64/(millionths+fullTax) {
		t.Error("the dearest price is too dear")
	}
}
