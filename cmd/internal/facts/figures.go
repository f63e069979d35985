package facts

import (
	"math"
	"math/big"
	"strconv"
	"strings"

	"loudfor/catalog"
)

// How figures look. A prediction is good to some decibels, so a level has one
// decimal and a frequency none; electrical figures have three significant
// digits, which is what a clamp meter shows.

func Decibels(db float64) string { return Fixed(db, 1) + " dB" }

// Banded is a level with the half-width of its band, if one was drawn.
func Banded(db, band float64) string { return Level(Terminal{}, db, band) }

func Hertz(hz float64) string { return Fixed(hz, 0) + " Hz" }

// Fixed is a number with a number of decimals, never "-0".
func Fixed(value float64, decimals int) string {
	text := strconv.FormatFloat(value, 'f', decimals, 64)
	if strings.Trim(text, "-0.") == "" {
		text = strings.TrimPrefix(text, "-")
	}
	return text
}

// Three is a number with three significant digits and no exponent.
func Three(value float64) string {
	if value == 0 {
		return "0"
	}
	// Round first: 9.996 has its first digit in the tens.
	rounded, err := strconv.ParseFloat(strconv.FormatFloat(value, 'e', 2, 64), 64)
	if err != nil {
		return strconv.FormatFloat(value, 'g', 3, 64) // too large for a figure
	}
	decimals := 2 - int(math.Floor(math.Log10(math.Abs(rounded))))
	return Fixed(rounded, min(max(decimals, 0), 6))
}

// Plain is a number without needless zeros, for values that somebody stated.
func Plain(value float64) string { return strconv.FormatFloat(value, 'g', 6, 64) }

// Thousands is a whole number with its thousands apart.
func Thousands(n *big.Int) string {
	digits := n.String()
	var parts []string
	for len(digits) > 3 {
		parts = append([]string{digits[len(digits)-3:]}, parts...)
		digits = digits[:len(digits)-3]
	}
	return strings.Join(append([]string{digits}, parts...), ",")
}

// Centimetres writes lengths as files do: "95 x 45 x 50 cm".
func Centimetres(metres ...float64) string {
	texts := make([]string, len(metres))
	for i, l := range metres {
		texts[i] = Plain(math.Round(l*100*10) / 10)
	}
	return strings.Join(texts, " x ") + " cm"
}

// Less is the sum a - b of one currency.
func Less(a, b catalog.Money) catalog.Money {
	return catalog.Money{Minor: a.Minor - b.Minor, Currency: a.Currency}
}
