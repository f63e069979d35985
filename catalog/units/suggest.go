package units

import (
	"strings"

	"github.com/agnivade/levenshtein"
)

// nearest is the spelling of a unit of the dimension that was probably meant,
// or nothing.
func nearest(written string, d Dimension) string {
	if len(written) > longestUnit {
		return ""
	}
	for i := range table {
		u := &table[i]
		for name := range strings.SplitSeq(u.names, "|") {
			if u.d == d && strings.EqualFold(name, written) {
				first, _, _ := strings.Cut(u.names, "|")
				return first
			}
		}
	}
	var names []string
	for i := range table {
		if table[i].d == d {
			names = append(names, strings.Split(table[i].names, "|")...)
		}
	}
	return Nearest(written, names)
}

// Nearest is the known word that a misspelt one probably stands for, or
// nothing when none is near. Two letters may differ in a word of five to
// eight, one in a shorter one, a third in a longer one; two neighbours that
// changed places count as one letter. Equal distances go to the earlier word.
func Nearest(word string, known []string) string {
	const longest = 64 // the work grows with the square of the length
	if word == "" || len(word) > longest {
		return ""
	}
	low := strings.ToLower(word)
	letters := len([]rune(low))
	most := max(letters/3, 2)
	if letters < 5 {
		most = 1
	}
	best, least := "", most+1
	for _, k := range known {
		if len(k) > longest {
			continue
		}
		d := distance(low, strings.ToLower(k))
		if d < least && d < max(letters, len(k)) {
			best, least = k, d
		}
	}
	return best
}

// distance counts the letters to change, one for two neighbours that changed
// places anywhere in the word.
func distance(a, b string) int {
	d := levenshtein.ComputeDistance(a, b)
	if d != 2 || len(a) != len(b) {
		return d
	}
	for i := 0; i+1 < len(a); i++ {
		if a[i] == b[i+1] && a[i+1] == b[i] && a[:i] == b[:i] && a[i+2:] == b[i+2:] {
			return 1
		}
	}
	return d
}
