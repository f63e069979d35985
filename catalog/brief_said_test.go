package catalog

import (
	"strings"
	"testing"
)

// What cannot be read is refused in the words of the file's reader, names its
// key, and leaves the brief as it was.
func TestSayRefuses(t *testing.T) {
	for _, tc := range []struct{ key, text, want string }{
		{"space", "a lot", "start with a number"},
		{"space", "1 x 1 x 100 m", "space"},
		{"boxes", "9", "boxes cannot be"},
		{"boxes", "two", "whole number"},
		{"tax", "200 %", "tax"},
		{"lowest_note", "5 Hz", "lowest_note"},
		{"labour", "[{name: fitting}]", "price"},
		{"labour", "]", ""},
		{"owned", "A x 100", "100 pieces"},
		{"build_boxes", "perhaps", "build_boxes"},
		{"goal", "loud", "goal"},
		{"nothing", "1", "no key is called nothing"},
	} {
		b := DefaultBrief()
		b.Space, b.Owned = Size3{1, 1, 1}, []Mention{{SKU: "B", Count: 1}}
		report := b.Say(tc.key, tc.text)
		if err := report.Err(); err == nil || report.Problems[0].Where != (Position{File: tc.key}) || !strings.Contains(report.Problems[0].Summary, tc.want) {
			t.Errorf("%s: %q: %v", tc.key, tc.text, report.Problems)
		}
		if b.Space != (Size3{1, 1, 1}) || len(b.Owned) != 1 || b.Boxes != defaultBoxes {
			t.Errorf("%s: %q changed the brief: %+v", tc.key, tc.text, b)
		}
	}
}

// Nothing said is the default.
func TestUnsaid(t *testing.T) {
	b := DefaultBrief()
	b.Space, b.BassLift, b.Owned, b.Stores, b.TaxPPM = Size3{1, 1, 1}, 3, []Mention{{SKU: "B", Count: 1}}, []string{"Dock Street"}, 75_000
	for _, s := range BriefSpecs() {
		if err := b.Say(s.Key, "").Err(); err != nil {
			t.Errorf("%s: %v", s.Key, err)
		}
		if said := b.Said(s.Key); len(said) > 0 && s.Key != "place" && s.Key != "openings" {
			t.Errorf("%s is %q", s.Key, said)
		}
	}
	if b.BassLift != defaultBassLift {
		t.Errorf("the lift is %g dB", b.BassLift)
	}
}
