package answer

import (
	"fmt"
	"math"
	"math/big"
	"strconv"
	"strings"

	"loudfor/catalog"
)

// How figures look. A prediction is good to some decibels, so a level has one
// decimal and a frequency none; electrical figures have three significant
// digits, which is what a clamp meter shows.

func decibels(db float64) string { return fixed(db, 1) + " dB" }

// banded is a level with the half-width of its band, if one was drawn.
func banded(db, band float64) string {
	if band == 0 {
		return decibels(db)
	}
	return fixed(db, 1) + " +/- " + fixed(band, 1) + " dB"
}

func hertz(hz float64) string { return fixed(hz, 0) + " Hz" }

// fixed is a number with a number of decimals, never "-0".
func fixed(value float64, decimals int) string {
	text := strconv.FormatFloat(value, 'f', decimals, 64)
	if strings.Trim(text, "-0.") == "" {
		text = strings.TrimPrefix(text, "-")
	}
	return text
}

// three is a number with three significant digits and no exponent.
func three(value float64) string {
	if value == 0 {
		return "0"
	}
	// Round first: 9.996 has its first digit in the tens.
	rounded, err := strconv.ParseFloat(strconv.FormatFloat(value, 'e', 2, 64), 64)
	if err != nil {
		return strconv.FormatFloat(value, 'g', 3, 64) // too large for a figure
	}
	decimals := 2 - int(math.Floor(math.Log10(math.Abs(rounded))))
	return fixed(rounded, min(max(decimals, 0), 6))
}

// plain is a number without needless zeros, for values that somebody stated.
func plain(value float64) string { return strconv.FormatFloat(value, 'g', 6, 64) }

// percent is a tax rate that is kept in millionths.
func percent(ppm int64) string {
	return strconv.FormatFloat(float64(ppm)/1e4, 'f', -1, 64) + " %"
}

// thousands is a whole number with its thousands apart.
func thousands(n *big.Int) string {
	digits := n.String()
	var parts []string
	for len(digits) > 3 {
		parts = append([]string{digits[len(digits)-3:]}, parts...)
		digits = digits[:len(digits)-3]
	}
	return strings.Join(append([]string{digits}, parts...), ",")
}

// centimetres writes a size as files do: "95 x 45 x 50 cm".
func centimetres(s catalog.Size3) string {
	return fmt.Sprintf("%s x %s x %s cm", plain(round1(s.Width*100)), plain(round1(s.Depth*100)), plain(round1(s.Height*100)))
}

func round1(value float64) float64 { return math.Round(value*10) / 10 }

// less is the sum a - b of one currency.
func less(a, b catalog.Money) catalog.Money {
	return catalog.Money{Minor: a.Minor - b.Minor, Currency: a.Currency}
}
