package pricing

import (
	"cmp"
	"encoding/binary"
	"fmt"
	"slices"

	"loudfor/catalog"
)

// Use is how many pieces of an item a set of parts holds.
type Use struct {
	Item  *Item
	Count int
}

// Set is a set of parts, in SKU order, every count above zero.
type Set []Use

// One is one piece.
func One(it *Item) Use { return Use{Item: it, Count: 1} }

// Collect makes a set of uses in any order, joining those of one item.
func Collect(uses ...Use) Set {
	s := make(Set, 0, len(uses))
	for _, u := range uses {
		s = s.With(u)
	}
	return s
}

// With is the set with one use more; like append, it may use the room behind s.
func (s Set) With(u Use) Set {
	if u.Item == nil || u.Count == 0 {
		return s
	}
	at := len(s)
	for at > 0 && s[at-1].Item.ID > u.Item.ID {
		at--
	}
	if at > 0 && s[at-1].Item == u.Item {
		s[at-1].Count += u.Count
		return s
	}
	return slices.Insert(s, at, u)
}

// Key tells sets of one shelf apart.
func (s Set) Key() string {
	b := make([]byte, 0, 8*len(s))
	for _, u := range s {
		b = binary.AppendUvarint(b, uint64(u.Item.ID))
		b = binary.AppendUvarint(b, uint64(u.Count))
	}
	return string(b)
}

// Pieces is how many there are of all items together.
func (s Set) Pieces() (n int) {
	for _, u := range s {
		n += u.Count
	}
	return n
}

// Available says whether so many pieces of everything can be had.
func (s Set) Available() bool {
	for _, u := range s {
		if u.Count > u.Item.Most {
			return false
		}
	}
	return true
}

// CompareSKUs is below zero when s comes before o. At the first SKU in which
// the counts differ, the set with more of it has that SKU where the other
// already has a later one.
func (s Set) CompareSKUs(o Set) int {
	for i := 0; ; i++ {
		switch {
		case i == len(s) && i == len(o):
			return 0
		case i == len(s):
			return +1
		case i == len(o):
			return -1
		case s[i].Item.ID != o[i].Item.ID:
			return s[i].Item.ID - o[i].Item.ID
		case s[i].Count != o[i].Count:
			return o[i].Count - s[i].Count
		}
	}
}

// Compare is below zero when of two sets that cost the same s comes before o: with
// fewer pieces, then by SKUs.
//
// It compares the numbers of pieces, then one by one the counts of all SKUs, of
// which the greater comes first. So it is a total order, and what the same parts
// are added to on both sides stays in it: a price with its set is compared, added
// and bounded like a price, but two sets are never equal. The least of sums of
// parts chosen apart is the sum of the least of each; and more parts come after
// fewer, as they cost no less and are more pieces.
func (s Set) Compare(o Set) int {
	return cmp.Or(cmp.Compare(s.Pieces(), o.Pieces()), s.CompareSKUs(o))
}

// Kinds sorts a set of parts by kind.
func (s Set) Kinds() (by [catalog.KindCount]Set) {
	for _, u := range s {
		by[u.Item.Part.Kind] = append(by[u.Item.Part.Kind], u)
	}
	return by
}

// Whole says that a set has one of each of what a build has one of, and no two
// of what it may have one of.
func (s Set) Whole() bool {
	var n [catalog.KindCount]int
	for _, u := range s {
		n[u.Item.Part.Kind] += u.Count
	}
	return n[catalog.KindSource] == 1 && n[catalog.KindKit] == 1 && n[catalog.KindAmplifier] > 0 &&
		n[catalog.KindFront] <= 1 && n[catalog.KindConverter] <= 1 && n[catalog.KindBlocker] <= 1
}

// SKUs writes a set in words, for messages.
func SKUs(parts Set) string {
	s := ""
	for i, u := range parts {
		if i > 0 {
			s += ", "
		}
		s += u.Item.Part.SKU
		if u.Count > 1 {
			s += fmt.Sprintf(" x %d", u.Count)
		}
	}
	return s
}

// Only is the single item of a set, or nil.
func (s Set) Only() *Item {
	if len(s) == 0 {
		return nil
	}
	return s[0].Item
}
