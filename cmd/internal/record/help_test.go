package record

import (
	"regexp"
	"strings"
	"testing"
)

// A key that is said to stand above does: one without words of its own would send its
// reader to a place that is not there.
func TestAboveIsAbove(t *testing.T) {
	text := Help(80, "loudfor/sheet/1", struct{}{})
	for _, m := range regexp.MustCompile(`(?m)^ +((?:\w+,\s+)*\w+) as above$`).FindAllStringSubmatchIndex(text, -1) {
		for _, key := range regexp.MustCompile(`\w+`).FindAllString(text[m[2]:m[3]], -1) {
			if !regexp.MustCompile(`(?m)(?:^ +|[{ ])` + key + `(?:  |[,:}])`).MatchString(text[:m[0]]) {
				t.Errorf("%q stands nowhere above", key)
			}
		}
	}
	if n := strings.Count(text, " as above"); n < 10 {
		t.Errorf("%d lines point above: the test looks for something else", n)
	}
}
