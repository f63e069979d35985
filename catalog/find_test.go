package catalog

import (
	"regexp"
	"testing"

	"pgregory.net/rapid"
)

// What tells one sort of file from another is what these expressions say.
func TestHasTop(t *testing.T) {
	keys := map[string]*regexp.Regexp{}
	for _, key := range []string{"parts", "vehicles", "cap", "vehicle"} {
		keys[key] = regexp.MustCompile(`(?m)^["']?` + key + `["']?[ \t]*:`)
	}
	check := func(t rapid.TB, text string) {
		for key, want := range keys {
			if got := hasTop([]byte(text), key); got != want.MatchString(text) {
				t.Fatalf("%q has %q at the top: %v", text, key, got)
			}
		}
		if got := hasTop([]byte(text), "cap", "vehicle"); got != (keys["cap"].MatchString(text) || keys["vehicle"].MatchString(text)) {
			t.Fatalf("%q has one of two: %v", text, got)
		}
	}
	for _, text := range []string{"", "parts", "parts:", "\nparts \t:", " parts:", "\"parts\":", "'parts: ", "''parts:", "parts'':", "vehicles:", "vehicle:", "\r\ncap: 5", "\rcap: 5", "cap\n:"} {
		check(t, text)
	}
	rapid.Check(t, func(t *rapid.T) {
		words := rapid.SliceOf(rapid.SampledFrom([]string{"parts", "vehicle", "s", "cap", "'", `"`, " ", "\t", ":", "\n", "\r", "-", "é"}))
		text := ""
		for _, word := range words.Draw(t, "text") {
			text += word
		}
		check(t, text)
	})
}
