package units

import (
	"math"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// Conversions: international yard and pound agreement of 1959 (1 in = 25.4 mm,
// 1 lb = 0.45359237 kg, both exact); SI brochure, 9th edition, for the rest.
func TestParse(t *testing.T) {
	for _, c := range []struct {
		text string
		d    Dimension
		want float64
	}{
		{"9 mm", Length, 0.009}, {"38cm", Length, 0.38}, {"12 in", Length, 0.3048}, {`12"`, Length, 0.3048},
		{"6.5 in", Length, 0.1651}, {"6 1/2 in", Length, 0.1651}, {"6-1/2 in", Length, 0.1651}, {"6½ in", Length, 0.1651},
		{"½ in", Length, 0.0127}, {"1/2 in", Length, 0.0127}, {"5 1/4 in", Length, 0.13335}, {"12-inch", Length, 0.3048},
		{"1.5 ft", Length, 0.4572}, {"2'", Length, 0.6096}, {"1.2 m", Length, 1.2}, {"  3 mm  ", Length, 0.003},
		{"480 cm2", Area, 0.048}, {"480 cm²", Area, 0.048}, {"480 cm^2", Area, 0.048}, {"480 sq cm", Area, 0.048},
		{"25 mm2", Area, 25e-6}, {"75 in2", Area, 75 * 0.0254 * 0.0254}, {"0.05 m2", Area, 0.05},
		{"58 L", Volume, 0.058}, {"58 l", Volume, 0.058}, {"0.85 ft3", Volume, 0.85 * 0.028316846592}, {"0.85 cu ft", Volume, 0.85 * 0.028316846592},
		{"0.85 cu. ft.", Volume, 0.85 * 0.028316846592}, {"0.85 ft³", Volume, 0.85 * 0.028316846592}, {"0.02 m3", Volume, 0.02}, {"2500 cm3", Volume, 0.0025},
		{"1000 in3", Volume, 0.016387064}, {"0.85 Cubic Feet", Volume, 0.85 * 0.028316846592},
		{"4 ohm", Resistance, 4}, {"4 Ω", Resistance, 4}, {"4Ω", Resistance, 4}, {"4 Ohms", Resistance, 4}, {"25 mohm", Resistance, 0.025}, {"25 mΩ", Resistance, 0.025},
		{"250 W", Power, 250}, {"250w", Power, 250}, {"1.2 kW", Power, 1200}, {"300 watts", Power, 300},
		{"14.4 V", Voltage, 14.4}, {"500 mV", Voltage, 0.5}, {"30 A", Current, 30}, {"30 amps", Current, 30},
		{"31 Hz", Frequency, 31}, {"0.12 kHz", Frequency, 120}, {"120 g", Mass, 0.12}, {"0.12 kg", Mass, 0.12}, {"1 lb", Mass, 0.45359237},
		{"2.1 mH", Inductance, 0.0021}, {"210 uH", Inductance, 210e-6}, {"210 µH", Inductance, 210e-6}, {"210 μH", Inductance, 210e-6},
		{"220 uF", Capacitance, 220e-6}, {"220 µF", Capacitance, 220e-6}, {"220 nF", Capacitance, 220e-9}, {"0.001 F", Capacitance, 0.001},
		{"88 dB", Level, 88}, {"88 dB 1W/1m", Level, 88}, {"-3 dB", Level, -3}, {"−3 dB", Level, -3},
		{"7.5 %", Ratio, 0.075}, {"7,5 %", Ratio, 0.075}, {"3 s", Time, 3}, {"50 ms", Time, 0.05}, {"2 min", Time, 120},
		{"20 C", Temperature, 20}, {"20 °C", Temperature, 20}, {"68 F", Temperature, 20}, {"293.15 K", Temperature, 20}, {"-40 F", Temperature, -40},
		{"12 T m", ForceFactor, 12}, {"12 N/A", ForceFactor, 12}, {"12 Tm", ForceFactor, 12}, {"12 T·m", ForceFactor, 12},
		{"0.15 mm/N", Compliance, 0.00015}, {"150 um/N", Compliance, 150e-6}, {"150 µm/N", Compliance, 150e-6}, {"1.5e-4 m/N", Compliance, 1.5e-4},
		{"0.60", Number, 0.6}, {".6", Number, 0.6}, {"5", Number, 5}, {"5e-1", Number, 0.5},
		// Separators with one reading.
		{"0,85 ft3", Volume, 0.85 * 0.028316846592}, {"0,850 L", Volume, 0.00085}, {"12,5 L", Volume, 0.0125}, {"1234,567 L", Volume, 1.234567},
		{"1,234.5 L", Volume, 1.2345}, {"1.234,5 L", Volume, 1.2345}, {"1 234.5 L", Volume, 1.2345}, {"1 234,5 L", Volume, 1.2345}, {"1\u00a0234.5 L", Volume, 1.2345},
		{"1,234,567 W", Power, 1234567}, {"1.234.567 W", Power, 1234567}, {"1.234 L", Volume, 0.001234}, {"12 345 Hz", Frequency, 12345},
	} {
		q, err := Parse(c.text, c.d)
		if err != nil {
			t.Errorf("%q: %v", c.text, err)
			continue
		}
		if math.Abs(q.SI-c.want) > 1e-12*math.Abs(c.want) {
			t.Errorf("%q = %v, want %v", c.text, q.SI, c.want)
		}
		if q.Text != strings.TrimSpace(c.text) {
			t.Errorf("%q keeps the text %q", c.text, q.Text)
		}
	}
}

// Decimal input gives the very number that a person would write in SI units.
func TestParseExactly(t *testing.T) {
	for text, want := range map[string]float64{"12 in": 0.3048, "9 mm": 0.009, "58 L": 0.058, "31 Hz": 31, "7.5 %": 0.075} {
		for d := range dimensions {
			if q, err := Parse(text, d); err == nil && q.SI != want {
				t.Errorf("%q = %v, want exactly %v", text, q.SI, want)
			}
		}
	}
}

func TestParseRefuses(t *testing.T) {
	for _, c := range []struct {
		text, marked, summary, remedy string
		d                             Dimension
	}{
		{"58 kg", "58 kg", "is a mass, not a volume", "L, m3, cm3, ft3 or in3", Volume},
		{"100 uF", "100 uF", "is a capacitance, not an inductance", "mH, uH or H", Inductance},
		{"4 ohm", "4 ohm", "is a resistance, not a pure number", "such as 0.6", Number},
		{"12", "12", "has no unit", "mm, cm, m, in or ft, such as 12 in", Length},
		{"58 MH", "MH", "not a unit that is known", `did you mean "mH"`, Inductance},
		{"58 mhz", "mhz", "not a unit that is known", "Hz or kHz", Frequency},
		{"1,234 L", "1,234", "can mean 1.234 or 1234", "write 1.234 or 1234", Volume},
		{"12,345 L", "12,345", "can mean 12.345 or 12345", "write 12.345 or 12345", Volume},
		{"1,23,456 L", "1,23,456", "groups of three", "without separators", Volume},
		{"1 23.5.6 L", "23.5.6", "", "", Volume},
		{"1'234 L", "1'234", "groups its digits", "without separators", Volume},
		{"1_000 L", "1_000", "groups its digits", "without separators", Volume},
		{"NaN L", "NaN L", "does not start with a number", "write a number", Volume},
		{"Inf L", "Inf L", "does not start with a number", "write a number", Volume},
		{"-Infinity Hz", "-Infinity Hz", "does not start with a number", "Hz or kHz", Frequency},
		{"0x1F L", "x1F L", "not a unit", "", Volume},
		{"1e99 L", "1e99", "out of all proportion", "plausible", Volume},
		{"1e-99 L", "1e-99", "out of all proportion", "plausible", Volume},
		{"1e15 W", "1e15 W", "out of all proportion", "plausible", Power},
		{"1e999999999999 L", "1e999999999999", "out of all proportion", "plausible", Volume},
		{strings.Repeat("9", 400) + " L", strings.Repeat("9", 400), "", "", Volume},
		{"", "", "the value is empty", "write a number", Volume},
		{"   ", "", "the value is empty", "write a number", Volume},
		{"N/A", "N/A", "does not start with a number", "write a number", ForceFactor},
		{"47 mF", "mF", "cannot be read", "write uF", Capacitance},
		{"88 dB/2.83V", "dB/2.83V", "cannot be read", "3 dB less for 4 ohm", Level},
		{"88 dB @ 2.83V/1m", "dB @ 2.83V/1m", "cannot be read", "3 dB less for 4 ohm", Level},
	} {
		_, err := Parse(c.text, c.d)
		if err == nil {
			t.Errorf("%q was read as %v", c.text, c.d)
			continue
		}
		if got := c.text[err.Start:err.End]; c.summary != "" && got != c.marked {
			t.Errorf("%q: marked %q, want %q", c.text, got, c.marked)
		}
		if !strings.Contains(err.Summary, c.summary) {
			t.Errorf("%q: summary %q lacks %q", c.text, err.Summary, c.summary)
		}
		if !strings.Contains(err.Remedy, c.remedy) {
			t.Errorf("%q: remedy %q lacks %q", c.text, err.Remedy, c.remedy)
		}
	}
}

func TestMisspeltUnitIsSuggested(t *testing.T) {
	for text, want := range map[string]string{"4 ohhm": "ohm", "58 litrs": "litre", "31 Hertzz": "hertz", "12 inchs": "inch"} {
		found := false
		for d := range dimensions {
			if _, err := Parse(text, d); err != nil && strings.Contains(err.Remedy, `did you mean "`+want+`"`) {
				found = true
			}
		}
		if !found {
			t.Errorf("%q does not lead to %q", text, want)
		}
	}
}

func TestParseNamed(t *testing.T) {
	for text, want := range map[string]float64{"50": 50, "50 W": 50, "0.05 kW": 50, "50.0": 50} {
		if q, err := ParseNamed(text, Power); err != nil || q.SI != want {
			t.Errorf("%q = %v, %v; want %v", text, q.SI, err, want)
		}
	}
	if _, err := ParseNamed("50 V", Power); err == nil {
		t.Error("50 V was read as a power")
	}
}

// Each spelling of each unit gives the same quantity whatever number stands
// before it and whether a space stands between.
func TestEverySpelling(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		u := &table[rapid.IntRange(0, len(table)-1).Draw(t, "unit")]
		names := strings.Split(u.names, "|")
		name := names[rapid.IntRange(0, len(names)-1).Draw(t, "name")]
		number := rapid.Float64Range(0.001, 900).Draw(t, "number")
		text := strconv.FormatFloat(number, 'f', rapid.IntRange(1, 6).Draw(t, "digits"), 64)
		number, _ = strconv.ParseFloat(text, 64)
		if rapid.Bool().Draw(t, "comma") && len(text)-strings.IndexByte(text, '.') != 4 {
			text = strings.Replace(text, ".", ",", 1)
		}
		if rapid.Bool().Draw(t, "space") {
			text += " "
		}
		q, err := Parse(text+name, u.d)
		if u.refuse != "" {
			if err == nil || err.Remedy != u.refuse {
				t.Fatalf("%q was read", text+name)
			}
			return
		}
		if err != nil {
			t.Fatalf("%q: %v", text+name, err)
		}
		if want := u.toSI(number); math.Abs(q.SI-want) > 1e-12*math.Abs(want) {
			t.Fatalf("%q = %v, want %v", text+name, q.SI, want)
		}
	})
}

// A comma never becomes thousands unless the number has a second separator
// that leaves no other reading.
func TestCommaIsNeverSilentlyThousands(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		whole, frac := rapid.StringMatching(`[0-9]{1,7}`).Draw(t, "whole"), rapid.StringMatching(`[0-9]{1,7}`).Draw(t, "frac")
		text := whole + "," + frac
		q, err := Parse(text, Number)
		want, _ := strconv.ParseFloat(whole+"."+frac, 64)
		if err == nil && want < largest && q.SI != want {
			t.Fatalf("%q was read as %v", text, q.SI)
		}
		ambiguous := len(frac) == 3 && len(whole) <= 3 && whole[0] != '0'
		if ambiguous != (err != nil) && want != 0 {
			t.Fatalf("%q: ambiguous %v, error %v", text, ambiguous, err)
		}
	})
}

func TestThresholds(t *testing.T) {
	for text, good := range map[string]bool{
		"1e12": true, "1.0001e12": false, "1e-15": true, "0.9e-15": false, "0": true,
		strings.Repeat("1", longestNumber) + "e-15":   false, // 40 digits are read, but are too large
		"0." + strings.Repeat("1", longestNumber-2):   true,
		"0." + strings.Repeat("1", longestNumber-1):   false,
		"1e" + strconv.Itoa(largestExponent+1) + "":   false,
		"0.001e" + strconv.Itoa(largestExponent) + "": true,
	} {
		if _, err := Parse(text, Number); (err == nil) != good {
			t.Errorf("%q: %v, want good %v", text, err, good)
		}
	}
}

func TestNearest(t *testing.T) {
	known := []string{"sku", "kind", "price", "coils", "fuse", "volume", "mode"}
	for word, want := range map[string]string{
		"colis": "coils", "prise": "price", "skus": "sku", "volum": "volume", "mdoe": "mode", "COILS": "coils",
		"banana": "", "": "", "xyz": "", strings.Repeat("a", 1000): "",
	} {
		if got := Nearest(word, known); got != want {
			t.Errorf("Nearest(%q) = %q, want %q", word, got, want)
		}
	}
	// A suggestion has to agree in sense, and each word of a phrase with its own.
	for _, c := range []struct {
		word  string
		known []string
		want  string
	}{
		{"windows shut", []string{"windows open", "doors open"}, ""},
		{"window open", []string{"windows open", "doors open"}, "windows open"},
		{"dors open", []string{"windows open", "doors open"}, "doors open"},
		{"max", []string{"xmax"}, ""}, {"xmx", []string{"xmax"}, "xmax"}, {"xmxa", []string{"xmax"}, "xmax"},
		{"rsm", []string{"rms", "fs"}, "rms"}, {"fss", []string{"fs"}, "fs"}, {"Dok Street", []string{"Dock Street"}, "Dock Street"},
		{"small sedam", []string{"small sedan", "sedan"}, "small sedan"}, {"kick panle", []string{"kick panel"}, "kick panel"},
		{"front speker", []string{"rear speaker", "front speaker"}, "front speaker"},
		{"left door", []string{"right door"}, ""},
	} {
		if got := Nearest(c.word, c.known); got != c.want {
			t.Errorf("Nearest(%q, %q) = %q, want %q", c.word, c.known, got, c.want)
		}
	}
}
