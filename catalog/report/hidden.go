package report

import (
	"fmt"
	"unicode"
	"unicode/utf8"
)

// What nobody sees in a text and what yet acts: control characters, with which a
// name of a part could move the cursor of a terminal, clear it or type into it
// (ECMA-48), and those that turn the direction of writing, with which it could
// read as another (Unicode Standard Annex 9). Every reader refuses them; what
// older files hold of them is made visible where it is shown.

// Acts says that a character acts rather than is seen. Tabs and line feeds do
// no harm: a text may have several lines.
func Acts(r rune) bool {
	return unicode.IsControl(r) && r != '\t' && r != '\n' ||
		r >= '\u202a' && r <= '\u202e' || r >= '\u2066' && r <= '\u2069'
}

// Hidden finds the first character of a text that acts, from start to end in
// bytes; summary and detail are empty where there is none.
func Hidden(text string) (start, end int, summary, detail string) {
	for i, r := range text {
		if Acts(r) {
			return i, i + utf8.RuneLen(r), fmt.Sprintf("the text holds %U, which is not seen and acts on what is shown", r),
				"remove the character, or type the text anew"
		}
	}
	return 0, 0, "", ""
}
