package document

import "go.yaml.in/yaml/v3"

// Field is a key together with where its value is kept. Reading, writing, the
// reference and the columns of spreadsheets follow from it, so a key is written
// down once.
type Field[T any] struct {
	Spec
	// Set keeps a good value.
	Set func(*T, *Value)
	// Get gives it back, and tells whether there is one. A field of a table that
	// is only read has none.
	Get func(*T, *Value) bool
	// Nested reads a Group, Groups, Table or Texts; it is used in place of Set.
	Nested func(r *Reader, dst *T, n *yaml.Node)
	// Write writes such a value; it is used in place of Get.
	Write func(w *Writer, from *T)
}

// String is a field that holds a text.
func String[T any](s Spec, at func(*T) *string) Field[T] {
	return Field[T]{Spec: s,
		Set: func(t *T, v *Value) { *at(t) = v.Text },
		Get: func(t *T, v *Value) bool { v.Text = *at(t); return true }}
}

// Float is a field that holds a number in SI units.
func Float[T any](s Spec, at func(*T) *float64) Field[T] {
	return Field[T]{Spec: s,
		Set: func(t *T, v *Value) { *at(t) = v.SI },
		Get: func(t *T, v *Value) bool { v.SI = *at(t); return true }}
}

// Int is a field that holds a whole number.
func Int[T any](s Spec, at func(*T) *int) Field[T] {
	return Field[T]{Spec: s,
		Set: func(t *T, v *Value) { *at(t) = v.Count },
		Get: func(t *T, v *Value) bool { v.Count = *at(t); v.SI = float64(v.Count); return true }}
}

// Bool is a field that is on or off, or one of two words.
func Bool[T any](s Spec, at func(*T) *bool) Field[T] {
	return Field[T]{Spec: s,
		Set: func(t *T, v *Value) { *at(t) = v.Flag || v.Word == 1 },
		Get: func(t *T, v *Value) bool {
			if v.Flag = *at(t); v.Flag {
				v.Word = 1
			}
			return true
		}}
}

// Enum is a field that holds the number of a word.
func Enum[T any, E ~int](s Spec, at func(*T) *E) Field[T] {
	return Field[T]{Spec: s,
		Set: func(t *T, v *Value) { *at(t) = E(v.Word) },
		Get: func(t *T, v *Value) bool { v.Word = int(*at(t)); return true }}
}

// Multiple is a field that holds a count and the quantity of each.
func Multiple[T any](s Spec, count func(*T) *int, each func(*T) *float64) Field[T] {
	return Field[T]{Spec: s,
		Set: func(t *T, v *Value) { *count(t), *each(t) = v.Count, v.SI },
		Get: func(t *T, v *Value) bool { v.Count, v.SI = *count(t), *each(t); return true }}
}

// Lengths is a field that holds two or three lengths.
func Lengths[T any](s Spec, at func(*T) []*float64) Field[T] {
	return Field[T]{Spec: s,
		Set: func(t *T, v *Value) {
			for i, to := range at(t) {
				*to = v.Three[i]
			}
		},
		Get: func(t *T, v *Value) bool {
			for i, from := range at(t) {
				v.Three[i] = *from
			}
			return true
		}}
}
