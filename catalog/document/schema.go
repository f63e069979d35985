package document

import (
	"fmt"
	"strings"

	"go.yaml.in/yaml/v3"

	"loudfor/catalog/units"
)

// Schema is the table of the keys of one kind of mapping.
type Schema[T any] struct {
	What   string // "a subwoofer"
	Fields []Field[T]
	// Elsewhere may say where an unknown key would be right, for messages.
	Elsewhere func(key string) string

	index    map[string]int
	names    []string
	required []int
}

// mostKeys bounds a table, since the keys that were met are kept in the bits
// of one word.
const mostKeys = 64

// NewSchema prepares a table. Mistakes in it are the programmer's, and panic.
func NewSchema[T any](what string, fields []Field[T]) *Schema[T] {
	s := &Schema[T]{What: what, Fields: fields, index: make(map[string]int, len(fields))}
	if len(fields) > mostKeys {
		panic("document: too many keys in " + what)
	}
	for i := range s.Fields {
		f := &s.Fields[i]
		if _, twice := s.index[f.Key]; twice || (f.Set == nil) == (f.Nested == nil) {
			panic("document: key " + f.Key + " of " + what)
		}
		f.prepare()
		s.index[f.Key] = i
		s.names = append(s.names, f.Key)
		if f.Required {
			s.required = append(s.required, i)
		}
	}
	return s
}

// Specs lists the keys, for the reference.
func (s *Schema[T]) Specs() []Spec {
	out := make([]Spec, len(s.Fields))
	for i := range s.Fields {
		out[i] = s.Fields[i].Spec
	}
	return out
}

// Find gives the number of a key, or -1.
func (s *Schema[T]) Find(key string) int {
	if i, ok := s.index[key]; ok {
		return i
	}
	return -1
}

// Decode reads a mapping into dst. It tells the number and node of each good
// or bad value to met (which may be nil), and reports whether all was well.
func (s *Schema[T]) Decode(r *Reader, n *yaml.Node, dst *T, met func(field int, value *yaml.Node)) bool {
	at := n
	n = Resolve(n)
	before := len(r.found) + r.more
	if n.Kind != yaml.MappingNode {
		r.Complain(at, s.What+" is a group of keys, not "+kindOf(n), "write keys with values, such as "+s.sample())
		return false
	}
	// meant are keys that a misspelt one probably stands for: that they are
	// missing then goes without saying.
	var seen, meant uint64
	var first [mostKeys]*yaml.Node
	var v Value
	pairs := n.Content
	if hasMerge(pairs) {
		pairs = r.merged(n)
	}
	for k := 0; k+1 < len(pairs); k += 2 {
		key, value := pairs[k], pairs[k+1]
		name := Resolve(key)
		i, ok := s.index[name.Value]
		if !ok || name.Kind != yaml.ScalarNode {
			meant |= s.unknown(r, key)
			continue
		}
		bit := uint64(1) << i
		if seen&bit != 0 {
			r.Twice(key, fmt.Sprintf("the key %q is given twice", name.Value), "keep one of the two", r.Where(first[i]))
			continue
		}
		seen |= bit
		first[i] = key
		if met != nil {
			met(i, value)
		}
		f := &s.Fields[i]
		if f.Nested != nil {
			f.Nested(r, dst, value)
			continue
		}
		v = Value{}
		if r.Read(value, &f.Spec, &v) {
			f.Set(dst, &v)
		}
	}
	for _, i := range s.required {
		if (seen|meant)&(1<<i) == 0 {
			f := &s.Fields[i]
			r.Complain(at, fmt.Sprintf("%s needs the key %q", s.What, f.Key), f.Help+": add "+f.Key+": "+f.sample())
		}
	}
	return len(r.found)+r.more == before
}

func (s *Schema[T]) sample() string {
	for i := range s.Fields {
		if s.Fields[i].Required {
			return s.Fields[i].Key + ": " + s.Fields[i].sample()
		}
	}
	return s.Fields[0].Key + ": " + s.Fields[0].sample()
}

func (s *Spec) sample() string {
	switch {
	case s.Example != "":
		return s.Example
	case s.Shape == Word:
		return s.Words[0]
	case s.Shape == Quantity || s.Shape == Named:
		return s.Dim.Example()
	}
	return "..."
}

// unknown reports a key that is not in the table, with the nearest one that
// is, whose bit it gives.
func (s *Schema[T]) unknown(r *Reader, key *yaml.Node) (meant uint64) {
	name := Resolve(key)
	if name.Kind != yaml.ScalarNode {
		r.Complain(key, "a key is "+kindOf(name), "write a plain word before the colon")
		return 0
	}
	near := strings.NewReplacer("-", "_", " ", "_").Replace(strings.ToLower(strings.TrimSpace(name.Value)))
	if s.Find(near) < 0 {
		near = units.Nearest(name.Value, s.names)
	}
	detail := fmt.Sprintf("the keys of %s are %s", s.What, strings.Join(s.names, ", "))
	if near != "" {
		detail = fmt.Sprintf("did you mean %q?", near)
		meant = 1 << s.Find(near)
	} else if s.Elsewhere != nil {
		if hint := s.Elsewhere(name.Value); hint != "" {
			detail = hint + "\n" + detail
		}
	}
	r.Complain(key, fmt.Sprintf("%q is not a key of %s", units.Clip(name.Value), s.What), detail)
	return meant
}

func hasMerge(pairs []*yaml.Node) bool {
	for k := 0; k+1 < len(pairs); k += 2 {
		if pairs[k].Kind == yaml.ScalarNode && pairs[k].Tag == "!!merge" {
			return true
		}
	}
	return false
}

// merged gives the pairs of a mapping without its merge keys (<<), followed by
// the pairs that those bring in. A key of the mapping itself goes before one
// that is merged, and an earlier merge before a later one.
func (r *Reader) merged(n *yaml.Node) []*yaml.Node {
	var own, brought []*yaml.Node
	for k := 0; k+1 < len(n.Content); k += 2 {
		if n.Content[k].Tag != "!!merge" {
			own = append(own, n.Content[k], n.Content[k+1])
			continue
		}
		list := []*yaml.Node{n.Content[k+1]}
		if from := Resolve(n.Content[k+1]); from.Kind == yaml.SequenceNode {
			list = from.Content
		}
		for _, item := range list {
			m := Resolve(item)
			if m.Kind != yaml.MappingNode {
				r.Complain(item, "<< takes the alias of a mapping", "write <<: *name")
				continue
			}
			if hasMerge(m.Content) {
				r.Complain(item, "a merge (<<) of a merge", "write the keys out")
				continue
			}
			brought = append(brought, m.Content...)
		}
	}
	have := map[string]bool{}
	for k := 0; k < len(own); k += 2 {
		have[Resolve(own[k]).Value] = true
	}
	out := own
	for k := 0; k+1 < len(brought); k += 2 {
		if name := Resolve(brought[k]).Value; !have[name] {
			have[name] = true
			out = append(out, brought[k], brought[k+1])
		}
	}
	return out
}

// Items gives the items of a list, and complains if it is none.
func (r *Reader) Items(n *yaml.Node, s *Spec) []*yaml.Node {
	list := Resolve(n)
	if list.Kind == yaml.SequenceNode {
		return list.Content
	}
	if list.Kind == yaml.ScalarNode && list.Tag == "!!null" {
		r.Complain(n, s.Key+" is an empty list", "write its items on the lines below, each starting with \"- \"")
		return nil
	}
	remedy := "start each item with \"- \""
	if s.Example != "" {
		remedy += ", or write " + s.Key + ": " + s.Example
	}
	r.Complain(n, s.Key+" is a list, not "+kindOf(list), remedy)
	return nil
}

// Lookup finds the value of a key of a mapping, merged or its own; nil if it
// is not there.
func (r *Reader) Lookup(m *yaml.Node, key string) *yaml.Node {
	for k := 0; k+1 < len(m.Content); k += 2 {
		if n := Resolve(m.Content[k]); n.Value == key && n.Kind == yaml.ScalarNode {
			return m.Content[k+1]
		}
	}
	if hasMerge(m.Content) {
		quiet := Reader{File: r.File, shift: r.shift}
		pairs := quiet.merged(m)
		for k := 0; k+1 < len(pairs); k += 2 {
			if n := Resolve(pairs[k]); n.Value == key && n.Kind == yaml.ScalarNode {
				return pairs[k+1]
			}
		}
	}
	return nil
}
