package tables

import (
	"bytes"
	"fmt"
	"maps"
	"slices"
	"strings"

	"go.yaml.in/yaml/v3"

	"loudfor/catalog"
	"loudfor/catalog/document"
)

// A list can be laid over a file of parts that somebody keeps by hand. The file
// is edited as its owner would: only values that differ are replaced, in their
// places, keys that are missing are added in the order of the files, and new
// parts come at the end. Comments, blank lines, the order of things, and how a
// value was written ("12 in" for 0.3048 m) stay. What was written is read again
// and held against the list before anybody sees it.

// Updated is a file after the list was laid over it.
type Updated struct {
	Text    []byte
	Changes []Change
	Added   []string // SKUs that the file did not have
	Absent  []string // SKUs of the file that the list does not have; they stay
}

// Change is one value that is another now.
type Change struct {
	SKU, Key string
	Old, New string // Old is empty where the key was missing
}

// Update lays the list over the text of a file of parts. With an error in the
// report there is no result.
func (l *List) Update(name string, text []byte) (*Updated, *catalog.Report) {
	report := &catalog.Report{}
	file, problem := document.NewFile(name, text)
	if problem != nil {
		report.Add(*problem)
		return nil, report
	}
	r, root := document.Parse(file)
	if root == nil || r.Failed() {
		r.Tell(report)
		if root == nil && r.Count() == 0 {
			report.Add(catalog.Problem{Summary: "the file is empty", Detail: "write the list to a new file instead", Where: catalog.Position{File: name}})
		}
		return nil, report
	}
	if what := l.besideParts(); what != "" {
		report.Add(catalog.Problem{Summary: "the list holds " + what + ", which are not laid over a file", Detail: "write the list to a new file", Where: catalog.Position{File: l.Name}})
		return nil, report
	}
	items := r.Lookup(root, "parts")
	if items == nil || len(items.Content) == 0 || items.Style&yaml.FlowStyle != 0 {
		report.Add(catalog.Problem{Summary: "the file has no list of parts to add to", Detail: "write one part to a line, each with \"- \" before it, under parts:", Where: catalog.Position{File: name}})
		return nil, report
	}
	e, added := l.over(r, items.Content)
	report.Add(e.refused...)
	if report.Sort(0); report.Err() != nil {
		return nil, report
	}
	e.append(items, added)
	e.out.Text = e.apply()
	report.Merge(l.confirm(name, e.out.Text))
	if report.Err() != nil {
		return nil, report
	}
	return e.out, report
}

// over lays the list over the parts of a file, and gives those that it adds.
func (l *List) over(r *document.Reader, parts []*yaml.Node) (e *editor, added []*yaml.Node) {
	e = &editor{file: r.File, out: &Updated{}}
	have := map[string]*yaml.Node{}
	for _, n := range parts {
		if sku := lookup(document.Resolve(n), "sku"); sku.Value != "" {
			have[strings.TrimSpace(sku.Value)] = n
		}
	}
	absent := maps.Clone(have)
	for i, from := range l.rows.parts {
		sku, n := l.Parts[i].SKU, from.node()
		delete(absent, sku)
		switch old := have[sku]; {
		case old == nil:
			added = append(added, n)
			e.out.Added = append(e.out.Added, sku)
		case old.Kind != yaml.MappingNode:
			e.refused = append(e.refused, catalog.Problem{Summary: fmt.Sprintf("%s is the alias of another part", sku), Detail: "write its keys out", Where: r.Where(old), Text: sku})
		default:
			e.part(sku, old, n)
		}
	}
	e.out.Absent = slices.Sorted(maps.Keys(absent))
	return e, added
}

// confirm reads the new text, over which the list has to change nothing.
func (l *List) confirm(name string, text []byte) *catalog.Report {
	report := &catalog.Report{}
	file, problem := document.NewFile(name, text)
	if problem != nil {
		report.Add(*problem)
		return report
	}
	r, root := document.Parse(file)
	r.Tell(report)
	if root == nil || report.Err() != nil {
		return report
	}
	var parts []*yaml.Node
	if items := r.Lookup(root, "parts"); items != nil {
		parts = items.Content
	}
	e, _ := l.over(r, parts)
	report.Add(e.refused...)
	wrong := e.out.Added
	for _, c := range e.out.Changes {
		wrong = append(wrong, c.SKU)
	}
	for _, sku := range slices.Compact(wrong) {
		report.Add(catalog.Problem{Summary: fmt.Sprintf("%s cannot be brought up to date in place", sku), Detail: "mend its entry by hand, or write the list to a new file", Where: catalog.Position{File: name}, Text: sku})
	}
	return report
}

// same tells whether two texts are one value.
func same(s document.Spec, a, b string) bool {
	if a == b {
		return true
	}
	read := func(text string) (v document.Value, ok bool) {
		r := &document.Reader{File: &document.File{}}
		ok = r.Read(&yaml.Node{Kind: yaml.ScalarNode, Tag: "!!str", Value: text}, &s, &v)
		v.Node = nil
		if s.Shape != document.Text {
			v.Text = ""
		}
		return v, ok
	}
	va, oka := read(a)
	vb, okb := read(b)
	return oka && okb && va.Equal(&vb)
}

// oneLine writes a mapping or a value as it stands in braces, on one line.
func oneLine(n *yaml.Node) string {
	var b bytes.Buffer
	outer := &yaml.Node{Kind: yaml.SequenceNode, Tag: "!!seq", Style: yaml.FlowStyle, Content: []*yaml.Node{n}}
	if err := encode(&b, outer); err != nil {
		return ""
	}
	return strings.TrimSuffix(strings.TrimPrefix(strings.TrimSpace(b.String()), "["), "]")
}
