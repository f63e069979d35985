package tables

import (
	"bytes"
	"errors"
	"io"
	"slices"
	"strings"

	"go.yaml.in/yaml/v3"

	"loudfor/catalog/grid"
)

// Write writes the parts, and the deals and stores beside them, as YAML that
// catalog.Load reads: in the order of their SKUs and names, keys in the order of
// the files, values as the list had them, with their units. The same list gives
// the same bytes, so a difference shows what the shop changed.
func (l *List) Write(w io.Writer) error {
	return errors.Join(
		write(w, "parts", l.rows.parts, func(i int) string { return l.Parts[i].SKU }),
		write(w, "deals", l.rows.deals, func(i int) string { return l.Deals[i].Name }),
		write(w, "stores", l.rows.stores, func(i int) string { return l.Stores[i].Name }))
}

// together is how many items are written at a time: the library keeps some
// hundred bytes of each value that it has written until it ends.
const together = 500

// write writes a list of items under its key.
func write(w io.Writer, key string, from []source, name func(int) string) error {
	order := make([]int, len(from))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int { return strings.Compare(name(a), name(b)) })
	for some := range slices.Chunk(order, together) {
		list := &yaml.Node{Kind: yaml.SequenceNode, Tag: "!!seq"}
		for _, i := range some {
			list.Content = append(list.Content, from[i].node())
		}
		root := mapping(grid.Cell{})
		put(root, key, list)
		var text bytes.Buffer
		if err := encode(&text, root); err != nil {
			return err
		}
		if &some[0] != &order[0] {
			text.Next(len(key + ":\n")) // stands above the first
		}
		if _, err := text.WriteTo(w); err != nil {
			return err
		}
	}
	return nil
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
