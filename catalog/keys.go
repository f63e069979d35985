package catalog

import (
	"math"
	"slices"
	"strings"
	"unique"
)

// Where each value of a part stands, so that a later check can point at the
// value itself and not only at the part. Ten thousand parts have about a
// hundred thousand values: hence a list and no map, and one copy of each path.

// KeyAt is the place of one value: "price", "driver.fs", "port.length",
// "ratings[2].watts" (counted from 1). A group and an item of a list have places too.
type KeyAt struct {
	Path   unique.Handle[string]
	Line   uint32
	Column uint16
}

// Keys are the places of the values of one part, in the order of the file.
type Keys []KeyAt

func (k *Keys) add(path string, at Position) {
	*k = append(*k, KeyAt{unique.Make(path), uint32(at.Line), uint16(min(at.Column, math.MaxUint16))})
}

// At gives the place of a value. A value that is not stated has the place of
// its item, of its group, or of the part.
func (p *Part) At(path string) Position {
	for ; path != ""; path = path[:max(0, strings.LastIndexAny(path, ".["))] {
		if i := p.stated(path); i >= 0 {
			k := p.Keys[i]
			return Position{File: p.Where.File, Line: int(k.Line), Column: int(k.Column)}
		}
	}
	return p.Where
}

// States tells whether the file gives the value at a path itself.
func (p *Part) States(path string) bool { return p.stated(path) >= 0 }

func (p *Part) stated(path string) int {
	name := unique.Make(path)
	return slices.IndexFunc(p.Keys, func(k KeyAt) bool { return k.Path == name })
}
