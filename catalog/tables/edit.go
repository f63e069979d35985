package tables

import (
	"bytes"
	"cmp"
	"fmt"
	"slices"
	"strings"
	"unicode/utf8"

	"go.yaml.in/yaml/v3"

	"loudfor/catalog"
	"loudfor/catalog/document"
)

// editor collects edits of one text: each replaces some bytes by others.
type editor struct {
	file    *document.File
	edits   []edit
	refused []catalog.Problem
	out     *Updated
}

type edit struct {
	from, to int // bytes
	with     string
}

// part lays one part of the list over that of the file.
func (e *editor) part(sku string, old, n *yaml.Node) {
	kind, _ := catalog.KindNamed(lookup(n, "kind").Value)
	if was, ok := catalog.KindNamed(lookup(old, "kind").Value); ok && was != kind {
		e.refuse(lookup(old, "kind"), fmt.Sprintf("%s is %s in the list and %s in the file", sku, kind, was), "give one of the two another SKU")
		return
	}
	e.keys(sku, kind, "", old, n)
}

// keys lays the keys of a mapping over those of the file.
func (e *editor) keys(sku string, kind catalog.Kind, group string, old, n *yaml.Node) {
	for i := 0; i+1 < len(n.Content); i += 2 {
		key, want := n.Content[i].Value, n.Content[i+1]
		is := lookup(old, key)
		path := group + key
		switch {
		case is.Line == 0:
			if e.atDefault(kind, path, want) {
				continue
			}
			e.add(old, n, i)
			e.out.Changes = append(e.out.Changes, Change{SKU: sku, Key: path, New: strings.TrimSpace(oneLine(want))})
		case is.Kind == yaml.AliasNode:
			e.refuse(is, fmt.Sprintf("%s of %s is the alias of another value", path, sku), "write the value out")
		case want.Kind == yaml.MappingNode && is.Kind == yaml.MappingNode:
			e.keys(sku, kind, path+".", is, want)
		case want.Kind == yaml.SequenceNode && is.Kind == yaml.SequenceNode:
			e.items(sku, path, is, want)
		case want.Kind != yaml.ScalarNode || is.Kind != yaml.ScalarNode:
			e.refuse(is, fmt.Sprintf("%s of %s has another form in the list", path, sku), "mend it by hand")
		case !same(specOf(kind, path), want.Value, is.Value):
			e.replace(is, want)
			e.out.Changes = append(e.out.Changes, Change{SKU: sku, Key: path, Old: is.Value, New: want.Value})
		}
	}
}

// atDefault tells whether a value is what a missing key stands for.
func (e *editor) atDefault(kind catalog.Kind, path string, want *yaml.Node) bool {
	s := specOf(kind, path)
	return s.Default != "" && want.Kind == yaml.ScalarNode && same(s, want.Value, s.Default)
}

// items lays the items of a list over those about the same thing (a mode and a
// load, a shop), and adds the rest.
func (e *editor) items(sku, path string, old, n *yaml.Node) {
	l, ok := lists[path]
	if !ok {
		e.refuse(old, fmt.Sprintf("%s of %s is a list", path, sku), "mend it by hand")
		return
	}
	for _, want := range n.Content {
		at := slices.IndexFunc(old.Content, func(is *yaml.Node) bool { return l.same(want, document.Resolve(is)) })
		what := Change{SKU: sku, Key: path, New: l.write(want)}
		if at < 0 {
			e.addItem(old, want)
			e.out.Changes = append(e.out.Changes, what)
			continue
		}
		is, changed := old.Content[at], false
		for _, key := range l.values {
			was, now, spec := lookup(is, key), lookup(want, key), itemSpecs()[path][key]
			switch {
			case now.Line == 0 || same(spec, now.Value, cmp.Or(was.Value, spec.Default)):
				continue
			case was.Line == 0:
				e.add(is, want, keyAt(want, key))
			default:
				e.replace(was, now)
			}
			changed = true
		}
		if changed {
			what.Old = l.write(is)
			e.out.Changes = append(e.out.Changes, what)
		}
	}
}

// offset is the byte at which a node starts.
func (e *editor) offset(n *yaml.Node) int { return e.byteAt(n.Line, n.Column) }

func (e *editor) byteAt(line, column int) int {
	at := e.lineStart(line)
	for rest := e.file.Text[at:]; column > 1 && len(rest) > 0; column-- {
		_, w := utf8.DecodeRune(rest)
		rest, at = rest[w:], at+w
	}
	return at
}

func (e *editor) lineStart(line int) int {
	at := 0
	for ; line > 1; line-- {
		i := bytes.IndexByte(e.file.Text[at:], '\n')
		if i < 0 {
			return len(e.file.Text)
		}
		at += i + 1
	}
	return at
}

// replace puts a value in the place of another one, which stands on one line.
func (e *editor) replace(is, with *yaml.Node) {
	from := e.offset(is)
	line := e.file.Line(is.Line)
	before := string(e.file.Text[e.lineStart(is.Line):from])
	text := document.Scalar(strings.TrimPrefix(line, before), before)
	if is.Style&(yaml.LiteralStyle|yaml.FoldedStyle) != 0 || is.Style == 0 && text != is.Value {
		e.refuse(is, fmt.Sprintf("the value %q takes several lines", is.Value), "write it on one line")
		return
	}
	e.edits = append(e.edits, edit{from, from + len(text), strings.TrimSpace(oneLine(with))})
}

// add puts the key with the number i of n into the mapping of the file, behind
// the nearest one before it that stands on one line.
func (e *editor) add(old, n *yaml.Node, i int) {
	pair := &yaml.Node{Kind: yaml.MappingNode, Tag: "!!map", Style: yaml.FlowStyle, Content: n.Content[i : i+2]}
	text := strings.TrimSuffix(strings.TrimPrefix(oneLine(pair), "{"), "}")
	var after *yaml.Node
	for k := 0; k < i; k += 2 {
		if is := lookup(old, n.Content[k].Value); is.Line > 0 && is.Kind == yaml.ScalarNode {
			after = is
		}
	}
	if after == nil {
		e.refuse(old, fmt.Sprintf("there is no place for the key %q", n.Content[i].Value), "add it by hand: "+text)
		return
	}
	if old.Style&yaml.FlowStyle != 0 {
		line := e.file.Line(after.Line)
		from := e.offset(after)
		before := string(e.file.Text[e.lineStart(after.Line):from])
		end := from + len(document.Scalar(strings.TrimPrefix(line, before), before))
		e.edits = append(e.edits, edit{end, end, ", " + text})
		return
	}
	indent := strings.Repeat(" ", old.Content[0].Column-1)
	e.insertLine(after.Line, indent+text)
}

// addItem puts a further item behind the last one of a list.
func (e *editor) addItem(list, item *yaml.Node) {
	if len(list.Content) == 0 {
		e.refuse(list, "the list is empty", "add an item by hand")
		return
	}
	last := list.Content[len(list.Content)-1]
	if list.Style&yaml.FlowStyle != 0 {
		at, ok := e.closing(e.offset(last))
		if !ok {
			e.refuse(list, "the end of the list cannot be found", "write each item on a line of its own")
			return
		}
		e.edits = append(e.edits, edit{at, at, ", " + oneLine(item)})
		return
	}
	e.insertLine(lastLine(last), strings.Repeat(" ", max(last.Column-3, 0))+"- "+oneLine(item))
}

// lastLine is the last line of a node whose values stand on one line each.
func lastLine(n *yaml.Node) int {
	line := n.Line
	for _, c := range n.Content {
		line = max(line, lastLine(c))
	}
	return line
}

// closing finds the bracket that ends the list whose last item starts at a byte.
func (e *editor) closing(from int) (at int, ok bool) {
	depth, quote := 0, byte(0)
	for i := from; i < len(e.file.Text); i++ {
		switch c := e.file.Text[i]; {
		case quote != 0:
			if c == quote {
				quote = 0
			}
		case c == '"' || c == '\'':
			quote = c
		case c == '#':
			return 0, false
		case c == '[' || c == '{':
			depth++
		case c == ']' && depth == 0:
			return i, true
		case c == ']' || c == '}':
			depth--
		}
	}
	return 0, false
}

func (e *editor) insertLine(after int, text string) {
	at := e.lineStart(after + 1)
	if at == len(e.file.Text) && !bytes.HasSuffix(e.file.Text, []byte("\n")) {
		text = "\n" + text
	} else {
		text += "\n"
	}
	e.edits = append(e.edits, edit{at, at, text})
}

// append puts new parts behind the last one.
func (e *editor) append(list *yaml.Node, parts []*yaml.Node) {
	if len(parts) == 0 {
		return
	}
	slices.SortStableFunc(parts, func(a, b *yaml.Node) int { return strings.Compare(lookup(a, "sku").Value, lookup(b, "sku").Value) })
	var b bytes.Buffer
	if err := encode(&b, &yaml.Node{Kind: yaml.SequenceNode, Tag: "!!seq", Content: parts}); err != nil {
		e.refuse(list, "the new parts cannot be written: "+err.Error(), "write the list to a new file")
		return
	}
	indent := strings.Repeat(" ", max(list.Content[0].Column-3, 0))
	text := indent + strings.ReplaceAll(strings.TrimSuffix(b.String(), "\n"), "\n", "\n"+indent)
	e.insertLine(lastLine(list), text)
}

func (e *editor) refuse(n *yaml.Node, summary, detail string) {
	e.refused = append(e.refused, catalog.Problem{Summary: summary, Detail: detail,
		Where: catalog.Position{File: e.file.Name, Line: n.Line, Column: n.Column}, Context: e.file.Line(n.Line), Length: 1})
}

// apply carries the edits out. Those in one place stay in the order in which
// they were found, which is that of the keys.
func (e *editor) apply() []byte {
	slices.SortStableFunc(e.edits, func(a, b edit) int { return a.from - b.from })
	var out bytes.Buffer
	at := 0
	for _, d := range e.edits {
		out.Write(e.file.Text[at:d.from])
		out.WriteString(d.with)
		at = d.to
	}
	out.Write(e.file.Text[at:])
	return out.Bytes()
}
