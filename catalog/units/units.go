// Package units reads numbers with units as the trade writes them, and turns
// them into SI once, at the edge of the program.
//
//	q, err := units.Parse("0.85 ft3", units.Volume)
//	q.SI             // 0.02407 (m3)
//	q.Text, q.Unit   // "0.85 ft3", "ft3": kept for messages
//
//	units.Parse("58 kg", units.Volume)   // error: "58 kg" is a mass, not a volume
//	units.Parse("1,234 L", units.Volume) // error: 1.234 or 1234?
//
// A decimal comma is read as such where only one reading is possible, and
// refused otherwise; a comma never silently becomes thousands. A number
// without a unit is an error for everything but pure numbers. NaN, infinities,
// hexadecimal digits and exponents that no part could have are refused.
//
// Limits: it reads one quantity, a product of a count and a quantity, or a
// triple of lengths. It has no general unit algebra: each unit is listed.
package units

import (
	"strings"
)

// Dimension is what kind of quantity a value is.
type Dimension uint8

const (
	Number      Dimension = iota // a pure number, such as a Q or a count
	Length                       // m
	Area                         // m2
	Volume                       // m3
	Resistance                   // ohm
	Power                        // W
	Voltage                      // V
	Current                      // A
	Frequency                    // Hz
	Mass                         // kg
	Inductance                   // H
	Capacitance                  // F
	Level                        // dB
	Ratio                        // 1; written in percent
	Time                         // s
	Temperature                  // degrees Celsius
	ForceFactor                  // N/A, the same as T m
	Compliance                   // m/N
	Density                      // kg/m3
	Admittance                   // a pure number again: relative to that of air
	Angle                        // rad
	dimensions
)

// about says what a dimension is called, which units a message offers, and an
// example of a good value.
var about = [dimensions]struct{ name, offered, example string }{
	Number:      {"a pure number", "no unit", "0.6"},
	Length:      {"a length", "mm, cm, m, in or ft", "12 in"},
	Area:        {"an area", "mm2, cm2, m2, in2 or ft2", "480 cm2"},
	Volume:      {"a volume", "L, m3, cm3, ft3 or in3", "24 L"},
	Resistance:  {"a resistance", "ohm or mohm", "4 ohm"},
	Power:       {"a power", "W, kW or mW", "75 W"},
	Voltage:     {"a voltage", "V or mV", "14.4 V"},
	Current:     {"a current", "A or mA", "30 A"},
	Frequency:   {"a frequency", "Hz or kHz", "31 Hz"},
	Mass:        {"a mass", "g, kg, oz or lb", "120 g"},
	Inductance:  {"an inductance", "mH, uH or H", "2.1 mH"},
	Capacitance: {"a capacitance", "uF, nF or F", "220 uF"},
	Level:       {"a level", "dB", "88 dB"},
	Ratio:       {"a percentage", "%", "7.5 %"},
	Time:        {"a time", "s, ms, min or h", "3 s"},
	Temperature: {"a temperature", "C, F or K", "20 C"},
	ForceFactor: {"a force factor", "N/A or T m", "12 T m"},
	Compliance:  {"a compliance", "mm/N, um/N or m/N", "0.15 mm/N"},
	Density:     {"a density", "kg/m3 or lb/ft3", "750 kg/m3"},
	Admittance:  {"an admittance relative to air", "no unit", "0.05"},
	Angle:       {"an angle", "degrees or rad", "65 degrees"},
}

// String names the dimension with its article, such as "a volume".
func (d Dimension) String() string {
	if d >= dimensions {
		return "an unknown dimension"
	}
	return about[d].name
}

// Offered lists the units that messages offer for the dimension.
func (d Dimension) Offered() string { return about[d].offered }

// Example is a well-written value of the dimension.
func (d Dimension) Example() string { return about[d].example }

// bare tells whether values of the dimension carry no unit.
func (d Dimension) bare() bool { return d == Number || d == Admittance }

// Quantity is a value in SI units (degrees Celsius for temperatures) beside
// what was written.
type Quantity struct {
	SI   float64
	Text string // as written, spaces around it removed
	Unit string // as written; empty for a pure number
}

// Error says what is wrong with a value and where in its text.
type Error struct {
	Summary    string // what is wrong
	Remedy     string // what was expected and how to mend it
	Start, End int    // bytes of the text that are wrong
}

func (e *Error) Error() string { return e.Summary + "; " + e.Remedy }

// Parse reads one quantity of a dimension.
func Parse(text string, d Dimension) (Quantity, *Error) {
	return parse(text, d, false)
}

// ParseNamed reads one quantity whose key already names the unit, such as
// "watts: 50": a number alone is taken in the SI unit of the dimension.
func ParseNamed(text string, d Dimension) (Quantity, *Error) {
	return parse(text, d, true)
}

func parse(text string, d Dimension, named bool) (Quantity, *Error) {
	from, to := trimmed(text)
	num, end, err := scan(text, from, to)
	if err != nil {
		err.Remedy += d.suffix()
		return Quantity{}, err
	}
	for end < to && text[end] == ' ' {
		end++
	}
	q := Quantity{Text: text[from:to], Unit: text[end:to]}
	if q.Unit == "" {
		if named || d.bare() {
			q.SI = num
			return finite(q, from, to)
		}
		return q, missingUnit(q.Text, d, from, to)
	}
	u := lookup(q.Unit, d)
	if u == nil {
		return q, wrongUnit(q, d, named, from, end, to)
	}
	if u.refuse != "" {
		return q, &Error{Summary: "\"" + q.Text + "\" cannot be read as " + d.String(), Remedy: u.refuse, Start: end, End: to}
	}
	q.SI = u.toSI(num)
	return finite(q, from, to)
}

func (d Dimension) suffix() string {
	if d.bare() {
		return ""
	}
	return " (" + d.String() + " in " + d.Offered() + ")"
}

// trimmed gives the bounds of the text without the space around it.
func trimmed(text string) (from, to int) {
	t := strings.TrimSpace(text)
	from = strings.Index(text, t)
	return from, from + len(t)
}

// The largest and smallest magnitudes that a value in a parts list can have,
// in SI units; anything beyond is a slip of the keyboard.
const (
	largest  = 1e12
	smallest = 1e-15
)

func finite(q Quantity, from, to int) (Quantity, *Error) {
	a := q.SI
	if a < 0 {
		a = -a
	}
	if a > largest || a != a || (a < smallest && a != 0) {
		return q, &Error{Summary: "\"" + q.Text + "\" is out of all proportion", Remedy: "write a plausible number", Start: from, End: to}
	}
	return q, nil
}

func missingUnit(text string, d Dimension, from, to int) *Error {
	return &Error{
		Summary: "\"" + text + "\" has no unit",
		Remedy:  "write " + d.String() + " in " + d.Offered() + ", such as " + d.Example(),
		Start:   from, End: to,
	}
}

func wrongUnit(q Quantity, d Dimension, named bool, from, end, to int) *Error {
	remedy := "write " + d.String() + " in " + d.Offered() + ", such as " + d.Example()
	if d.bare() {
		remedy = "write " + d.String() + ", such as " + d.Example()
	}
	for other := Dimension(0); other < dimensions; other++ {
		if other != d && lookup(q.Unit, other) != nil {
			return &Error{Summary: "\"" + q.Text + "\" is " + other.String() + ", not " + d.String(), Remedy: remedy, Start: from, End: to}
		}
	}
	if near := nearest(q.Unit, d); near != "" {
		remedy = "did you mean \"" + near + "\"? " + remedy
	}
	return &Error{Summary: "\"" + q.Unit + "\" is not a unit that is known here", Remedy: remedy, Start: end, End: to}
}

// Known tells whether d is one of the dimensions, for loops over all of them.
func (d Dimension) Known() bool { return d < dimensions }
