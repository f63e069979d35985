package document

import (
	"bytes"
	"errors"
	"fmt"
	"io"

	"go.yaml.in/yaml/v3"

	"loudfor/catalog/report"
	"loudfor/catalog/units"
)

// Parse reads the one document of a file. The root is nil when the file is
// empty or cannot be parsed; the reader then holds the problem. An empty file
// gives a nil root and no problem: the caller knows what is missing.
func Parse(f *File) (*Reader, *yaml.Node) {
	r := &Reader{File: f}
	root, _ := r.parse(Entire(f))
	return r, root
}

// parse reads a piece of the file, whose line 1 is line 1+shift of it.
func (r *Reader) parse(p Piece) (root *yaml.Node, ok bool) {
	r.shift = p.shift
	defer func() {
		// The YAML library turns its own failures into errors; anything else
		// would be a mistake of the library that the user cannot mend, but he
		// can be told which file brings it about.
		if fault := recover(); fault != nil {
			r.Add(*whole(r.File.Name, "the file upsets the YAML reader", fmt.Sprint("write it more simply: ", fault)))
			root, ok = nil, false
		}
	}()
	d := yaml.NewDecoder(p.reader())
	var doc yaml.Node
	switch err := d.Decode(&doc); {
	case errors.Is(err, io.EOF):
		return nil, true
	case err != nil:
		r.Add(r.syntax(err, p.text()))
		return nil, false
	}
	var second yaml.Node
	switch err := d.Decode(&second); {
	case errors.Is(err, io.EOF):
	case err != nil:
		r.Add(r.syntax(err, p.text()))
		return nil, false
	default:
		r.Add(r.problem(report.Error, &second, "a second document starts here", "keep one document in a file: remove the line with ---, or make two files"))
		return nil, false
	}
	if doc.Kind != yaml.DocumentNode || len(doc.Content) != 1 {
		return nil, true
	}
	root = doc.Content[0]
	if root.Kind == yaml.ScalarNode && root.Tag == "!!null" {
		return nil, true
	}
	if bytes.IndexByte(p.body, '&') >= 0 && !r.checkAliases(root) {
		return nil, false
	}
	r.RefuseHidden(root)
	return root, true
}

// RefuseHidden adds an error for every text, key or value, that holds a
// character which acts on what is shown.
func (r *Reader) RefuseHidden(n *yaml.Node) {
	if n.Kind == yaml.ScalarNode {
		if start, end, summary, detail := report.Hidden(n.Value); summary != "" {
			r.Bad(n, &units.Error{Summary: summary, Remedy: detail, Start: start, End: end})
		}
	}
	for _, c := range n.Content {
		r.RefuseHidden(c)
	}
}

// mostExpanded is how many values the aliases of a file may stand for, all
// together. A hand-written file uses a few per part.
const mostExpanded = 200_000

// checkAliases refuses files in which a few aliases stand for a flood of
// values, and anchors that contain themselves.
func (r *Reader) checkAliases(root *yaml.Node) bool {
	size := map[*yaml.Node]int{}
	const busy = -1
	var cycle *yaml.Node
	var measure func(n *yaml.Node) int
	measure = func(n *yaml.Node) int {
		switch s := size[n]; {
		case s == busy:
			cycle = n
			return 1
		case s > 0:
			return s
		}
		size[n] = busy
		total := 1
		if n.Kind == yaml.AliasNode {
			total += measure(n.Alias)
		}
		for _, c := range n.Content {
			if total += measure(c); total > 1<<40 {
				total = 1 << 40
			}
		}
		size[n] = total
		return total
	}
	total := measure(root)
	if cycle != nil {
		r.Add(r.problem(report.Error, cycle, "the anchor &"+cycle.Anchor+" contains itself", "write the values out"))
		return false
	}
	if written := len(size); total-written > mostExpanded {
		r.Add(r.problem(report.Error, root, fmt.Sprintf("the aliases of this file stand for more than %d values", mostExpanded), "write the values out, or use fewer aliases"))
		return false
	}
	return true
}
