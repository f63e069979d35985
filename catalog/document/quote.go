package document

import (
	"errors"
	"fmt"
	"regexp"
	"strings"
	"unicode"
	"unicode/utf8"
)

// A text of the user's is written plain where nobody could take it for
// anything else, and in double quotes with escapes otherwise (YAML 1.2.2,
// sections 5.7 and 7.3). Plain are words of letters and digits with single
// spaces and a few harmless signs between them.

var harmless = regexp.MustCompile(`^[A-Za-z][A-Za-z0-9]*([ ._/+-][A-Za-z0-9]+)*$`)

// meaningful are plain words that YAML 1.1 or 1.2 reads as something else.
var meaningful = map[string]bool{
	"null": true, "true": true, "false": true, "yes": true, "no": true, "on": true, "off": true, "y": true, "n": true,
}

// Quoted writes a text as YAML that is read back as it; it fails for one that no
// file can hold.
func Quoted(s string) (string, error) {
	if harmless.MatchString(s) && !meaningful[strings.ToLower(s)] {
		return s, nil
	}
	if !utf8.ValidString(s) {
		return "", errors.New("the text is not UTF-8")
	}
	if strings.TrimSpace(s) != s {
		return "", errors.New("the text has space around it, which files do not keep")
	}
	var b strings.Builder
	b.WriteByte('"')
	for _, r := range s {
		switch {
		case r == '"' || r == '\\':
			b.WriteByte('\\')
			b.WriteRune(r)
		case r == ' ' || unicode.IsPrint(r):
			b.WriteRune(r)
		case r < 0x100:
			fmt.Fprintf(&b, `\x%02x`, r)
		case r < 0x10000:
			fmt.Fprintf(&b, `\u%04x`, r)
		default:
			fmt.Fprintf(&b, `\U%08x`, r)
		}
	}
	b.WriteByte('"')
	return b.String(), nil
}
