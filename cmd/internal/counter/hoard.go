package counter

import (
	"container/list"
	"reflect"
	"sync"

	"loudfor/catalog"
)

// A hoard bounds what all memories together keep, in bytes: the answer that
// nobody asked for the longest goes first, whichever memory holds it. Counting
// answers would not do: one about a large catalogue holds a thousand times what
// one about a small one does.
type hoard struct {
	mu    sync.Mutex
	most  int64      // bytes
	held  int64      // bytes of the answers that stand
	order *list.List // of held; the one asked for last is in front
}

// held is an answer as the hoard knows it.
type held interface {
	weight() int64 // 0 while it is computed
	drop()
}

func newHoard(most int64) *hoard { return &hoard{most: most, order: list.New()} }

// weighed counts an answer that now stands, and makes room for it. One that is
// larger than everything may be stays until the next comes.
func (h *hoard) weighed(place *list.Element, bytes int64) {
	h.held += bytes
	for at := h.order.Back(); at != nil && h.held > h.most; {
		before := at.Prev()
		if e := at.Value.(held); at != place && e.weight() > 0 {
			e.drop()
		}
		at = before
	}
}

// overhead is what an answer takes besides itself: its entry, its key.
const overhead = 512

// shared are what answers point at and do not own.
var shared = map[reflect.Type]bool{
	reflect.TypeFor[*catalog.Part](): true, reflect.TypeFor[*catalog.Catalogue](): true, reflect.TypeFor[*catalog.Deal](): true, reflect.TypeFor[*catalog.Store](): true,
}

// weigh is about how many bytes a value holds with everything that it points
// at, each thing once. What a function holds fast is not seen.
func weigh(value any) int64 {
	w := scale{seen: map[uintptr]bool{}}
	v := reflect.ValueOf(value)
	if !v.IsValid() {
		return overhead
	}
	return overhead + int64(v.Type().Size()) + w.behind(v)
}

type scale struct{ seen map[uintptr]bool }

// behind is what a value points at; its own bytes are those of what holds it.
func (w *scale) behind(v reflect.Value) (bytes int64) {
	switch v.Kind() {
	case reflect.Pointer:
		if v.IsNil() || shared[v.Type()] || !w.first(v.Pointer()) {
			return 0
		}
		return int64(v.Elem().Type().Size()) + w.behind(v.Elem())
	case reflect.Interface:
		if v.IsNil() {
			return 0
		}
		return int64(v.Elem().Type().Size()) + w.behind(v.Elem())
	case reflect.String:
		return int64(v.Len())
	case reflect.Slice:
		if v.IsNil() || v.Len() > 0 && !w.first(v.Pointer()) {
			return 0
		}
		bytes = int64(v.Cap()) * int64(v.Type().Elem().Size())
		if pointless(v.Type().Elem()) {
			return bytes
		}
		fallthrough
	case reflect.Array:
		if pointless(v.Type().Elem()) {
			return bytes
		}
		for i := range v.Len() {
			bytes += w.behind(v.Index(i))
		}
	case reflect.Struct:
		for i := range v.NumField() {
			bytes += w.behind(v.Field(i))
		}
	case reflect.Map:
		if v.IsNil() || !w.first(v.Pointer()) {
			return 0
		}
		for at := v.MapRange(); at.Next(); {
			// A table is between half and seven eighths full.
			bytes += 3*int64(v.Type().Key().Size()+v.Type().Elem().Size())/2 + w.behind(at.Key()) + w.behind(at.Value())
		}
	}
	return bytes
}

func (w *scale) first(at uintptr) bool {
	if w.seen[at] {
		return false
	}
	w.seen[at] = true
	return true
}

// pointless tells whether values of a type point at nothing.
func pointless(t reflect.Type) bool {
	switch t.Kind() {
	case reflect.Pointer, reflect.Interface, reflect.String, reflect.Slice, reflect.Map, reflect.Chan, reflect.Func, reflect.UnsafePointer:
		return false
	case reflect.Array:
		return pointless(t.Elem())
	case reflect.Struct:
		for i := range t.NumField() {
			if !pointless(t.Field(i).Type) {
				return false
			}
		}
	}
	return true
}
