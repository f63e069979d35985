package tables

import "testing"

// A point among the thousands of a power never makes twelve hundred watts one.
func TestThousandsOfWatts(t *testing.T) {
	for text, want := range map[string]string{
		"1.200 W": "1200 W", "1,200 W": "1200 W", "1 200 W": "1200 W", "1.200": "1200", "1,200W RMS": "1200 W",
		"RMS 1.500 / max 3.000 W": "1500 W", "RMS 1 200 W": "1200 W", "1 200 W RMS": "1200 W", "1.200 Watt": "1200 Watt",
		"300 W": "300 W", "75.5 W": "75.5 W", "0.500 W": "0.500 W", "1.200 kW": "1.200 kW", "RMS 300 600 max": "300", "12.5": "12.5",
	} {
		if got, lost := power(text); got != want || lost != "" {
			t.Errorf("%q is %q, %q; want %q", text, got, lost, want)
		}
	}
	if got, lost := power("max 1.200 W"); got != "" || lost == "" {
		t.Errorf("%q, %q", got, lost)
	}
}
