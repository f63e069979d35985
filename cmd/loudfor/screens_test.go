package main

import (
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// Ways of naming parts: shortly; at length, as lists do; in scripts whose characters
// take two cells, or none; and not at all.
var namings = []func(g *rand.Rand, kind string, i int) string{
	func(_ *rand.Rand, kind string, i int) string { return fmt.Sprintf("%s %d", kind, i) },
	func(g *rand.Rand, kind string, i int) string {
		words := []string{"Vellamorand", "Reference", "Competition", "Series", "Mark", "Limited", "high-excursion", "long-throw", "Anniversary", "edition", "revised"}
		text := "Ostermanckenburg Acoustics " + kind
		for range 3 + g.IntN(4) {
			text += " " + words[g.IntN(len(words))]
		}
		return fmt.Sprintf("%s %d", text, i)
	},
	func(g *rand.Rand, _ string, i int) string {
		return fmt.Sprintf("%s %d", []string{"低音ドライバー特別仕様", "Усилитель повышенной мощности", "Ενισχυτής μπάσων", "cafe\u0301 re\u0301fe\u0301rence"}[g.IntN(4)], i)
	},
	func(*rand.Rand, string, int) string { return "" },
}

// shelfOf writes a random catalogue with a flaw in every third part or so.
func shelfOf(t *testing.T, seed uint64, name func(g *rand.Rand, kind string, i int) string) string {
	t.Helper()
	g := rand.New(rand.NewPCG(seed, 0x73637265))
	var b strings.Builder
	b.WriteString("parts:\n")
	part := func(sku, kind string, i int, price int, rest string, args ...any) {
		fmt.Fprintf(&b, "  - {sku: %s-%03d, kind: %s, price: %d.%02d USD, ", sku, i, kind, price, g.IntN(100))
		if n := name(g, kind, i); n != "" {
			fmt.Fprintf(&b, "name: %q, ", n)
		}
		fmt.Fprintf(&b, rest+"}\n", args...)
	}
	for i := range 8 + g.IntN(12) {
		extra := [...]string{"", ", sensitivity: 104 dB", ", sensitivity: 97 dB"}[g.IntN(3)]
		part("D", "subwoofer", i, 40+g.IntN(200), "size: %d in, coils: 2 x 4 ohm, rms: %d W, fs: %d Hz, qts: 0.%d, vas: %d L, xmax: %d mm%s",
			10+2*g.IntN(2), 150+g.IntN(900), 25+g.IntN(12), 35+g.IntN(25), 30+g.IntN(50), 6+g.IntN(15), extra)
		part("B", "enclosure", i, 40+g.IntN(80), "type: %s, holes: 1 x %d in, volume: %d L%s", [...]string{"vented", "sealed"}[i%2], 10+2*g.IntN(2), 30+g.IntN(50),
			[...]string{fmt.Sprintf(", tuning: %d Hz", 28+g.IntN(17)), ""}[i%2])
		part("A", "amplifier", i, 60+g.IntN(200), "channels: 2, class: D, speaker_input: true, ratings: [{mode: bridged, load: 4 ohm, watts: %d, basis: %s}], fuse: %d A",
			100+g.IntN(1500), [...]string{"measured", "claimed", "standard"}[g.IntN(3)], 10+10*g.IntN(6))
	}
	for i := range 3 {
		part("K", "wiring kit", i, 20+g.IntN(40), "gauge: %d mm2, material: copper, length: 5.5 m", 10+8*i)
		part("F", "front speakers", i, 30+g.IntN(90), "size: 6.5 in, load: 4 ohm, sensitivity: %d dB, rms: %d W", 86+g.IntN(6), 40+g.IntN(40))
	}
	part("HU", "source", 0, 90, "pre_outs: 1, power: 4 x 17 W, load: 4 ohm")
	return wrote(t, "parts.yaml", b.String())
}

func wrote(t *testing.T, name, text string) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), name)
	if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
	return path
}

// An answer for one screen is one for any catalogue, and fits any width.
func TestScreensOfAnyCatalogue(t *testing.T) {
	if testing.Short() {
		t.Skip("whole commands")
	}
	seeds := uint64(1)
	if os.Getenv("LOUDFOR_LONG") != "" {
		seeds = 3
	}
	for seed := range seeds {
		for way, naming := range namings {
			parts := shelfOf(t, seed*10+uint64(way), naming)
			goal := [...]string{"reading", "music"}[way%2]
			here := []string{"--catalog", parts, "--cap", "600", "--vehicle", "small sedan", "--goal", goal, "--front", [...]string{"either", "keep"}[seed%2]}
			for _, command := range []string{"pick", "why", "ladder"} {
				fits(t, append([]string{command}, here...), true)
			}
			fits(t, []string{"check", "--catalog", parts}, true)
			t.Setenv("COLUMNS", "80")
			best := listOf(t, decode(t, at(t, 80, append([]string{"pick", "--json"}, here...))), "builds")[0].(map[string]any)
			var list []string
			for _, p := range best["parts"].([]any) {
				list = append(list, fmt.Sprintf("\"%s x %v\"", p.(map[string]any)["sku"], p.(map[string]any)["count"]))
			}
			fits(t, []string{"predict", wrote(t, "build.yaml", "vehicle: small sedan\nparts: ["+strings.Join(list, ", ")+"]\n"), "--catalog", parts}, true)
		}
	}
}

func listOf(t *testing.T, doc map[string]any, key string) []any {
	t.Helper()
	list, ok := doc[key].([]any)
	if !ok || len(list) == 0 {
		t.Fatalf("no %s in the document", key)
	}
	return list
}
