package document

import (
	"fmt"
	"slices"
	"strings"

	"go.yaml.in/yaml/v3"

	"loudfor/catalog/units"
)

// Value is what was read from one key; which fields are set depends on the
// shape.
type Value struct {
	SI    float64    // Quantity, Named, Oval; Sum: count times quantity; Times: of one
	Count int        // Times, Sum, Whole
	Three [3]float64 // Size, Point: in the order written
	Word  int        // number of the word in Words
	Flag  bool
	Text  string // as written
	Texts []*yaml.Node
	Items []string // Texts, when they are written
	Price units.Price
	// Millionths is an exact Percent.
	Millionths int64
	Wire       units.Wire
	Node       *yaml.Node
}

// Equal tells whether two values mean the same, wherever they stand.
func (v *Value) Equal(o *Value) bool {
	return v.SI == o.SI && v.Count == o.Count && v.Three == o.Three && v.Word == o.Word && v.Flag == o.Flag && v.Text == o.Text &&
		v.Price == o.Price && v.Millionths == o.Millionths && v.Wire == o.Wire && slices.Equal(v.Items, o.Items)
}

// Read reads the value of a key and reports whether it is good; if not, the
// problem has been added.
func (r *Reader) Read(n *yaml.Node, s *Spec, v *Value) bool {
	written := n
	n = Resolve(n)
	v.Node = written
	if n.Kind == yaml.ScalarNode && n.Tag == "!!null" && n.Style == 0 {
		r.Complain(written, s.Key+" has no value", "write "+s.Expected()+", or remove the key")
		return false
	}
	if s.Shape == Texts {
		return r.texts(n, s, v)
	}
	if n.Kind != yaml.ScalarNode {
		r.Complain(written, s.Key+" is one value, not "+kindOf(n), "write "+s.Expected())
		return false
	}
	v.Text = n.Value
	if strings.TrimSpace(n.Value) == "" {
		r.Complain(written, s.Key+" is empty", "write "+s.Expected()+", or remove the key")
		return false
	}
	if len(n.Value) > LongestText {
		r.Complain(written, fmt.Sprintf("%s has %d characters", s.Key, len(n.Value)), fmt.Sprintf("write at most %d", LongestText))
		return false
	}
	if e := scalar(n, s, v); e != nil {
		e.Remedy = s.exemplify(e.Remedy)
		if n != written { // an alias: the text stands elsewhere
			r.Complain(written, e.Summary, e.Remedy)
		} else {
			r.Bad(n, e)
		}
		return false
	}
	return true
}

// exemplify puts the example of the key in place of a general one at the end of
// a remedy.
func (s *Spec) exemplify(remedy string) string {
	for _, general := range [...]string{s.Dim.Example(), units.ExampleLengths[2], units.ExampleLengths[3], units.ExamplePrice} {
		if rest, ok := strings.CutSuffix(remedy, "such as "+general); ok && s.Example != "" {
			return rest + "such as " + s.Example
		}
	}
	if s.Example != "" && strings.HasPrefix(remedy, "write a number (") {
		return remedy + ", such as " + s.Example
	}
	return remedy
}

// LongestText bounds names and notes, bytes; whatever brings texts into a
// catalogue keeps to it.
const LongestText = 4000

func scalar(n *yaml.Node, s *Spec, v *Value) (e *units.Error) {
	var q units.Quantity
	switch s.Shape {
	case Text:
		v.Text = strings.TrimSpace(n.Value)
		return nil
	case Word:
		return readWord(n.Value, s, v)
	case Flag:
		switch strings.ToLower(strings.TrimSpace(n.Value)) {
		case "true", "yes", "on":
			v.Flag = true
			return nil
		case "false", "no", "off":
			return nil
		}
		return &units.Error{Summary: fmt.Sprintf("%s cannot be %q", s.Key, n.Value), Remedy: "write true or false", End: len(n.Value)}
	case Whole:
		if v.Count, e = units.Whole(n.Value); e != nil {
			return e
		}
		v.SI = float64(v.Count)
	case Quantity:
		if s.None != 0 && strings.EqualFold(strings.TrimSpace(n.Value), s.free()) {
			v.SI = s.None
			return nil
		}
		q, e = units.Parse(n.Value, s.Dim)
		v.SI = q.SI
	case Named:
		q, e = units.ParseNamed(n.Value, s.Dim)
		v.SI = q.SI
	case Times, Sum:
		v.Count, q, e = units.Times(n.Value, s.Dim)
		if v.SI = q.SI; s.Shape == Sum {
			v.SI *= float64(v.Count)
		}
	case Oval:
		q, e = units.Oval(n.Value)
		v.SI = q.SI
	case Size, Point, Pair:
		return lengths(n, s, v)
	case Price:
		v.Price, e = units.ParsePrice(n.Value)
		v.SI = float64(v.Price.Minor)
	case Percent:
		v.Millionths, e = units.ParsePercent(n.Value)
		v.SI = float64(v.Millionths) / 1e6
	case Wire:
		v.Wire, e = units.ParseWire(n.Value)
		return e
	}
	if e != nil {
		return e
	}
	if !s.inside(v.SI) {
		summary, detail := s.outside(strings.TrimSpace(n.Value))
		return &units.Error{Summary: summary, Remedy: detail, End: len(n.Value)}
	}
	return nil
}

func lengths(n *yaml.Node, s *Spec, v *Value) *units.Error {
	want := 3
	if s.Shape == Pair {
		want = 2
	}
	q, e := units.Lengths(n.Value, want)
	if e != nil {
		return e
	}
	for i := range q[:want] {
		v.Three[i] = q[i].SI
		if !s.inside(q[i].SI) {
			summary, detail := s.outside(strings.TrimSpace(n.Value))
			return &units.Error{Summary: summary, Remedy: "each length of " + detail, End: len(n.Value)}
		}
	}
	return nil
}

// readWord finds a word of an enumeration, whatever the case and whether it is
// written with spaces, hyphens or underscores.
func readWord(text string, s *Spec, v *Value) *units.Error {
	t := strings.TrimSpace(text)
	for i, w := range s.Words {
		if t == w {
			v.Word = i
			return nil
		}
	}
	same := strings.NewReplacer("-", " ", "_", " ")
	for i, w := range s.Words {
		if strings.EqualFold(same.Replace(t), same.Replace(w)) {
			v.Word = i
			return nil
		}
	}
	remedy := "write " + s.Expected()
	if near := units.Nearest(t, s.Words); near != "" {
		remedy = fmt.Sprintf("did you mean %q? %s", near, remedy)
	}
	return &units.Error{Summary: fmt.Sprintf("%s cannot be %q", s.Key, t), Remedy: remedy, End: len(text)}
}

func (r *Reader) texts(n *yaml.Node, s *Spec, v *Value) bool {
	switch n.Kind {
	case yaml.ScalarNode:
		v.Texts = []*yaml.Node{n}
	case yaml.SequenceNode:
		v.Texts = n.Content
	default:
		r.Complain(n, s.Key+" is a list, not "+kindOf(n), "write "+s.Expected())
		return false
	}
	good := true
	for i, item := range v.Texts {
		item = Resolve(item)
		if item.Kind != yaml.ScalarNode || strings.TrimSpace(item.Value) == "" || len(item.Value) > LongestText {
			r.Complain(v.Texts[i], s.Key+" is a list of texts", "write one text in each item")
			good = false
		}
	}
	return good
}

func kindOf(n *yaml.Node) string {
	switch n.Kind {
	case yaml.MappingNode:
		return "a group of keys"
	case yaml.SequenceNode:
		return "a list"
	}
	return "a single value"
}

// Has tells whether the text is one of the words of the key, and which.
func (s *Spec) Has(text string, v *Value) bool { return readWord(text, s, v) == nil }
