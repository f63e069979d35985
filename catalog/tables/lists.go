package tables

import (
	"strings"
	"sync"

	"go.yaml.in/yaml/v3"

	"loudfor/catalog/document"
	"loudfor/catalog/grid"
)

// A list of mappings, such as the powers of an amplifier, stands in one cell:
// each item in words, and ; between them.

// between parts the items of a cell. An item that holds it cannot be exported.
const between = ";"

// itemList is a key of a part whose value is such a list.
type itemList struct {
	form   string // how a cell is written, for messages
	item   func(text string, c grid.Cell, price func(string) string) (*yaml.Node, error)
	write  func(*yaml.Node) string
	same   func(a, b *yaml.Node) bool // tells whether two items are about one thing
	values []string                   // the keys that say something about it
}

var lists = map[string]itemList{"ratings": ratingList, "offers": offerList}

// listOf finds the list that a key holds, if it holds one.
func listOf(s document.Spec) (itemList, bool) {
	l, ok := lists[s.Key]
	return l, ok && s.Shape == document.Groups
}

// read reads the items of a cell; price gives a price its currency.
func (l itemList) read(text string, c grid.Cell, price func(string) string) ([]*yaml.Node, error) {
	var out []*yaml.Node
	for _, item := range itemsOf(text) {
		n, err := l.item(item, c, price)
		if err != nil {
			return nil, err
		}
		out = append(out, n)
	}
	return out, nil
}

// itemsOf parts the text of a cell.
func itemsOf(text string) (out []string) {
	for item := range strings.SplitSeq(text, between) {
		if item = strings.TrimSpace(item); item != "" {
			out = append(out, item)
		}
	}
	return out
}

// itemSpecs describe the values of items, by the key of the list and their own.
var itemSpecs = sync.OnceValue(func() map[string]map[string]document.Spec {
	out := map[string]map[string]document.Spec{}
	for _, keys := range specs() {
		for path, s := range keys {
			if s.Shape != document.Groups || out[path] != nil {
				continue
			}
			out[path] = map[string]document.Spec{}
			for _, sub := range s.Sub {
				out[path][sub.Key] = sub
			}
		}
	}
	return out
})
