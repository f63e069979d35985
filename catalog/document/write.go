package document

import (
	"fmt"
	"strconv"
	"strings"

	"loudfor/catalog/units"
)

// Writer writes mappings in the one canonical form, by the tables that they are
// read with: keys in the order of the table; a key whose value is the default,
// or not stated, is left out; texts as Quoted writes them and numbers as
// units.Exact does, so that the reader gets the same value to the last bit.
type Writer struct {
	// SI writes numbers in SI units and in no others.
	SI bool

	text  strings.Builder
	lead  string // what stands before the next key
	after string // before the ones that follow
	end   string // behind a value
	err   error

	value, usual Value // room for those that are compared
}

// NewWriter writes keys with lead before the first one and after before the
// others.
func NewWriter(lead, after string) *Writer { return &Writer{lead: lead, after: after, end: "\n"} }

// Text is what was written, or the first error: something that no file holds.
func (w *Writer) Text() (string, error) { return w.text.String(), w.err }

// Key writes a key with a value that needs no quotes.
func (w *Writer) Key(key, value string) {
	w.text.WriteString(w.lead)
	w.text.WriteString(key)
	w.text.WriteString(": ")
	w.text.WriteString(value)
	w.text.WriteString(w.end)
	w.lead = w.after
}

// Quoted writes a text of the user's as it stands in a list or mapping.
func (w *Writer) Quoted(key, text string) string {
	out, err := Quoted(text)
	if err != nil && w.err == nil {
		w.err = fmt.Errorf("%s: %w", key, err)
	}
	return out
}

// group writes what belongs to a key further in.
func (w *Writer) group(key string, inside func()) {
	w.text.WriteString(w.lead + key + ":\n")
	before := w.after
	w.after += "  "
	w.lead = w.after
	inside()
	w.lead, w.after = before, before
}

// Write writes a mapping. What it has in common with unstated goes without
// saying, but for a word that has to be there.
func (s *Schema[T]) Write(w *Writer, from, unstated *T) {
	for i := range s.Fields {
		f := &s.Fields[i]
		if f.Write != nil {
			f.Write(w, from)
			continue
		}
		v, usual := &w.value, &w.usual
		*v, *usual = Value{}, Value{}
		if f.Get == nil || !f.Get(from, v) || !f.holds(v) {
			continue
		}
		if (f.Shape == Word && f.Required) || !f.Get(unstated, usual) || !v.Equal(usual) {
			w.Key(f.Key, f.written(w, v))
		}
	}
}

// WriteGroup writes a mapping under a key.
func (s *Schema[T]) WriteGroup(w *Writer, key string, from, unstated *T) {
	w.group(key, func() { s.Write(w, from, unstated) })
}

// WriteList writes a list of mappings under a key, each on one line, since such
// a table is read across; an empty one is not stated.
func (s *Schema[T]) WriteList(w *Writer, key string, list []T, unstated *T) {
	if len(list) == 0 {
		return
	}
	w.group(key, func() {
		indent := w.lead
		for i := range list {
			w.lead, w.after, w.end = indent+"- {", ", ", ""
			s.Write(w, &list[i], unstated)
			w.text.WriteString("}\n")
		}
		w.end = "\n"
	})
}

// holds tells whether a file can state the value. One that it cannot, such as a
// size of zero, is how "not stated" is kept.
func (s *Spec) holds(v *Value) bool {
	switch s.Shape {
	case Text:
		return v.Text != ""
	case Word:
		return v.Word >= 0 && v.Word < len(s.Words)
	case Whole, Quantity, Named, Oval, Sum:
		return v.SI != 0 || s.inside(0)
	case Times:
		return v.Count > 0
	case Texts:
		return len(v.Items) > 0
	}
	return true
}

// written is the text of a value.
func (s *Spec) written(w *Writer, v *Value) string {
	switch s.Shape {
	case Quantity:
		if s.None != 0 && v.SI == s.None {
			return s.free()
		}
	case Text:
		return w.Quoted(s.Key, v.Text)
	case Word:
		return s.Words[v.Word]
	case Flag:
		if words := [...]string{"no", "yes"}; s.Default == words[0] {
			return words[v.Word]
		}
		return strconv.FormatBool(v.Flag)
	case Whole:
		return strconv.Itoa(v.Count)
	case Oval:
		return w.number(v.SI, units.Length)
	case Times:
		if v.Count > 1 {
			return fmt.Sprintf("%d x %s", v.Count, w.number(v.SI, s.Dim))
		}
	case Size, Point:
		return w.lengths(v.Three[:])
	case Pair:
		return w.lengths(v.Three[:2])
	case Price:
		return v.Price.String()
	case Percent:
		return Rate(v.Millionths)
	case Wire:
		return wire(v.Wire)
	case Texts:
		items := make([]string, len(v.Items))
		for i, text := range v.Items {
			items[i] = w.Quoted(s.Key, text)
		}
		return "[" + strings.Join(items, ", ") + "]"
	}
	return w.number(v.SI, s.Dim)
}

func (w *Writer) number(si float64, d units.Dimension) string {
	if w.SI {
		return strings.TrimSpace(units.Plain(si) + " " + units.SIUnit(d))
	}
	return units.Exact(si, d)
}

func (w *Writer) lengths(si []float64) string {
	if !w.SI {
		return units.ExactLengths(si...)
	}
	texts := make([]string, len(si))
	for i, v := range si {
		texts[i] = units.Plain(v)
	}
	return strings.Join(texts, " x ") + " " + units.SIUnit(units.Length)
}

// Rate writes an exact percentage.
func Rate(millionths int64) string {
	return units.Plain(float64(millionths)/1e4) + " %"
}

func wire(size units.Wire) string {
	switch {
	case size.Area > 0:
		return units.Exact(size.Area, units.Area)
	case size.Gauge < 1:
		return fmt.Sprintf("%d/0 AWG", 1-size.Gauge)
	}
	return fmt.Sprintf("%d AWG", size.Gauge)
}
