package units

import (
	"regexp"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// compiled keeps what takes longer than the matching.
var compiled = map[string]*regexp.Regexp{}

func whollyMatches(t *rapid.T, pattern, text string) bool {
	re, ok := compiled[pattern]
	if !ok {
		var err error
		if re, err = regexp.Compile(`^\s*(?:` + pattern + `)\s*$`); err != nil {
			t.Fatal(err)
		}
		compiled[pattern] = re
	}
	return re.MatchString(text)
}

// texts draws values as people write them, good and bad.
func texts(d Dimension) *rapid.Generator[string] {
	numbers := rapid.SampledFrom([]string{"4", "0.85", "0,85", "6 1/2", "6-1/2", "1/2", "½", "6½", "6 ½", "1e-3", "2E+2", "-3", "+3", "−3", ".5",
		"1 234.5", "1\u202f234", "1,234,567", "1.234,5", "12", "1'000", "abc", ""})
	var names []string
	for i := range table {
		if table[i].d == d || i%7 == 0 {
			names = append(names, strings.Split(table[i].names, "|")...)
		}
	}
	names = append(names, "", "parsec")
	decorate := rapid.SampledFrom([]func(string) string{
		func(s string) string { return s }, strings.ToUpper, strings.ToLower,
		func(s string) string { return strings.ReplaceAll(s, "2", "²") }, func(s string) string { return strings.ReplaceAll(s, "3", "^3") },
		func(s string) string { return strings.ReplaceAll(s, "u", "µ") }, func(s string) string { return strings.ReplaceAll(s, "ohm", "Ω") },
		func(s string) string { return s + "." }, func(s string) string { return strings.Join(strings.Split(s, ""), " ") },
	})
	return rapid.Custom(func(t *rapid.T) string {
		return numbers.Draw(t, "number") + rapid.SampledFrom([]string{"", " ", "  "}).Draw(t, "space") +
			decorate.Draw(t, "spelling")(rapid.SampledFrom(names).Draw(t, "unit"))
	})
}

// Whatever is read, an editor that goes by the pattern lets pass.
func TestPatternsAcceptWhatIsRead(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := Dimension(rapid.IntRange(0, int(dimensions)-1).Draw(t, "dimension"))
		one, other := texts(d).Draw(t, "one"), texts(Length).Draw(t, "other")
		count := rapid.SampledFrom([]string{"", "2 x ", "2x", "4 × ", "dual ", "DVC "}).Draw(t, "count")
		holds := func(what string, failed *Error, pattern, text string) {
			if failed == nil && !whollyMatches(t, pattern, text) {
				t.Errorf("%q is read as %s, but its pattern does not match it", text, what)
			}
		}
		_, e := Parse(one, d)
		holds(d.String(), e, d.Pattern(), one)
		_, e = ParseNamed(one, d)
		holds("a named one", e, d.NamedPattern(), one)
		_, _, e = Times(count+one, d)
		holds("a count of it", e, d.TimesPattern(), count+one)
		_, e = Oval(one + "x" + other)
		holds("an oval", e, OvalPattern(), one+"x"+other)
		for n := 2; n <= 3; n++ {
			size := strings.Repeat(one+rapid.SampledFrom([]string{" x ", "X", " "}).Draw(t, "cross"), n-1) + other
			_, e = Lengths(size, n)
			holds("lengths", e, LengthsPattern(n), size)
		}
		wire := rapid.SampledFrom([]string{"4 AWG", "AWG 4", "1/0 awg", "0000 gauge", "4ga", "#4 AWG", "2/0-AWG", "25 mm2", "4 ga.", "ga 4", "four"}).Draw(t, "wire")
		_, e = ParseWire(wire)
		holds("a wire", e, WirePattern(), wire)
		price := rapid.SampledFrom([]string{"39.00 USD", "USD 39", "39,50 eur", "EUR39", "1 234.50 USD", "$3", "39"}).Draw(t, "price")
		_, e = ParsePrice(price)
		holds("a price", e, PricePattern(), price)
	})
}

// A pattern is of use only if it refuses what a hand slips into.
func TestPatternsRefuseMistakes(t *testing.T) {
	for _, c := range []struct {
		pattern, text string
	}{
		{Volume.Pattern(), "58 kg"}, {Volume.Pattern(), "58"}, {Volume.Pattern(), "58 LL"}, {Resistance.Pattern(), "four ohm"},
		{Capacitance.Pattern(), "220 mF"}, {Inductance.Pattern(), "2 MH"}, {Resistance.TimesPattern(), "2 x 4"},
		{LengthsPattern(3), "38 x 36 cm"}, {LengthsPattern(2), "38 x 36 x 33 cm"}, {PricePattern(), "39.00"}, {PricePattern(), "39 $"},
		{WirePattern(), "4"}, {OvalPattern(), "6 x 9"}, {Number.Pattern(), "0.6 L"},
	} {
		if regexp.MustCompile(`^\s*(?:` + c.pattern + `)\s*$`).MatchString(c.text) {
			t.Errorf("%q passes", c.text)
		}
	}
}
