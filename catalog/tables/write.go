package tables

import (
	"io"
	"slices"
	"strings"

	"go.yaml.in/yaml/v3"

	"loudfor/catalog/grid"
)

// Write writes the parts, and the deals and stores beside them, as YAML that
// catalog.Load reads: in the order of their SKUs and names, keys in the order of the files, values as the list had them, with their
// units. The same list gives the same bytes, so a difference shows what the
// shop changed.
func (l *List) Write(w io.Writer) error {
	root := mapping(grid.Cell{})
	add := func(key, by string, items []*yaml.Node) {
		if len(items) == 0 {
			return
		}
		sorted := slices.Clone(items)
		slices.SortStableFunc(sorted, func(a, b *yaml.Node) int { return strings.Compare(lookup(a, by).Value, lookup(b, by).Value) })
		put(root, key, &yaml.Node{Kind: yaml.SequenceNode, Tag: "!!seq", Content: sorted})
	}
	add("parts", "sku", l.nodes.Parts)
	add("deals", "name", l.nodes.Deals)
	add("stores", "name", l.nodes.Stores)
	return encode(w, root)
}

// lookup finds the value of a key; an empty scalar where there is none.
func lookup(m *yaml.Node, key string) *yaml.Node {
	if i := keyAt(m, key); i >= 0 {
		return m.Content[i+1]
	}
	return &yaml.Node{Kind: yaml.ScalarNode}
}

// keyAt gives the number of a key among the nodes of a mapping; -1: it is not
// there.
func keyAt(m *yaml.Node, key string) int {
	for i := 0; i+1 < len(m.Content); i += 2 {
		if m.Content[i].Value == key {
			return i
		}
	}
	return -1
}
