package catalog

import (
	"strconv"
	"strings"
)

// Where each value of a part stands, so that a later check can point at the
// value itself and not only at the part. Ten thousand parts have about a
// hundred thousand values: hence the compact form.

// KeyAt is the place of one value: the number of its key in the table of the
// part's kind, for a list the number of the item (from 1), and the number of
// the key inside the group plus one.
type KeyAt struct {
	Field, Item, Sub uint8
	Column           uint16
	Line             uint32
}

// Keys are the places of the values of one part, in the order of the file.
type Keys []KeyAt

func keyAt(field, item, sub int, at Position) KeyAt {
	return KeyAt{uint8(field), uint8(min(item, 255)), uint8(sub), uint16(min(at.Column, 1<<16-1)), uint32(at.Line)}
}

// states tells whether the file gives the value at a path itself.
func (p *Part) states(path string) bool {
	key, _, grouped := strings.Cut(path, ".")
	if !grouped {
		return p.States(key)
	}
	return p.At(path) != p.At(key)
}

// At gives the place of a value: "price", "driver.fs", "port.length",
// "ratings[2].watts" (counted from 1). A value that is not stated has the
// place of its group, or of the part.
func (p *Part) At(path string) Position {
	key, sub, _ := strings.Cut(path, ".")
	item := 0
	if name, number, ok := strings.Cut(key, "["); ok {
		key = name
		item, _ = strconv.Atoi(strings.TrimSuffix(number, "]"))
	}
	field, subs := findKey(p.Kind, key)
	best, depth := p.Where, -1
	for _, k := range p.Keys {
		if int(k.Field) != field {
			continue
		}
		d := -1
		switch {
		case k.Item == 0 && k.Sub == 0:
			d = 0
		case int(k.Item) == item && k.Sub == 0:
			d = 1
		case int(k.Item) == item && sub != "" && int(k.Sub) <= len(subs) && subs[k.Sub-1].Key == sub:
			d = 2
		}
		if d > depth {
			best, depth = Position{File: p.Where.File, Line: int(k.Line), Column: int(k.Column)}, d
		}
	}
	return best
}

// States tells whether the file gives the value of a key itself.
func (p *Part) States(key string) bool {
	field, _ := findKey(p.Kind, key)
	for _, k := range p.Keys {
		if int(k.Field) == field {
			return true
		}
	}
	return false
}
