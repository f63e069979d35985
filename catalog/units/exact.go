package units

import (
	"math"
	"strconv"
	"strings"
)

// Numbers are written so that the reader gets back the very same float64: a
// part that was saved and loaded must give the same prediction to the last
// bit, or a quote could not be worked out again.
//
// Inside there are only SI values; what the user wrote is gone. But 0.3048 m
// was surely written as 12 in: of all units of a dimension the one with the
// fewest characters is taken, and of equals the one that stands first below.
// Each candidate is tried with the reader itself. The last unit of each line
// is the SI unit, in which every value can be written.

var writtenUnits = map[Dimension][]string{
	Number:      {""},
	Length:      {"cm", "mm", "in", "ft", "m"},
	Area:        {"cm2", "mm2", "in2", "m2"},
	Volume:      {"L", "ft3", "cm3", "in3", "m3"},
	Resistance:  {"ohm"},
	Power:       {"W"},
	Voltage:     {"V"},
	Current:     {"A"},
	Frequency:   {"Hz"},
	Mass:        {"g", "oz", "lb", "kg"},
	Inductance:  {"mH", "uH", "H"},
	Capacitance: {"uF", "nF", "F"},
	Level:       {"dB"},
	ForceFactor: {"T m"},
	Compliance:  {"mm/N", "um/N", "m/N"},
	Time:        {"min", "h", "s"},
	Density:     {"kg/m3"},
	Angle:       {"degrees", "rad"},
	Temperature: {"C"},
}

// perSI is how many of a unit make one SI unit: about right is enough, since
// the reader decides.
var perSI = func() map[Dimension]map[string]float64 {
	out := map[Dimension]map[string]float64{}
	for d, names := range writtenUnits {
		out[d] = map[string]float64{}
		for _, name := range names {
			out[d][name] = 1
			if q, err := Parse("1 "+name, d); err == nil {
				out[d][name] = 1 / q.SI
			}
		}
	}
	return out
}()

// usualDigits are as many as people write; a value that needs more in one unit
// was written in another.
const usualDigits = 12

// shortestFeet is the least length that is written in feet, m: drivers are
// sold by the inch, cables by the foot.
const shortestFeet = 1

// Exact writes an SI value with a unit.
func Exact(si float64, d Dimension) string { return shortest(d, si) }

// ExactLengths writes several lengths with crosses between them and one unit.
func ExactLengths(si ...float64) string { return shortest(Length, si...) }

func shortest(d Dimension, si ...float64) (best string) {
	in := func(unit string, number func(float64) string) string {
		parts := make([]string, len(si))
		for i, v := range si {
			if parts[i] = number(v); parts[i] == "" {
				return ""
			}
		}
		return joined(strings.Join(parts, " x "), unit)
	}
	for _, unit := range writtenUnits[d] {
		if unit == "ft" && len(si) == 1 && si[0] < shortestFeet {
			continue
		}
		text := in(unit, func(v float64) string { return numberIn(v, d, unit) })
		if text != "" && (best == "" || len(text) < len(best)) {
			best = text
		}
	}
	if best == "" {
		best = in(SIUnit(d), Plain)
	}
	return best
}

// numberIn is the number of at most usualDigits that the reader turns into the
// value when the unit follows; empty if there is none.
func numberIn(si float64, d Dimension, unit string) string {
	x := si * perSI[d][unit]
	v, err := strconv.ParseFloat(strconv.FormatFloat(x, 'g', usualDigits, 64), 64)
	if err != nil || math.Abs(v-x) > math.Abs(x)*nearlyEqual {
		return ""
	}
	text := Plain(v)
	if q, err := Parse(joined(text, unit), d); err != nil || q.SI != si {
		return ""
	}
	return text
}

// nearlyEqual is more than two roundings of a float64 and less than half of
// the last of usualDigits.
const nearlyEqual = 1e-14

func joined(number, unit string) string {
	if unit == "" {
		return number
	}
	return number + " " + unit
}

// Plain is the shortest number that is read back as the value; it never has an
// exponent, so that people can read it.
func Plain(si float64) string { return strconv.FormatFloat(si, 'f', -1, 64) }

// SIUnit is the SI unit of a dimension as files write it; empty: a bare number.
func SIUnit(d Dimension) string {
	names := writtenUnits[d]
	return names[len(names)-1]
}
