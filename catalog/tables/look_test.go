package tables

import (
	"testing"

	"loudfor/catalog"
)

// Values as the trade writes them. Common practice, no source.
func TestInTradeWords(t *testing.T) {
	sub := specs()[catalog.KindSubwoofer]
	for _, c := range []struct{ key, text, want string }{
		{"coils", "DVC4", "2 x 4 ohm"}, {"coils", "D4", "2 x 4 ohm"}, {"coils", "2x4", "2 x 4 ohm"}, {"coils", "2 x 4 ohm", "2 x 4 ohm"},
		{"coils", "dual 4", "2 x 4 ohm"}, {"coils", "SVC 2", "1 x 2 ohm"}, {"coils", "4+4", "2 x 4 ohm"}, {"coils", "4+2", "4+2"},
		{"coils", "DVC 2x4", "2 x 4 ohm"}, {"coils", "SVC 2x4", "SVC 2x4"}, {"coils", "4", "4"}, {"coils", "4 Ohm", "4 Ohm"}, {"coils", "1,8 ohm", "1,8 ohm"},
		{"coils", "D2", "2 x 2 ohm"}, {"coils", "S4", "1 x 4 ohm"}, {"coils", "Dual 1.4 Ohm", "2 x 1.4 ohm"},
		{"size", `12"`, `12 "`}, {"size", "12in", "12 in"}, {"size", "12-inch", "12 in"}, {"size", "30 cm", "30 cm"}, {"size", "30cm", "30 cm"}, {"size", "6x9", "6 x 9 in"},
		{"size", `6x9"`, "6 x 9 in"}, {"size", "5x7 in", "5 x 7 in"}, {"size", "12 Zoll", "12 in"}, {"size", "12 pol.", "12 in"}, {"size", "12", "12"},
		{"rms", "300W RMS", "300 W"}, {"rms", "RMS 300 / max 600", "300"}, {"rms", "RMS 300 W / max 600 W", "300 W"}, {"rms", "max 600 / RMS 300W", "300 W"},
		{"rms", "250 W RMS / 500 W max", "250 W"}, {"rms", "200Wrms", "200 W"}, {"rms", "max 400", ""}, {"rms", "600 W max", ""}, {"rms", "peak 900W", ""},
		{"rms", "800 W", "800 W"}, {"rms", "150 Watt", "150 W"}, {"rms", "500", "500"}, {"rms", "RMS 200 W (400 W max)", "200 W"}, {"rms", "1.2 kW", "1.2 kW"},
		{"rms", "Musikleistung 300 W", "Musikleistung 300 W"},
	} {
		got, lost := inTradeWords(c.text, sub[c.key])
		if got != c.want || (lost != "") != (c.want == "") {
			t.Errorf("%s %q: %q %q, want %q", c.key, c.text, got, lost, c.want)
		}
	}
	for want, cells := range map[string][]string{"W": {"300", "250 W", "100 Watt"}, "": {"300 W", "2 kW"}, "Hz": {"31 Hz", "28"}, `"`: {`12"`, "10"}} {
		if got := unitsOf(cells); got != want {
			t.Errorf("%q: %q, want %q", cells, got, want)
		}
	}
}
