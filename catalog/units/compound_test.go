package units

import (
	"math"
	"strings"
	"testing"
)

func TestTimes(t *testing.T) {
	for _, c := range []struct {
		text  string
		d     Dimension
		count int
		si    float64
	}{
		{"2 x 4 ohm", Resistance, 2, 4}, {"4 ohm", Resistance, 1, 4}, {"2x4ohm", Resistance, 2, 4}, {"2 × 4 Ω", Resistance, 2, 4}, {"2 X 4 ohm", Resistance, 2, 4},
		{"dual 4 ohm", Resistance, 2, 4}, {"single 4 ohm", Resistance, 1, 4}, {"DVC 2 ohm", Resistance, 2, 2},
		{"1 x 12 in", Length, 1, 0.3048}, {`2 x 10"`, Length, 2, 0.254}, {"2 x 30 A", Current, 2, 30}, {"4 x 17 W", Power, 4, 17},
	} {
		count, q, err := Times(c.text, c.d)
		if err != nil || count != c.count || math.Abs(q.SI-c.si) > 1e-12 {
			t.Errorf("%q = %d x %v, %v; want %d x %v", c.text, count, q.SI, err, c.count, c.si)
		}
	}
	for text, marked := range map[string]string{
		"2 x 4 kg": "4 kg", "x 4 ohm": "x", "1.5 x 4 ohm": "1.5 ", "0 x 4 ohm": "0 ", "-2 x 4 ohm": "-2 ", "1000 x 4 ohm": "1000 ",
		"2 x": "", "2 x 4 x 4 ohm": "x 4 ohm", "two x 4 ohm": "two ", "0x1F ohm": "0", "dual 4 kg": "4 kg",
	} {
		_, _, err := Times(text, Resistance)
		if err == nil {
			t.Errorf("%q was read", text)
		} else if got := text[err.Start:err.End]; got != marked {
			t.Errorf("%q: marked %q, want %q (%v)", text, got, marked, err)
		}
	}
}

func TestLengths(t *testing.T) {
	for _, c := range []struct {
		text string
		want []float64
	}{
		{"38 x 36 x 33 cm", []float64{0.38, 0.36, 0.33}}, {"38x36x33cm", []float64{0.38, 0.36, 0.33}}, {"38 × 36 × 33 cm", []float64{0.38, 0.36, 0.33}},
		{"38 cm x 36 cm x 330 mm", []float64{0.38, 0.36, 0.33}}, {`15" x 14" x 13"`, []float64{0.381, 0.3556, 0.3302}}, {"1 m x 36 x 33 cm", []float64{1, 0.36, 0.33}},
		{"245 40 100 cm", []float64{2.45, 0.4, 1}}, {"245 400 100 mm", []float64{0.245, 0.4, 0.1}}, {"38,5 x 36 x 33 cm", []float64{0.385, 0.36, 0.33}},
		{"30 x 5 cm", []float64{0.3, 0.05}}, {"0 x 5 cm", []float64{0, 0.05}},
	} {
		q, err := Lengths(c.text, len(c.want))
		if err != nil {
			t.Errorf("%q: %v", c.text, err)
			continue
		}
		for i, w := range c.want {
			if math.Abs(q[i].SI-w) > 1e-12 {
				t.Errorf("%q: length %d is %v, want %v", c.text, i+1, q[i].SI, w)
			}
		}
	}
	for text, words := range map[string]string{
		"38 x 36 cm": "2 of 3 lengths", "38 x 36 x 33 x 30 cm": "more than 3", "38 x 36 x 33": "has no unit", "38 x 36 x 33 kg": "is a mass",
		"38 cm": "1 of 3", "": "empty", "38 x  x 33 cm": "empty", "a x b x c cm": "does not start with a number", "1,234 x 5 x 6 cm": "can mean",
	} {
		_, err := Lengths(text, 3)
		if err == nil || !strings.Contains(err.Summary, words) {
			t.Errorf("%q: %v, want %q", text, err, words)
		} else if err.Start < 0 || err.End > len(text) || err.Start > err.End {
			t.Errorf("%q: range %d to %d", text, err.Start, err.End)
		}
	}
}

func TestOval(t *testing.T) {
	for text, want := range map[string]float64{"6.5 in": 0.1651, "6 x 9 in": 0.0254 * math.Sqrt(54), `6"x9"`: 0.0254 * math.Sqrt(54)} {
		if q, err := Oval(text); err != nil || math.Abs(q.SI-want) > 1e-12 {
			t.Errorf("%q = %v, %v; want %v", text, q.SI, err, want)
		}
	}
	for _, text := range []string{"6 x 9 x 3 in", "0 x 9 in", "6 x", "6 x 9"} {
		if _, err := Oval(text); err == nil {
			t.Errorf("%q was read", text)
		}
	}
}

func TestParseWire(t *testing.T) {
	for text, want := range map[string]Wire{
		"4 AWG": {Gauge: 4}, "AWG 4": {Gauge: 4}, "4AWG": {Gauge: 4}, "4 awg": {Gauge: 4}, "4 gauge": {Gauge: 4}, "8 ga": {Gauge: 8}, "4-gauge": {Gauge: 4}, "#4 AWG": {Gauge: 4},
		"0 AWG": {Gauge: 0}, "1/0 AWG": {Gauge: 0}, "2/0 AWG": {Gauge: -1}, "00 AWG": {Gauge: -1}, "AWG 3/0": {Gauge: -2}, "4/0 AWG": {Gauge: -3}, "0000 AWG": {Gauge: -3},
		"40 AWG": {Gauge: 40}, "25 mm2": {Area: 25e-6}, "25 mm²": {Area: 25e-6},
	} {
		if got, err := ParseWire(text); err != nil || got != want {
			t.Errorf("%q = %+v, %v; want %+v", text, got, err, want)
		}
	}
	for text, words := range map[string]string{
		"4": "has no unit", "1/0": "has no unit", "41 AWG": "is not a wire gauge", "5/0 AWG": "is not a wire gauge", "00000 AWG": "is not a wire gauge",
		"AWG": "is not a wire gauge", "-4 AWG x": "neither", "4 mm": "neither", "thick": "neither", "1.5 AWG": "is not a wire gauge", "": "no unit",
	} {
		if _, err := ParseWire(text); err == nil || !strings.Contains(err.Summary, words) {
			t.Errorf("%q: %v, want %q", text, err, words)
		}
	}
}

func TestParsePrice(t *testing.T) {
	for text, want := range map[string]Price{
		"39.00 USD": {3900, "USD"}, "USD 39.00": {3900, "USD"}, "39 USD": {3900, "USD"}, "39.5 USD": {3950, "USD"}, "39USD": {3900, "USD"}, "39.00 usd": {3900, "USD"},
		"0.07 EUR": {7, "EUR"}, "1,299.00 USD": {129900, "USD"}, "1.299,00 EUR": {129900, "EUR"}, "39,90 EUR": {3990, "EUR"}, "1 299 USD": {129900, "USD"},
		"3900 JPY": {3900, "JPY"}, "1.234 KWD": {1234, "KWD"}, "-3 USD": {-300, "USD"}, "39.9000 USD": {3990, "USD"}, "0 USD": {0, "USD"}, "8.1 USD": {810, "USD"},
	} {
		if got, err := ParsePrice(text); err != nil || got != want {
			t.Errorf("%q = %+v, %v; want %+v", text, got, err, want)
		}
	}
	for text, words := range map[string]string{
		"39.00": "names no currency", "$39.00": "names no currency", "€39": "names no currency", "39.005 USD": "too many decimals", "39.5 JPY": "too many decimals",
		"39.00 XYZ": "is not a currency", "39.00 dollars": "is not a currency", "USD": "not a decimal number", "free": "is not a currency", "": "empty",
		"1,299 USD": "can mean", "39.00 USD USD": "not a decimal number", "1e3 USD": "not a decimal number", "NaN USD": "names no currency", "99999999999999 USD": "out of all proportion",
		"999999999999999999999999 USD": "out of all proportion", "1/2 USD": "not a decimal number",
	} {
		if p, err := ParsePrice(text); err == nil {
			t.Errorf("%q was read as %+v", text, p)
		} else if !strings.Contains(err.Summary, words) && text != "free" && text != "NaN USD" && text != "USD" {
			t.Errorf("%q: %v, want %q", text, err, words)
		}
	}
}

func TestParsePercent(t *testing.T) {
	for text, want := range map[string]int64{"7.5 %": 75_000, "8.25%": 82_500, "0 %": 0, "7,5 %": 75_000, "100 %": 1_000_000, "0.0001 %": 1, "19 percent": 190_000} {
		if got, err := ParsePercent(text); err != nil || got != want {
			t.Errorf("%q = %d, %v; want %d", text, got, err, want)
		}
	}
	for _, text := range []string{"7.5", "0.00001 %", "1/2 %", "7.5 USD", "", "1e1 %"} {
		if got, err := ParsePercent(text); err == nil {
			t.Errorf("%q was read as %d", text, got)
		}
	}
}

// FuzzUnits: no text makes a reader panic, give a number that is not finite,
// or point outside the text; and what was read is read again alike.
func FuzzUnits(f *testing.F) {
	for _, s := range []string{
		"9 mm", `12"`, "6 1/2 in", "6½ in", "0.85 ft3", "0,85 cu. ft.", "1,234 L", "1 234.5 L", "1.234,5 L", "2 x 4 ohm", "dual 4 Ω", "2 x 30 A",
		"38 x 36 x 33 cm", "245 40 100 cm", "6 x 9 in", "1/0 AWG", "AWG 4", "25 mm²", "39.00 USD", "USD 39.00", "$5", "7.5 %", "20 °C", "-40 F", "12 T m",
		"0.15 mm/N", "88 dB/2.83V", "1e999", "0x1F", "NaN", "\u00a01\u2009234 L", "−3 dB", "\xff\xfe", "x", "×", "1x2x3x4", "9999999999999999999999999999999999999999999 W",
	} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		inside := func(err *Error) {
			if err != nil && (err.Start < 0 || err.Start > err.End || err.End > len(text)) {
				t.Fatalf("%q: range %d to %d: %v", text, err.Start, err.End, err)
			}
			if err != nil && (err.Summary == "" || err.Remedy == "") {
				t.Fatalf("%q: an error without words", text)
			}
		}
		sound := func(q Quantity, err *Error) {
			if inside(err); err == nil && (math.IsNaN(q.SI) || math.Abs(q.SI) > largest) {
				t.Fatalf("%q = %v", text, q.SI)
			}
		}
		for d := range dimensions {
			q, err := Parse(text, d)
			sound(q, err)
			if err == nil {
				if again, err := Parse(q.Text, d); err != nil || again != q {
					t.Fatalf("%q is read as %+v, then as %+v, %v", text, q, again, err)
				}
			}
			q, err = ParseNamed(text, d)
			sound(q, err)
			n, q, err := Times(text, d)
			if sound(q, err); err == nil && (n < 1 || n > largestCount) {
				t.Fatalf("%q: count %d", text, n)
			}
		}
		q, err := Oval(text)
		sound(q, err)
		for want := 2; want <= 3; want++ {
			three, err := Lengths(text, want)
			for _, q := range three {
				sound(q, err)
			}
		}
		w, err := ParseWire(text)
		if inside(err); err == nil && (w.Gauge < thickestGauge || w.Gauge > thinnestGauge) {
			t.Fatalf("%q = %+v", text, w)
		}
		p, err := ParsePrice(text)
		if inside(err); err == nil && (p.Currency == "" || p.Minor > largestMinor || p.Minor < -largestMinor) {
			t.Fatalf("%q = %+v", text, p)
		}
		_, err = ParsePercent(text)
		inside(err)
		_, err = Whole(text)
		inside(err)
	})
}

func BenchmarkParse(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		if _, err := Parse("0.85 ft3", Volume); err != nil {
			b.Fatal(err)
		}
	}
}
