package optimizer

import (
	"encoding/binary"
	"fmt"
	"loudfor/catalog"
	"sort"
)

// use is how many pieces of an item a set of parts holds.
type use struct {
	item  *item
	count int
}

// set is a set of parts, in SKU order, every count above zero.
type set []use

// collect makes a set of uses in any order, joining those of one item.
func collect(uses ...use) set {
	var s set
	for _, u := range uses {
		if u.item == nil || u.count == 0 {
			continue
		}
		at := -1
		for i := range s {
			if s[i].item == u.item {
				at = i
			}
		}
		if at >= 0 {
			s[at].count += u.count
			continue
		}
		s = append(s, u)
	}
	sort.Slice(s, func(i, j int) bool { return s[i].item.id < s[j].item.id })
	return s
}

// key tells sets of one shelf apart.
func (s set) key() string {
	b := make([]byte, 0, 8*len(s))
	for _, u := range s {
		b = binary.AppendUvarint(b, uint64(u.item.id))
		b = binary.AppendUvarint(b, uint64(u.count))
	}
	return string(b)
}

func (s set) pieces() (n int) {
	for _, u := range s {
		n += u.count
	}
	return n
}

// available says whether so many pieces of everything can be had.
func (s set) available() bool {
	for _, u := range s {
		if u.count > u.item.most {
			return false
		}
	}
	return true
}

// compareSKUs is below zero when s comes before o. At the first SKU in which
// the counts differ, the set with more of it has that SKU where the other
// already has a later one.
func (s set) compareSKUs(o set) int {
	for i := 0; ; i++ {
		switch {
		case i == len(s) && i == len(o):
			return 0
		case i == len(s):
			return +1
		case i == len(o):
			return -1
		case s[i].item.id != o[i].item.id:
			return s[i].item.id - o[i].item.id
		case s[i].count != o[i].count:
			return o[i].count - s[i].count
		}
	}
}

// kinds sorts a set of parts by kind.
func (s set) kinds() (by [catalog.KindCount]set) {
	for _, u := range s {
		by[u.item.part.Kind] = append(by[u.item.part.Kind], u)
	}
	return by
}

// whole says that a set has one of each of what a build has one of, and no two
// of what it may have one of.
func (s set) whole() bool {
	var n [catalog.KindCount]int
	for _, u := range s {
		n[u.item.part.Kind] += u.count
	}
	return n[catalog.KindSource] == 1 && n[catalog.KindKit] == 1 && n[catalog.KindAmplifier] > 0 &&
		n[catalog.KindFront] <= 1 && n[catalog.KindConverter] <= 1 && n[catalog.KindBlocker] <= 1
}

// names writes a set in words, for messages.
func names(parts set) string {
	s := ""
	for i, u := range parts {
		if i > 0 {
			s += ", "
		}
		s += u.item.part.SKU
		if u.count > 1 {
			s += fmt.Sprintf(" x %d", u.count)
		}
	}
	return s
}

// only is the single item of a set, or nil.
func (s set) only() *item {
	if len(s) == 0 {
		return nil
	}
	return s[0].item
}
