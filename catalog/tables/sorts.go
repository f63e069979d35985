package tables

import (
	"strings"

	"loudfor/catalog"
)

// A row is a part of some kind, or something beside parts: a deal, or a store
// with what the trip to it costs. These are no kinds of part; here they are
// numbered after the kinds, so that keys, names and columns are found in one
// way for every row.

const (
	dealRow = catalog.KindCount + iota
	storeRow
	rowSorts // how many there are
)

// sortWords are the words of the column kind for them.
var sortWords = [...]string{catalog.DealWord, catalog.StoreWord}

// besideParts finds what is no part by its word, one or several.
func besideParts(word string) (catalog.Kind, bool) {
	for i, w := range sortWords {
		if anyOf(tidied(word), w, w+"s") {
			return dealRow + catalog.Kind(i), true
		}
	}
	return 0, false
}

// rowWords names what a row is, for messages.
func rowWords(k catalog.Kind) string {
	if k < catalog.KindCount {
		return "the kind " + k.String()
	}
	return "a " + sortWords[k-dealRow]
}

// besideParts names what the list holds beside parts; empty: nothing.
func (l *List) besideParts() string {
	var out []string
	if len(l.Deals) > 0 {
		out = append(out, catalog.DealWord+"s")
	}
	if len(l.Stores) > 0 {
		out = append(out, catalog.StoreWord+"s")
	}
	return strings.Join(out, " and ")
}
