package tables

import (
	"strings"
	"testing"

	"loudfor/catalog/grid"
)

// All powers of an amplifier in one cell, as lists have them; what is not
// understood to the last word is refused.
func TestLoads(t *testing.T) {
	for text, want := range map[string]string{
		"1: 500 W RMS @ 1Ω":                                "mono 1 ohm 500 W",
		"1: 300/500/800 W @ 4/2/1":                         "mono 4 ohm 300 W; mono 2 ohm 500 W; mono 1 ohm 800 W",
		"1: 300/500/800 W RMS @ 4/2/1 Ω":                   "mono 4 ohm 300 W; mono 2 ohm 500 W; mono 1 ohm 800 W",
		"1: 250 W @ 4 ohm / 400 W @ 2 ohm":                 "mono 4 ohm 250 W; mono 2 ohm 400 W",
		"4: 4 x 75 W @ 4 Ω, 4 x 110 W @ 2 Ω":               "stereo 4 ohm 75 W; stereo 2 ohm 110 W",
		"4: 4x60W RMS a 4 ohm":                             "stereo 4 ohm 60 W",
		"4: 70 W @ 4Ω / 105 W @ 2Ω / 210 W bridge 4Ω":      "stereo 4 ohm 70 W; stereo 2 ohm 105 W; bridged 4 ohm 210 W",
		"4: 4 x 70 W à 4 ohms + 2 x 200 W ponté à 4 ohms":  "stereo 4 ohm 70 W; bridged 4 ohm 200 W",
		"4: 2 x 200 W @ 4 ohm":                             "bridged 4 ohm 200 W",
		"2: 1 x 300 W / 4 Ohm":                             "bridged 4 ohm 300 W",
		"1: 4Ω: 300W, 2Ω: 500W":                            "mono 4 ohm 300 W; mono 2 ohm 500 W",
		"1: 1.200 W an 1 Ohm":                              "mono 1 ohm 1200 W",
		"1: 1 200 W przy 1 Ω; 700 W przy 2,5 Ω":            "mono 1 ohm 1200 W; mono 2.5 ohm 700 W",
		"2: 75 vatios a 4 ohmios y 120 vatios a 2 ohmios":  "stereo 4 ohm 75 W; stereo 2 ohm 120 W",
		"2: 75 W x 2 @ 4 ohm":                              "stereo 4 ohm 75 W",
		"4: 75 W RMS x 4 channels @ 4 Ohms, 14.4 V":        "stereo 4 ohm 75 W 14.4 V",
		"1: 500 W @ 1 ohm / 12,5 V":                        "mono 1 ohm 500 W 12.5 V",
		"1: 500 W @ 1 ohm @ 12 V, 700 W @ 1 ohm @ 14.4 V":  "!is not a rating",
		"2: mono 300 W @ 4 ohm":                            "mono 4 ohm 300 W",
		"4: 75W x 4 @ 4Ω + 220W x 2 @ 4Ω":                  "stereo 4 ohm 75 W; bridged 4 ohm 220 W",
		"2: 75/110 W (4/2 ohm)":                            "stereo 4 ohm 75 W; stereo 2 ohm 110 W",
		"1: 500 W (2 Ohm)":                                 "mono 2 ohm 500 W",
		"4: 2 x 75 W x 4 @ 4 ohm":                          "!not each of 4 channels",
		"4: 300/500 W @ 4/2/1":                             "!2 powers and 3 loads",
		"1: 500 W":                                         "!is not a rating",
		"1: 500 W RMS @ 2 ohm, 1000 W max":                 "!of a moment",
		"4: 3 x 60 W @ 4 ohm":                              "!nor each pair",
		"0: 4 x 60 W @ 4 ohm":                              "!how many channels",
		"1: 500 W @ 14.4 V":                                "!is not a rating",
		"1: 500 W @ 2 ohm with the special fuse of 100 A ": "!is not a rating",
		"1: 300/500/800":                                   "!is not a rating",
	} {
		n, cell, _ := strings.Cut(text, ": ")
		var got []string
		read, err := loads(cell, grid.Cell{}, int(n[0]-'0'))
		for _, node := range read {
			got = append(got, ratingText(node))
		}
		if err != nil {
			got = []string{"!" + err.Error()}
		}
		said := strings.Join(got, "; ")
		if said != want && !(want[0] == '!' && strings.HasPrefix(said, "!") && strings.Contains(said, want[1:])) {
			heard, _ := spoken(cell)
			t.Errorf("%s\n got %s\nwant %s (%q)", text, said, want, heard)
		}
	}
}

// Whatever a cell holds: what is taken from it has a power and a load that stand in
// it, and nothing panics.
func FuzzLoads(f *testing.F) {
	for _, text := range []string{"500 W RMS @ 1Ω", "300/500/800 W @ 4/2/1", "4 x 75 W @ 4 Ω, 4 x 110 W @ 2 Ω", "1.200 W an 1 Ohm", "4Ω: 300W", "DVC 4", "doppia 4+4", "RMS 300 / max 600"} {
		f.Add(text, 4)
	}
	f.Fuzz(func(t *testing.T, text string, channels int) {
		read, err := loads(text, grid.Cell{}, channels)
		for _, n := range read {
			if watts, load := lookup(n, "watts").Value, lookup(n, "load").Value; err == nil && (strings.Trim(watts, "0123456789.") != " W" || strings.Trim(load, "0123456789.") != " ohm") {
				t.Errorf("%q: %s at %s", text, watts, load)
			}
		}
		coils(text)
		size(text)
		power(text)
		several(text)
		for _, words := range described {
			for _, word := range words {
				word().FindString(text)
			}
		}
	})
}
