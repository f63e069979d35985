// Package trade knows how the trade words things in eight languages: English,
// German, French, Spanish, Italian, Dutch, Portuguese and Polish.
//
//	trade.Heading("Fréquence de résonance (Hz)") // "resonance frequency (hz)"
//	trade.Heading("Leistung RMS @ 2 Ohm")        // "power rms @ 2 ohm"
//	trade.Kinds("Kit de cables 8 AWG")           // wiring kit
//	trade.OnRequest("auf Anfrage")               // true
//
// A list's heading is turned into the English one, which the reader of lists
// knows; what is not known stays as it is, so that a heading of which one word
// is strange ("prix d'achat", what the shop itself pays) is never taken for
// another. Accents count for nothing: lists are typed on any keyboard.
//
// All of it is common practice, no source. Limits: words, not sentences; where
// a word means two things in two languages, the one that the trade means is
// taken.
package trade

import (
	"maps"
	"slices"
	"strings"
	"sync"
	"unicode"

	"golang.org/x/text/unicode/norm"
)

// letters that no accent makes of others.
var letters = strings.NewReplacer("ß", "ss", "ł", "l", "ø", "o", "æ", "ae", "œ", "oe", "ı", "i")

// Fold gives a text without accents, in small letters, with every run of space
// and of what only parts words (hyphens between letters, points, underscores)
// as one space.
func Fold(text string) string {
	var b strings.Builder
	space := false
	folded := []rune(letters.Replace(strings.ToLower(norm.NFKD.String(strings.ToValidUTF8(text, "")))))
	for i, r := range folded {
		switch {
		case unicode.Is(unicode.Mn, r):
			continue
		case r == '.' && i > 0 && i+1 < len(folded) && unicode.IsDigit(folded[i-1]) && unicode.IsDigit(folded[i+1]):
		case unicode.IsSpace(r) || strings.ContainsRune("._-‐‑–—:;'’`´#*", r):
			space = true
			continue
		}
		if space && b.Len() > 0 {
			b.WriteByte(' ')
		}
		space = false
		b.WriteRune(r)
	}
	return b.String()
}

// phrases are the English headings by those of other languages.
var phrases = sync.OnceValue(func() *dictionary[string] { return dictionaryOf(headings) })

// Heading turns a heading into English: the longest phrases that are known, one
// after the other; what is not known stays as it is.
func Heading(text string) string {
	var out []string
	for words := split(Fold(text)); len(words) > 0; {
		english, n := phrases().begin(words, func(english string, n int) bool {
			// "A" before no number may be amperes: "fuse (A)"
			return english != at || n < len(words) && unicode.IsDigit(rune(words[n][0]))
		})
		if n == 0 {
			english, n = words[0], 1
		}
		if english != nothing {
			out = append(out, english)
		}
		words = words[n:]
	}
	english := strings.Join(out, " ")
	if first, rest, both := strings.Cut(english, " / "); both && first == rest {
		return first
	}
	return english
}

// Phrase is the English of a text that is known as a whole, and nothing else, or in
// two languages: "Bezeichnung / Nombre".
func Phrase(text string) (string, bool) {
	list := phrases().of
	english, ok := list[Fold(text)]
	if first, rest, both := strings.Cut(text, "/"); !ok && both {
		english, ok = list[Fold(first)]
		return english, ok && list[Fold(rest)] == english
	}
	return english, ok
}

// split parts a folded text into words; brackets and other signs are words of
// their own.
func split(text string) (out []string) {
	for _, field := range strings.Fields(text) {
		from := 0
		for i, r := range field {
			if strings.ContainsRune("()[]/,@|", r) {
				if i > from {
					out = append(out, field[from:i])
				}
				out = append(out, string(r))
				from = i + 1
			}
		}
		if from < len(field) {
			out = append(out, field[from:])
		}
	}
	return out
}

// OnRequest tells whether a cell says, in place of a price, that one has to
// ask for it.
func OnRequest(text string) bool {
	folded := Fold(text)
	for _, phrase := range askPhrases() {
		if folded == phrase || strings.Contains(phrase, " ") && strings.Contains(" "+folded+" ", " "+phrase+" ") {
			return true
		}
	}
	return false
}

var (
	askPhrases = sync.OnceValue(func() []string { return slices.Collect(maps.Keys(dictionaryOf(map[int]string{0: asks}).of)) })
	unitWords  = sync.OnceValue(func() *dictionary[string] { return dictionaryOf(unitNames) })
)

// Unit is the unit that a word of another language names.
func Unit(word string) (string, bool) {
	unit, ok := unitWords().of[Fold(strings.TrimRight(word, "."))]
	return unit, ok
}
