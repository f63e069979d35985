package document

import (
	"cmp"
	"fmt"
	"strings"

	"loudfor/catalog/units"
)

// Shape is what the value of a key looks like.
type Shape uint8

const (
	Text     Shape = iota // a line of text
	Word                  // one of Words
	Flag                  // true or false
	Whole                 // a whole number
	Quantity              // a number with a unit of Dim
	Named                 // the same, where the key names the unit and a number alone will do
	Times                 // a count and a quantity: 2 x 4 ohm
	Sum                   // the same, where only count times quantity matters: 2 x 30 A
	Oval                  // a length, or the two of an oval: 6 x 9 in
	Size                  // width x depth x height
	Point                 // three coordinates
	Pair                  // two lengths
	Price                 // an exact sum of money
	Percent               // an exact percentage
	Wire                  // a wire gauge or an area
	Texts                 // a list of texts, or one
	Group                 // a mapping with keys of its own
	Groups                // a list of such mappings
	Table                 // a mapping whose keys are the user's own names
)

// shapes says in words what each shape expects.
var shapes = [...]string{
	Text: "a text", Word: "a word", Flag: "true or false", Whole: "a whole number",
	Quantity: "a number with its unit", Named: "a number", Times: "a quantity, or a count x a quantity",
	Sum: "a quantity, or a count x a quantity", Oval: "a length, or two for an oval",
	Size: "width x depth x height", Point: "three lengths", Pair: "two lengths", Price: "a price",
	Percent: "a percentage", Wire: "a wire gauge or an area", Texts: "a list of texts",
	Group: "a group of keys", Groups: "a list of groups of keys", Table: "names with values",
}

// Spec describes one key: the single source for reading, for messages and for
// the reference.
type Spec struct {
	Key      string
	Shape    Shape
	Dim      units.Dimension
	Required bool
	// Range holds the accepted values in the user's units: "5 Hz..500 Hz",
	// "1..16", or ">0 mm..15 cm" where the lower end itself is refused.
	Range   string
	Words   []string // of a Word, in the order of their numbers
	None    float64  // of a Quantity: what the word None is written as stands for; 0: it may not be written
	Free    string   // that word; empty: "none"
	Default string   // as one would write it; empty: none
	Example string
	Help    string
	Sub     []Spec // keys of a Group, of Groups, or of the lists of a Table, for the reference
	Each    *Spec  // of a Table: its values, unless they are lists of groups; for the reference
	Else    *Spec  // another form in which the value may be written; for the reference

	least, most float64
	over        bool // least itself is refused
	ranged      bool
}

// prepare reads the range. A bad one is a mistake of the programmer.
func (s *Spec) prepare() {
	if s.Range == "" {
		return
	}
	low, high, ok := strings.Cut(s.Range, "..")
	if !ok {
		panic("document: range of " + s.Key)
	}
	low, s.over = strings.CutPrefix(low, ">")
	s.least, s.most, s.ranged = s.limit(low), s.limit(high), true
	if s.least > s.most {
		panic("document: range of " + s.Key)
	}
}

func (s *Spec) limit(text string) float64 {
	d := s.Dim
	switch s.Shape {
	case Oval, Size, Point, Pair:
		d = units.Length
	case Percent:
		d = units.Ratio
	case Price, Whole:
		d = units.Number
	}
	q, err := units.ParseNamed(text, d)
	if err != nil {
		panic("document: range of " + s.Key + ": " + err.Error())
	}
	return q.SI
}

// free is the word for None.
func (s *Spec) free() string { return cmp.Or(s.Free, "none") }

// inside tells whether a value lies in the range.
func (s *Spec) inside(si float64) bool {
	return !s.ranged || si <= s.most && (si > s.least || si == s.least && !s.over)
}

// outside is the message for a value beyond the range.
func (s *Spec) outside(text string) (summary, detail string) {
	low, high, _ := strings.Cut(s.Range, "..")
	if s.Shape == Price {
		return fmt.Sprintf("%s cannot be %q", s.Key, text), s.Key + " is not below zero"
	}
	if bare, over := strings.CutPrefix(low, ">"); over {
		return fmt.Sprintf("%s cannot be %q", s.Key, text), fmt.Sprintf("%s is above %s and at most %s", s.Key, bare, high)
	}
	return fmt.Sprintf("%s cannot be %q", s.Key, text), fmt.Sprintf("%s lies between %s and %s", s.Key, low, high)
}

// Expected says what a value of the key looks like, for messages and the
// reference.
func (s *Spec) Expected() string {
	out := shapes[s.Shape]
	switch s.Shape {
	case Word:
		out = strings.Join(s.Words, ", ")
		if n := len(s.Words); n > 1 {
			out = strings.Join(s.Words[:n-1], ", ") + " or " + s.Words[n-1]
		}
	case Quantity:
		out = s.Dim.String()
		if s.Dim != units.Number && s.Dim != units.Admittance {
			out += " in " + s.Dim.Offered()
		}
		if s.None != 0 {
			out += " or " + s.free()
		}
	case Named:
		out = s.Dim.String() + ", alone or in " + s.Dim.Offered()
	case Times, Sum:
		out = s.Dim.String() + " in " + s.Dim.Offered() + ", or a count x one"
	}
	if s.Example != "" {
		return out + ", such as " + s.Example
	}
	if s.Shape == Quantity {
		return out + ", such as " + s.Dim.Example()
	}
	return out
}
