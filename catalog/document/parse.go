package document

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"strconv"
	"strings"

	"go.yaml.in/yaml/v3"

	"loudfor/catalog/report"
)

// Parse reads the one document of a file. The root is nil when the file is
// empty or cannot be parsed; the reader then holds the problem. An empty file
// gives a nil root and no problem: the caller knows what is missing.
func Parse(f *File) (*Reader, *yaml.Node) {
	r := &Reader{File: f}
	root, _ := r.parse(f.Text, 0)
	return r, root
}

// parse reads text, a part of the file, whose line 1 is line 1+shift of it.
func (r *Reader) parse(text []byte, shift int) (root *yaml.Node, ok bool) {
	r.shift = shift
	defer func() {
		// The YAML library turns its own failures into errors; anything else
		// would be a mistake of the library that the user cannot mend, but he
		// can be told which file brings it about.
		if p := recover(); p != nil {
			r.Add(*whole(r.File.Name, "the file upsets the YAML reader", fmt.Sprint("write it more simply: ", p)))
			root, ok = nil, false
		}
	}()
	d := yaml.NewDecoder(bytes.NewReader(text))
	var doc yaml.Node
	switch err := d.Decode(&doc); {
	case errors.Is(err, io.EOF):
		return nil, true
	case err != nil:
		r.Add(r.syntax(err))
		return nil, false
	}
	var second yaml.Node
	switch err := d.Decode(&second); {
	case errors.Is(err, io.EOF):
	case err != nil:
		r.Add(r.syntax(err))
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
	if bytes.IndexByte(text, '&') >= 0 && !r.checkAliases(root) {
		return nil, false
	}
	return root, true
}

// mends says in the user's words what the YAML library's messages mean.
var mends = []struct{ message, summary, detail string }{
	{"mapping values are not allowed", "a colon stands where no key can be", "put quotes around a text that contains \": \", and indent keys that belong together alike"},
	{"did not find expected key", "the indentation does not fit, or a quote or bracket is not closed", "indent the keys of one entry alike, with spaces"},
	{"did not find expected '-' indicator", "the indentation of a list does not fit", "indent the items of a list alike, each starting with \"- \""},
	{"did not find expected ',' or", "a bracket or brace is not closed, or a comma is missing", "close it with ] or }, with commas between the entries"},
	{"found unexpected end of stream", "a quote is not closed", "close the quoted text with the same quote"},
	{"could not find expected ':'", "a line has no colon after its key", "write key: value"},
	{"found character that cannot start any token", "a value starts with a character that has a meaning in YAML", "put the value in quotes"},
	{"found unknown escape character", "an unknown escape in double quotes", "double the backslash, or use single quotes"},
	{"did not find expected alphabetic", "a * or & starts a value", "put the value in quotes"},
	{"block sequence entries are not allowed", "a list item stands where none can be", "put the list on the lines below its key"},
	{"did not find expected <document start>", "the text after the first entry fits nowhere", "indent it alike, with spaces, or remove it"},
	{"control characters are not allowed", "the file holds control characters", "remove them"},
	{"exceeded max depth", "the file is nested too deeply", "nest no deeper than the keys of a part need"},
}

// syntax turns an error of the YAML library, which knows a line at best, into
// a problem with a column.
func (r *Reader) syntax(err error) report.Problem {
	message := strings.TrimPrefix(err.Error(), "yaml: ")
	line := 0
	if rest, ok := strings.CutPrefix(message, "line "); ok {
		if number, text, ok := strings.Cut(rest, ": "); ok {
			line, _ = strconv.Atoi(number)
			message = text
		}
	}
	p := report.Problem{Summary: "the file is not valid YAML: " + message, Detail: "mend the line, or the one before it"}
	for _, m := range mends {
		if strings.Contains(message, m.message) {
			p.Summary, p.Detail = m.summary, m.detail
		}
	}
	p.Where = report.Position{File: r.File.Name}
	if name, ok := strings.CutPrefix(message, "unknown anchor '"); ok {
		name, _, _ = strings.Cut(name, "'")
		p.Summary, p.Detail = "the alias *"+name+" has no anchor &"+name+" before it", "define &"+name+" above, or put the value in quotes"
		if i := bytes.Index(r.File.Text, []byte("*"+name)); i >= 0 {
			p.Where = r.File.at(i)
			p.Text, p.Context, p.Length = "*"+name, r.File.Line(p.Where.Line), len([]rune(name))+1
			return p
		}
	}
	if line == 0 {
		line = 1
	}
	line = min(line+r.shift, r.File.Lines())
	// A tab in the indentation is the usual reason, on the line itself or one
	// beside it, and the message of the library does not tell.
	for _, n := range [...]int{line, line + 1, line - 1} {
		text := r.File.Line(n)
		indent := text[:len(text)-len(strings.TrimLeft(text, " \t"))]
		if i := strings.IndexByte(indent, '\t'); i >= 0 && strings.TrimSpace(text) != "" {
			p.Summary, p.Detail = "a tab in the indentation", "indent with spaces: YAML allows no tabs there"
			p.Where.Line, p.Where.Column, p.Context = n, i+1, text
			p.Length, p.Text = len(indent)-i, "\t"
			return p
		}
	}
	text := r.File.Line(line)
	p.Where.Line, p.Context = line, text
	p.Where.Column = 1 + len(text) - len(strings.TrimLeft(text, " "))
	p.Text = strings.TrimSpace(text)
	p.Length = len([]rune(p.Text))
	return p
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
