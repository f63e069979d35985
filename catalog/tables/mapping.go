package tables

import (
	"cmp"
	"fmt"
	"io"
	"strings"
	"sync"

	"go.yaml.in/yaml/v3"

	"loudfor/catalog"
	"loudfor/catalog/document"
	"loudfor/catalog/grid"
	"loudfor/catalog/trade"
	"loudfor/catalog/units"
)

// A mapping says what the columns of one shop's list are for, where their
// names do not. It is kept in a file, since the next list will look the same:
//
//	kind: amplifier
//	currency: USD
//	columns:
//	  - {name: RMS@4, key: ratings, mode: stereo, load: 4 ohm, basis: claimed}
//	  - {name: F-No, key: sku}
//	  - {name: kg, ignore: true}

// Mapping is what such a file says; the zero value says nothing.
type Mapping struct {
	Kind     *catalog.Kind
	Currency string
	Columns  []Mapped
}

// Mapped is one column of a mapping.
type Mapped struct {
	Name   string // as the header has it
	Key    string // "fs", "port.length", "ratings", "kind"
	Unit   string // of cells that state none
	Mode   string // of a rating
	Load   string
	Basis  string
	Ignore bool
	where  catalog.Position
}

// column is what the mapped column means.
func (m Mapped) column(k catalog.Kind) column {
	switch {
	case m.Ignore:
		return column{why: "the mapping says so"}
	case m.Key == "ratings" && m.Load != "":
		return column{meaning: meaning{"ratings", "W"}, rating: &rating{mode: m.Mode, load: m.Load, basis: m.Basis}}
	}
	if _, piece := whole()[m.Key]; !piece && m.Key != "kind" {
		if _, ok := specs()[k][m.Key]; !ok {
			return column{why: m.Key + " is not a key of " + rowWords(k)}
		}
	}
	return column{meaning: meaning{m.Key, m.Unit}}
}

// find looks a column up by the name in its header.
func (m Mapping) find(name string) (Mapped, bool) {
	for _, c := range m.Columns {
		if tidied(c.Name) == tidied(name) && (tidied(name) != "" || c.Name == name) {
			return c, true
		}
	}
	return Mapped{}, false
}

// isHeader tells whether a row names a SKU column and another one, a name with
// its price or its maker, or the columns of deals or stores.
func (m Mapping) isHeader(row []grid.Cell) bool {
	seen := map[string]bool{}
	beside, others := false, 0
	for _, c := range row {
		name := c.Shown()
		if name == "" {
			continue
		}
		if mapped, ok := m.find(name); ok {
			seen[mapped.Key] = true
			others++
			continue
		}
		if isKind(name) {
			others++
			continue
		}
		if isType(name) { // which may head the models
			seen["name"] = true
		}
		if mean, ok := meansAnywhere(name); ok {
			seen[mean.key] = true
			beside = beside || anyOf(mean.key, "parts", "every", "from", "trip")
			others++
		}
	}
	return (seen["sku"] || beside) && others > 1 || seen["name"] && (seen["price"] || seen["maker"]) && others > 2
}

// mayBeHeader looks whether one of the first cells of a row is a heading, to the
// letter.
func mayBeHeader(row []grid.Cell) bool {
	seen := 0
	for _, c := range row {
		if c.Empty() {
			continue
		}
		if seen++; seen > 3 {
			return false
		}
		if headingWords()[tidied(c.Text)] {
			return true
		}
		if _, ok := trade.Phrase(c.Text); ok {
			return true
		}
	}
	return false
}

// headingWords are the names of columns of all kinds.
var headingWords = sync.OnceValue(func() map[string]bool {
	out := map[string]bool{}
	for _, d := range kindDictionaries() {
		for name := range d {
			out[name] = true
		}
	}
	return out
})

type mappingField = document.Field[Mapping]

var kindWords = func() (out []string) {
	for k := range catalog.KindCount {
		out = append(out, k.String())
	}
	return out
}()

func textField(key, example, help string, to func(*Mapped) *string) document.Field[Mapped] {
	return document.String(document.Spec{Key: key, Shape: document.Text, Example: example, Help: help}, to)
}

var mappedSchema = document.NewSchema("a column", []document.Field[Mapped]{
	document.String(document.Spec{Key: "name", Shape: document.Text, Required: true, Example: "RMS@4", Help: "the name in the header of the list"},
		func(m *Mapped) *string { return &m.Name }),
	textField("key", "rms", "the key of a part that it holds", func(m *Mapped) *string { return &m.Key }),
	textField("unit", "W", "the unit of cells that state none", func(m *Mapped) *string { return &m.Unit }),
	textField("mode", "bridged", "with key ratings: how the channels are used", func(m *Mapped) *string { return &m.Mode }),
	textField("load", "4 ohm", "with key ratings: the load", func(m *Mapped) *string { return &m.Load }),
	textField("basis", "claimed", "with key ratings: how far the power can be believed", func(m *Mapped) *string { return &m.Basis }),
	document.Bool(document.Spec{Key: "ignore", Shape: document.Flag, Default: "false", Help: "the column is not read"},
		func(m *Mapped) *bool { return &m.Ignore }),
})

var columnsSpec = document.Spec{Key: "columns", Shape: document.Groups, Sub: mappedSchema.Specs(), Example: "[{name: RMS@4, key: rms, unit: W}]", Help: "the columns, one item each"}

var mappingSchema = document.NewSchema("a mapping", []mappingField{
	{Spec: document.Spec{Key: "kind", Shape: document.Word, Words: kindWords, Help: "the kind of all parts in the list"},
		Set: func(m *Mapping, v *document.Value) { k := catalog.Kind(v.Word); m.Kind = &k }},
	{Spec: document.Spec{Key: "currency", Shape: document.Text, Example: "USD", Help: "of prices that name none"},
		Set: func(m *Mapping, v *document.Value) { m.Currency = strings.ToUpper(v.Text) }},
	{Spec: columnsSpec, Nested: func(r *document.Reader, m *Mapping, n *yaml.Node) {
		for _, n := range r.Items(n, &columnsSpec) {
			c := Mapped{where: r.Where(n)}
			if !mappedSchema.Decode(r, n, &c, nil) {
				continue
			}
			c.check(r, n)
			if first, again := m.find(c.Name); again {
				r.Twice(n, fmt.Sprintf("the column %q is mapped twice", c.Name), "keep one of the two", first.where)
			}
			m.Columns = append(m.Columns, c)
		}
	}},
})

// MappingSpecs lists the keys of a mapping file, for the reference.
func MappingSpecs() []document.Spec { return mappingSchema.Specs() }

// check reports what no kind of part could have.
func (c *Mapped) check(r *document.Reader, n *yaml.Node) {
	known := append(allKeys(), "kind")
	switch {
	case c.Ignore && c.Key != "":
		r.Complain(n, fmt.Sprintf("the column %q is ignored and has a key", c.Name), "remove one of the two")
	case !c.Ignore && c.Key == "":
		r.Complain(n, fmt.Sprintf("the column %q has no key", c.Name), "add key: and what it holds, or ignore: true")
	case c.Key != "" && !anyOf(c.Key, known...):
		detail := "the keys are those of \"loudfor help formats\""
		if near := units.Nearest(c.Key, known); near != "" {
			detail = fmt.Sprintf("did you mean %q?", near)
		}
		r.Complain(n, fmt.Sprintf("%q is not a key of any part", c.Key), detail)
	case c.Key != "ratings" && c.Mode+c.Load+c.Basis != "":
		r.Complain(n, "mode, load and basis belong to the key ratings", "write key: ratings, or remove them")
	}
}

func allKeys() (out []string) {
	for k := range specs() {
		for key := range specs()[k] {
			out = append(out, key)
		}
	}
	for piece := range whole() {
		out = append(out, piece)
	}
	return out
}

// ReadMapping reads the content of a mapping file.
func ReadMapping(name string, content []byte) (Mapping, *catalog.Report) {
	report := &catalog.Report{}
	file, problem := document.NewFile(name, content)
	if problem != nil {
		report.Add(*problem)
		return Mapping{}, report
	}
	var m Mapping
	r, root := document.Parse(file)
	if root != nil {
		mappingSchema.Decode(r, root, &m, nil)
	} else if !r.Failed() {
		report.Add(catalog.Problem{Summary: "the file is empty", Detail: "write the columns under the key columns", Where: catalog.Position{File: name}})
	}
	r.Tell(report)
	report.Sort(document.MostProblems)
	return m, report
}

// Mapping is what would read the list in the same way: to be kept, and mended
// by hand where a column was not understood.
func (l *List) Mapping(o Options) Mapping {
	m := Mapping{Currency: cmp.Or(o.Currency, o.Mapping.Currency)}
	if o.Kind < catalog.KindCount {
		k := o.Kind
		m.Kind = &k
	}
	seen := map[string]bool{}
	for _, s := range l.Sheets {
		if m.Kind == nil && len(s.Kinds) == 1 && len(l.Sheets) == 1 {
			m.Kind = &s.Kinds[0].Kind
		}
		for _, c := range s.Columns {
			if c.Name == "" || seen[tidied(c.Name)] || strings.Contains(c.Key, ",") {
				continue
			}
			seen[tidied(c.Name)] = true
			out := Mapped{Name: c.Name, Key: c.Key, Unit: c.Unit, Ignore: c.Key == ""}
			if r, ok := ratingColumn(c.Name); ok && strings.HasPrefix(c.Key, "ratings ") {
				if r.count != "" { // the name says more than a mapping does
					continue
				}
				out.Key, out.Unit, out.Mode, out.Load, out.Basis = "ratings", "", r.mode, r.load, r.basis
			}
			if had, ok := o.Mapping.find(c.Name); ok {
				out = had
			}
			m.Columns = append(m.Columns, out)
		}
	}
	return m
}

// Write writes the mapping as a file that ReadMapping reads.
func (m Mapping) Write(w io.Writer) error {
	none := grid.Cell{}
	root := mapping(none)
	text := func(into *yaml.Node, key, v string) {
		if v != "" {
			n := scalar(v, none)
			n.Tag = "!!str"
			put(into, key, n)
		}
	}
	if m.Kind != nil {
		text(root, "kind", m.Kind.String())
	}
	text(root, "currency", m.Currency)
	list := &yaml.Node{Kind: yaml.SequenceNode, Tag: "!!seq"}
	for _, c := range m.Columns {
		n := mapping(none)
		n.Style = yaml.FlowStyle
		text(n, "name", c.Name)
		text(n, "key", c.Key)
		text(n, "unit", c.Unit)
		text(n, "mode", c.Mode)
		text(n, "load", c.Load)
		text(n, "basis", c.Basis)
		if c.Ignore {
			put(n, "ignore", scalar("true", none))
		}
		list.Content = append(list.Content, n)
	}
	put(root, "columns", list)
	return encode(w, root)
}

func encode(w io.Writer, n *yaml.Node) error {
	e := yaml.NewEncoder(w)
	e.SetIndent(2)
	if err := e.Encode(n); err != nil {
		return err
	}
	return e.Close()
}
