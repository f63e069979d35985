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
// changed places count as one letter.
// In phrases each word has to be near its own. Equal distances go to the earlier
// word. A word with a sense of its own is no slip for another: "windows shut" is
// not a misspelt "windows open", nor max a misspelt xmax.
func Nearest(word string, known []string) string {
	const longest = 64 // the work grows with the square of the length
	if word == "" || len(word) > longest {
		return ""
	}
	low := strings.ToLower(word)
	if ownSense[low] {
		return ""
	}
	words := strings.Fields(low)
	best, least := "", longest
	for _, k := range known {
		if len(k) > longest {
			continue
		}
		other := strings.Fields(strings.ToLower(k))
		d, ok := apart(low, strings.ToLower(k))
		if len(words) > 1 && len(other) == len(words) {
			d = 0
			for i := 0; i < len(words) && ok; i++ {
				one, near := apart(words[i], other[i])
				d, ok = d+one, one == 0 || near && !ownSense[words[i]]
			}
		}
		if ok && d < least {
			best, least = k, d
		}
	}
	return best
}

// ownSense are words that are near others and mean something else.
var ownSense = map[string]bool{
	"max": true, "min": true, "peak": true, "open": true, "shut": true, "closed": true, "half": true,
	"left": true, "right": true, "front": true, "rear": true, "back": true, "mono": true, "stereo": true,
}

// apart tells how far two words are from each other, and whether that may be a
// slip.
func apart(word, known string) (d int, slip bool) {
	letters := len([]rune(word))
	most := max(letters/3, 2)
	if letters < 5 {
		most = 1
	}
	d = distance(word, known)
	return d, d <= most && d < max(letters, len(known))
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
