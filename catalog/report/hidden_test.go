package report

import "testing"

// What acts is found with its place; letters of every script, several lines and
// marks that are seen are let through.
func TestHidden(t *testing.T) {
	for text, want := range map[string][2]int{
		"plain": {}, "two\nlines\tand more": {}, "Ünïted 音 🔈 עברית": {}, "": {}, "soft\u00adhyphen": {},
		"a\x1b[31mred": {1, 2}, "a\rb": {1, 2}, "\x07": {0, 1}, "del\x7f": {3, 4}, "csi\u009b31m": {3, 5},
		"evil\u202etxt": {4, 7}, "iso\u2066late": {3, 6}, "nul\x00": {3, 4},
	} {
		start, end, summary, detail := Hidden(text)
		if (summary != "") != (want != [2]int{}) || (detail != "") != (summary != "") || [2]int{start, end} != want {
			t.Errorf("%q: %d to %d, %q", text, start, end, summary)
		}
	}
}
