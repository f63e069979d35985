package main

import (
	"path/filepath"
	"strings"
	"testing"
)

// Zero is a value where it can be one: air at the freezing point is not air at 20
// C, and no watts for the front are not ten. What hardly differs from zero gives
// hardly another answer.
func TestZeroIsAValue(t *testing.T) {
	const brief = "cap: 800 USD\nvehicle: five-door hatch\ngoal: music\nplace: headrest\nfront: replace\nowned: [HU-STOCK]\n"
	answer := func(wish string) (music float64, text string) {
		t.Helper()
		name := filepath.Join(t.TempDir(), "brief.yaml")
		write(t, name, brief+wish+"\n")
		got := must(t, "pick", name, "--top", "1", "--json")
		best := decode(t, got)["builds"].([]any)[0].(map[string]any)
		return number(t, best["music"].(map[string]any)["db"]), figures(best["music"], best["reading"], best["parts"])
	}
	usual, usually := answer("bass_lift: 6 dB")
	for _, c := range []struct{ zero, nearly string }{
		{"temperature: 0 C", "temperature: 0.000001 C"},
		{"temperature: 32 F", "temperature: 32.000001 F"},
		{"bass_lift: 0 dB", "bass_lift: 0.000001 dB"},
		{"front_watts: 0 W", "front_watts: 0.000001 W"},
	} {
		exact, text := answer(c.zero)
		near, _ := answer(c.nearly)
		if d := exact - near; d > 0.002 || d < -0.002 {
			t.Errorf("%s: %.3f dB; %s: %.3f dB", c.zero, exact, c.nearly, near)
		}
		if text == usually && !strings.HasPrefix(c.zero, "front") {
			t.Errorf("%s: %.3f dB as where nothing is stated", c.zero, usual)
		}
	}
	// A pair that can use no ten watts.
	shop := filepath.Join(t.TempDir(), "parts.yaml")
	write(t, shop, tinyShop+"  - {sku: FR, kind: front speakers, price: 10 USD, size: 6.5 in, rms: 5 W, sensitivity: 88 dB, load: 4 ohm}\n")
	for wish, want := range map[string]int{"front_watts: 0 W": statusDone, "front_watts: 1 W": statusDone, "front_watts: 10 W": statusNoBuild} {
		name := filepath.Join(t.TempDir(), "brief.yaml")
		write(t, name, "cap: 300 USD\nvehicle: small hatch\nfront: replace\nowned: [HU]\n"+wish+"\n")
		if got := call("pick", name, "--catalog", shop); got.status != want {
			t.Errorf("%s: status %d, %s", wish, got.status, got.stderr)
		}
	}
}
