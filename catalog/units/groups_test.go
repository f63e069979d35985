package units

import (
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// Digits in groups: one to three, and then three in each, is how numbers are written
// in English (1,234,567.8), on the Continent (1.234.567,8), and with spaces after ISO
// 80000-1 (1 234 567.8 or 1 234 567,8). It is read as the same digits without them;
// any other division is a slip, and refused.
func TestDigitGroups(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		style := rapid.SampledFrom([][2]string{{",", "."}, {".", ","}, {" ", "."}, {" ", ","}, {"\u00a0", "."}, {"\u202f", ","}}).Draw(t, "style")
		lengths := rapid.SliceOfN(rapid.SampledFrom([]int{3, 3, 3, 1, 2, 4}), 2, 4).Draw(t, "lengths")
		digits := func(n int) string {
			return strconv.Itoa(rapid.IntRange(1, 9).Draw(t, "first")) + strings.Repeat("7", n-1)
		}
		good := lengths[0] <= 3
		var groups []string
		for i, n := range lengths {
			good = good && (i == 0 || n == 3)
			groups = append(groups, digits(n))
		}
		frac := digits(rapid.IntRange(1, 4).Draw(t, "decimals"))
		text := strings.Join(groups, style[0]) + style[1] + frac
		want, _ := strconv.ParseFloat(strings.Join(groups, "")+"."+frac, 64)
		q, err := Parse(text, Number)
		if want >= largest {
			return
		}
		if good && (err != nil || q.SI != want) {
			t.Fatalf("%q: %v, %v; want %v", text, q.SI, err, want)
		}
		if !good && err == nil {
			t.Fatalf("%q was read as %v", text, q.SI)
		}
		if len(lengths) == 2 || strings.TrimSpace(style[0]) == "" {
			return // one separator only has more than one reading, and spaces end a number
		}
		// Without decimals the two signs say it alone.
		text = strings.Join(groups, style[0])
		want, _ = strconv.ParseFloat(strings.Join(groups, ""), 64)
		if q, err := Parse(text, Number); good != (err == nil) || good && q.SI != want {
			t.Fatalf("%q: %v, %v; want %v, read: %v", text, q.SI, err, want, good)
		}
	})
}

// What stands on the edges of groups.
func TestGroupEdges(t *testing.T) {
	for text, want := range map[string]float64{
		"123,456,789": 123456789, "123.456.789": 123456789, "123 456": 123456, "999 999 999": 999999999,
		"-1,234.5": -1234.5, "+1 234": 1234, "1 234": 1234, "0,123": 0.123, "1,2345": 1.2345, "1234,5": 1234.5, "1,23": 1.23,
		"1,234.5e2": 123450, "12,345,678e-3": 12345.678,
		"6 1/2": 6.5, "1 234 1/2": 1234.5, "123 1/2": 123.5, "1 123/492": 1.25,
	} {
		if q, err := Parse(text, Number); err != nil || q.SI != want {
			t.Errorf("%q: %v, %v; want %v", text, q.SI, err, want)
		}
	}
	for _, text := range []string{
		"1234,567,890", ",123,456", "1,234,56", "12,34,567", "1,2345,678", "1234.567.890", "1.234,567.8", "1,234.567,8", "1 234,567,8", "1 234.5.6",
		"1 23", "1 2345", "1  234", "1 234 56", "123,456", "1,234", "12,345", "1234 567",
	} {
		if q, err := Parse(text, Number); err == nil {
			t.Errorf("%q was read as %v", text, q.SI)
		}
	}
}
