package record

import (
	"fmt"
	"math"
	"strconv"
)

// Figure is a number as it is written: rounded decimal text. The zero Figure
// is 0.
type Figure string

// MarshalJSON writes the digits as a number.
func (f Figure) MarshalJSON() ([]byte, error) {
	if f == "" {
		return []byte("0"), nil
	}
	return []byte(f), nil
}

// UnmarshalJSON keeps the digits as they are.
func (f *Figure) UnmarshalJSON(text []byte) error {
	if _, err := strconv.ParseFloat(string(text), 64); err != nil {
		return fmt.Errorf("%s is not a number", text)
	}
	*f = Figure(text)
	return nil
}

// Float is the value.
func (f Figure) Float() float64 {
	value, err := strconv.ParseFloat(string(f), 64)
	if err != nil {
		return 0
	}
	return value
}

// Level rounds decibels to 0.001, the step to which readings are compared.
func Level(db float64) Figure { return rounded(db, 3) }

// Number rounds to six significant digits: more than any part's card is worth
// and few enough that the noise of the arithmetic never shows.
func Number(value float64) Figure {
	if value == 0 || math.IsNaN(value) || math.IsInf(value, 0) {
		return rounded(value, 0)
	}
	digits := 5 - int(math.Floor(math.Log10(math.Abs(value))))
	return rounded(value, min(max(digits, 0), 12))
}

// rounded writes no more decimals than needed and never "-0".
func rounded(value float64, decimals int) Figure {
	if math.IsNaN(value) || math.IsInf(value, 0) {
		// The model promises finite numbers; JSON has no other.
		panic(fmt.Sprintf("a figure that is no number: %g", value))
	}
	scale := math.Pow(10, float64(decimals))
	nearest := math.Round(value*scale) / scale
	if nearest == 0 {
		return "0" // not "-0"
	}
	return Figure(strconv.FormatFloat(nearest, 'f', -1, 64))
}

// Amount is exact money in major units, such as 249.50.
type Amount = Figure
