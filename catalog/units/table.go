package units

import "strings"

// The units that are read, in one table. Factors are kept as a fraction of
// whole numbers, which are exact in floating point: 12 in is 12*254/10000, the
// same number as 0.3048, where 12*0.0254 is not.

// unit is one unit with all its spellings. The value in SI is
// (x + before) * times / over.
type unit struct {
	d           Dimension
	times, over float64
	before      float64
	refuse      string // why this unit is understood but not accepted
	names       string // spellings separated by |; compared without spaces, dots and ^
}

func (u *unit) toSI(x float64) float64 { return (x + u.before) * u.times / u.over }

var table = []unit{
	{d: Length, times: 1, over: 1000, names: "mm|MM|millimetre|millimeter|millimetres|millimeters"},
	{d: Length, times: 1, over: 100, names: "cm|CM|centimetre|centimeter|centimetres|centimeters"},
	{d: Length, times: 1, over: 1, names: "m|metre|meter|metres|meters"},
	// 1 in = 25.4 mm and 1 ft = 12 in exactly (international yard and pound
	// agreement, 1959).
	{d: Length, times: 254, over: 10000, names: "in|\"|''|″|”|inch|inches|-in|-inch"},
	{d: Length, times: 3048, over: 10000, names: "ft|'|′|’|foot|feet|-ft|-foot"},

	{d: Area, times: 1, over: 1e6, names: "mm2|MM2|sqmm|mmsq|squaremm"},
	{d: Area, times: 1, over: 1e4, names: "cm2|CM2|sqcm|cmsq|squarecm"},
	{d: Area, times: 1, over: 1, names: "m2|sqm|squaremetres|squaremeters"},
	{d: Area, times: 64516, over: 1e8, names: "in2|sqin|squarein|squareinch|squareinches"},
	{d: Area, times: 9290304, over: 1e8, names: "ft2|sqft|squarefoot|squarefeet"},

	{d: Volume, times: 1, over: 1000, names: "L|l|ℓ|litre|liter|litres|liters|ltr|dm3"},
	{d: Volume, times: 1, over: 1e6, names: "ml|mL|cm3|cc|CM3|cucm|ccm"},
	{d: Volume, times: 1, over: 1, names: "m3|cum|cubicmetres|cubicmeters"},
	// (0.3048 m)^3 and (0.0254 m)^3, exactly.
	{d: Volume, times: 28316846592, over: 1e12, names: "ft3|cuft|cubicft|cubicfoot|cubicfeet|cuft3"},
	{d: Volume, times: 16387064, over: 1e12, names: "in3|cuin|cubicin|cubicinch|cubicinches"},

	{d: Resistance, times: 1, over: 1, names: "ohm|ohms|Ω|Ohm|Ohms|OHM|OHMS|-ohm"},
	{d: Resistance, times: 1, over: 1000, names: "mohm|mΩ|milliohm|milliohms"},

	{d: Power, times: 1, over: 1, names: "W|w|watt|watts|Watt|Watts|WATT|WATTS|Wrms|WRMS|wrms|-watt"},
	{d: Power, times: 1000, over: 1, names: "kW|KW|kw|kilowatt|kilowatts"},
	{d: Power, times: 1, over: 1000, names: "mW|milliwatt|milliwatts"},

	{d: Voltage, times: 1, over: 1, names: "V|v|volt|volts|Volt|Volts|Vrms|VDC|Vdc"},
	{d: Voltage, times: 1, over: 1000, names: "mV|millivolt|millivolts"},

	{d: Current, times: 1, over: 1, names: "A|a|amp|amps|Amp|Amps|ampere|amperes|AMP|AMPS"},
	{d: Current, times: 1, over: 1000, names: "mA|milliamp|milliamps|milliampere|milliamperes"},

	{d: Frequency, times: 1, over: 1, names: "Hz|hz|HZ|hertz|Hertz"},
	{d: Frequency, times: 1000, over: 1, names: "kHz|KHz|khz|KHZ|kilohertz"},

	{d: Mass, times: 1, over: 1000, names: "g|gram|grams|gramme|grammes"},
	{d: Mass, times: 1, over: 1, names: "kg|Kg|KG|kilogram|kilograms"},
	// 1 lb = 0.45359237 kg exactly (the same agreement).
	{d: Mass, times: 45359237, over: 16e8, names: "oz|ounce|ounces"},
	{d: Mass, times: 45359237, over: 1e8, names: "lb|lbs|pound|pounds"},

	{d: Inductance, times: 1, over: 1000, names: "mH|mh|millihenry"},
	{d: Inductance, times: 1, over: 1e6, names: "uH|uh|microhenry"},
	{d: Inductance, times: 1, over: 1, names: "H|henry"},

	{d: Capacitance, times: 1, over: 1e6, names: "uF|uf|MFD|mfd|microfarad|microfarads"},
	{d: Capacitance, times: 1, over: 1e9, names: "nF|nf|nanofarad|nanofarads"},
	{d: Capacitance, times: 1, over: 1000, names: "millifarad|millifarads",
		refuse: "write it in uF: 1 millifarad is 1000 uF"},
	{d: Capacitance, times: 1, over: 1000, names: "mF",
		refuse: "\"mF\" is written for microfarad and for millifarad: write uF"},
	{d: Capacitance, times: 1, over: 1, names: "F|farad|farads"},

	{d: Level, times: 1, over: 1, names: "dB|db|DB|dBSPL|dB/W|dB/W/m|dB/1W/1m|dB1W/1m|dB@1W/1m|dB(1W/1m)|dB/1W|decibel|decibels"},
	{d: Level, times: 1, over: 1, names: "dB/2.83V|dB/2.83V/m|dB/2.83V/1m|dB@2.83V|dB@2.83V/1m|dB(2.83V)|dB(2.83V/1m)|dB2.83V/1m|dB/283V|dB/283V/m|dB/283V/1m|dB@283V|dB@283V/1m|dB(283V)|dB(283V/1m)|dB283V/1m",
		refuse: "state the level at 1 W: that at 2.83 V less 10 log10(8 ohm / load), so 3 dB less for 4 ohm and 6 dB less for 2 ohm"},

	{d: Ratio, times: 1, over: 100, names: "%|percent|pct"},

	{d: Time, times: 1, over: 1, names: "s|sec|secs|second|seconds"},
	{d: Time, times: 1, over: 1000, names: "ms|msec|millisecond|milliseconds"},
	{d: Time, times: 60, over: 1, names: "min|mins|minute|minutes"},
	{d: Time, times: 3600, over: 1, names: "h|hr|hour|hours"},

	{d: Temperature, times: 1, over: 1, names: "C|c|°C|degC|celsius|Celsius|℃"},
	{d: Temperature, times: 5, over: 9, before: -32, names: "F|f|°F|degF|fahrenheit|Fahrenheit|℉"},
	{d: Temperature, times: 1, over: 1, before: -273.15, names: "K|kelvin|Kelvin"},

	{d: ForceFactor, times: 1, over: 1, names: "N/A|n/a|Tm|T·m|T⋅m|T*m|T-m|TM|tm|teslametre|teslameter"},

	{d: Compliance, times: 1, over: 1000, names: "mm/N|mm/n|MM/N"},
	{d: Compliance, times: 1, over: 1e6, names: "um/N|um/n"},
	{d: Compliance, times: 1, over: 1, names: "m/N|m/n"},

	{d: Density, times: 1, over: 1, names: "kg/m3|kg/cum|kgm-3"},
	{d: Density, times: 1000, over: 1, names: "g/cm3|kg/L|kg/l|kg/dm3|g/cc"},
	// 0.45359237 kg to (0.3048 m)^3, exactly.
	{d: Density, times: 453592370000, over: 28316846592, names: "lb/ft3|lbs/ft3|lb/cuft|pcf"},

	// pi / 180 as a fraction good to fifteen digits.
	{d: Angle, times: 245850922, over: 180 * 78256779, names: "degrees|degree|deg|°"},
	{d: Angle, times: 1, over: 1, names: "rad|radian|radians"},
}

// spellings finds a unit by its tidied spelling.
var spellings = func() (m [dimensions]map[string]*unit) {
	for d := range m {
		m[d] = map[string]*unit{}
	}
	for i := range table {
		u := &table[i]
		for name := range strings.SplitSeq(u.names, "|") {
			m[u.d][name] = u
		}
	}
	return m
}()

// lookup finds a unit as written: first the spelling itself, then without the
// differences that mean nothing (spaces, dots, ^, superscripts, micro and ohm
// signs). Case is never ignored, since mH and MH are a billion apart: the
// spellings of the trade are listed instead.
func lookup(written string, d Dimension) *unit {
	if u := spellings[d][written]; u != nil {
		return u
	}
	if len(written) > longestUnit {
		return nil
	}
	tidy := tidier.Replace(written)
	if u := spellings[d][tidy]; u != nil {
		return u
	}
	// Full words carry no prefix letter that case could change.
	if len(tidy) > 3 {
		return spellings[d][strings.ToLower(tidy)]
	}
	return nil
}

// longestUnit bounds the work on text that cannot be a unit.
const longestUnit = 40

var tidier = strings.NewReplacer(" ", "", "\u00a0", "", ".", "", "^", "", "²", "2", "³", "3",
	"µ", "u", "μ", "u", "Ω", "ohm", "Ω", "ohm", "⋅", "·")
