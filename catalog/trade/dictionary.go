package trade

import (
	"cmp"
	"maps"
	"slices"
	"strings"
)

// dictionary says what phrases mean, folded as they are.
type dictionary[V cmp.Ordered] struct {
	of      map[string]V
	longest int // words of a phrase
}

// dictionaryOf turns lists of phrases, parted by commas, round. Of a phrase in two
// lists the greater meaning holds.
func dictionaryOf[V cmp.Ordered](lists map[V]string) *dictionary[V] {
	d := &dictionary[V]{of: map[string]V{}}
	for _, meaning := range slices.Sorted(maps.Keys(lists)) {
		for phrase := range strings.SplitSeq(lists[meaning], ",") {
			key := Fold(phrase)
			d.of[key] = meaning
			d.longest = max(d.longest, len(strings.Fields(key)))
		}
	}
	return d
}

// begin finds the longest phrase with which some words begin and that fits there, and
// how many of them it is; 0: there is none.
func (d *dictionary[V]) begin(words []string, fits func(meaning V, n int) bool) (meaning V, n int) {
	for n = min(d.longest, len(words)); n > 0; n-- {
		if meaning, ok := d.of[strings.Join(words[:n], " ")]; ok && fits(meaning, n) {
			return meaning, n
		}
	}
	return meaning, 0
}
