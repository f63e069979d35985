package tables

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"go.yaml.in/yaml/v3"

	"loudfor/catalog"
	"loudfor/catalog/document"
	"loudfor/catalog/expression"
	"loudfor/catalog/grid"
	"loudfor/catalog/trade"
)

// A row becomes the mapping that a YAML file would hold, keys in the order of
// the files, each value at the place of its cell.

// value is what a row says of one key.
type value struct {
	text string
	cell grid.Cell
	node *yaml.Node // of a list of mappings
}

// reading is what a row says, read as some kind of part.
type reading struct {
	kind     catalog.Kind
	item     *yaml.Node
	problems []catalog.Problem
	used     []int           // columns of which a value was taken
	told     catalog.Problem // what was taken from words; no summary: nothing
}

// item makes the mapping of a row; none for a row without a value in a column
// that is read.
func (p *plan) item(row []grid.Cell, kind catalog.Kind, word grid.Cell) (out reading) {
	say := func(severity catalog.Severity, c grid.Cell, summary, detail string) {
		problem := grid.Problem(severity, c, p.sheet.Line, summary, detail)
		problem.Heading = p.heading(row, c)
		out.problems = append(out.problems, problem)
	}
	out.kind = kind
	bad := func(c grid.Cell, summary, detail string) { say(catalog.Error, c, summary, detail) }
	columns := p.of(kind)
	p.code = ""
	if p.currencyAt >= 0 && p.currencyAt < len(row) {
		p.code = currencyOf(strings.ToLower(row[p.currencyAt].Shown()), "")
	}
	channels, says := 0, grid.Cell{}
	if kind == catalog.KindAmplifier || kind == catalog.KindConverter {
		channels, says = p.channels(row, columns)
	}
	values := map[string]value{}
	items := map[string][]*yaml.Node{} // of the lists
	for i, c := range row {
		if c.Empty() {
			continue
		}
		if i >= len(columns) {
			if c.Sort == grid.Untyped {
				bad(c, fmt.Sprintf("the row has %d values, but the header names %d columns", len(row), len(p.names)),
					"put a value that holds the separator, such as 39,90, in double quotes")
				break
			}
			continue
		}
		col := columns[i]
		if i == p.kindAt || col.key == "" || blank(c, specOf(kind, col.key)) {
			continue
		}
		count, one := "", c
		if m := counting().FindStringSubmatch(c.Text); m != nil && col.rating != nil {
			count, one.Text = m[1], m[2]
		}
		text, lost, remedy := p.read(one, i, col, kind)
		switch {
		case remedy != "":
			bad(c, fmt.Sprintf("%q cannot be read as %s", c.Shown(), col.key), remedy)
			continue
		case lost != "":
			say(catalog.Warning, c, fmt.Sprintf("%q is not taken as %s", c.Shown(), col.key), lost)
			continue
		}
		if col.key == "price" && free().MatchString(text) {
			say(catalog.Warning, c, "the part costs nothing", "clear the cell if it has no price")
		}
		out.used = append(out.used, i)
		if p.sample[i] == "" {
			p.sample[i] = text
		}
		if col.rating != nil {
			r := *col.rating
			if r.count = cmp.Or(r.count, count); r.count != "" {
				mode, err := modeOf(r.mode, r.count, channels)
				if err != nil {
					bad(c, err.Error(), "name the column by the mode and the load, such as RMS @ 4 ohm bridged")
					continue
				}
				r.mode = mode
			}
			items["ratings"] = append(items["ratings"], r.node(text, c, alone(channels)))
			continue
		}
		if l, ok := listOf(specOf(kind, col.key)); ok {
			read, err := l.read(text, c, func(price string) string { return p.price(price, i, col.unit) })
			if err != nil && col.key == "ratings" {
				read, err = loads(text, c, channels)
			}
			if err != nil {
				bad(c, err.Error(), "write each as "+l.form)
			}
			items[col.key] = append(items[col.key], read...)
			continue
		}
		if first, again := values[col.key]; again {
			if first.text != text && specOf(kind, col.key).Shape != document.Text {
				bad(c, fmt.Sprintf("a second value for %s: %s beside %s", col.key, text, first.text), "say in a mapping which of the two columns is meant")
			}
			continue
		}
		values[col.key] = value{text: text, cell: c}
	}
	for key, nodes := range items {
		if len(nodes) > 0 {
			values[key] = value{node: &yaml.Node{Kind: yaml.SequenceNode, Tag: "!!seq", Line: nodes[0].Line, Column: nodes[0].Column, Content: nodes}}
		}
	}
	if len(values) == 0 && len(out.problems) == 0 {
		return out
	}
	p.join(values)
	found, at := p.describe(row, kind, values)
	if _, ok := values["channels"]; !ok && channels > 0 {
		values["channels"], found, at = value{text: strconv.Itoa(channels), cell: says}, append(found, "channels"), says
	}
	if len(found) > 0 {
		out.told = grid.Problem(catalog.Info, at, p.sheet.Line, strings.Join(found, ", ")+" taken from the words of the row, since no column states it", "see that it is right; a column of its own goes before them")
	}
	p.complete(row, kind, values)
	out.item = p.mapping(row, kind, word, values)
	return out
}

// free is a price of nothing, which often stands for one that is not known.
var free = expression.Late(`^0+(?:[.,]0*)?(?: \pL+)?$`)

// counting is a count before a power.
var counting = expression.Late(`^\s*([1-8])\s*[x×]\s*(.+)$`)

// channels is how many an amplifier has by its row: a column's word, or else those
// of its name; 0: it does not say. at is the cell that says so.
func (p *plan) channels(row []grid.Cell, columns []column) (n int, at grid.Cell) {
	for i, col := range columns {
		if col.key == "channels" && i < len(row) && !row[i].Empty() {
			n, _ = strconv.Atoi(row[i].Shown())
			return n, row[i]
		}
	}
	for i, c := range row {
		if i < len(columns) && c.Sort != grid.Formula && c.Sort != grid.Number && anyOf(columns[i].key, "", "name", "kind") {
			if found := trade.Channels(c.Shown()); found > 0 && n > 0 && found != n {
				return 0, c
			} else if found > 0 {
				n, at = found, c
			}
		}
	}
	return n, at
}

// join makes one value of those that the list holds in pieces.
func (p *plan) join(values map[string]value) {
	for key, list := range pieces {
		var texts []string
		var at grid.Cell
		counted := false
		for _, piece := range list {
			v, ok := values[piece]
			if !ok {
				continue
			}
			if len(texts) == 0 {
				at = v.cell
			}
			texts = append(texts, v.text)
			counted = counted || strings.HasSuffix(piece, " count")
			delete(values, piece)
		}
		if len(texts) == 0 {
			continue
		}
		// A count beside a column with the value of one: "coils 2" and
		// "impedance 4 ohm".
		if own, ok := values[key]; ok {
			if !counted {
				continue
			}
			texts, at = append(texts[:1], own.text), own.cell
		}
		values[key] = value{text: strings.Join(texts, " x "), cell: at}
	}
}

// mapping puts the values in the order of the files, those of groups inside
// them.
func (p *plan) mapping(row []grid.Cell, kind catalog.Kind, word grid.Cell, values map[string]value) *yaml.Node {
	out := mapping(row[0])
	list := pathSpecs()[kind]
	if kind < catalog.KindCount {
		values["kind"] = value{text: kind.String(), cell: word}
	}
	groups := map[string]*yaml.Node{}
	for _, s := range list {
		v, ok := values[s.Path]
		if !ok {
			continue
		}
		into, key := out, s.Path
		if group, sub, nested := strings.Cut(s.Path, "."); nested {
			if groups[group] == nil {
				groups[group] = mapping(v.cell)
				put(out, group, groups[group])
			}
			into, key = groups[group], sub
		}
		switch {
		case v.node != nil:
			put(into, key, v.node)
		case s.Shape == document.Texts:
			put(into, key, texts(v))
		default:
			n := scalar(v.text, v.cell)
			if s.Shape == document.Text {
				n.Tag = "!!str"
			}
			put(into, key, n)
		}
	}
	return out
}

// texts is a list in one cell.
func texts(v value) *yaml.Node {
	out := &yaml.Node{Kind: yaml.SequenceNode, Tag: "!!seq", Style: yaml.FlowStyle, Line: v.cell.At.Line, Column: v.cell.At.Column}
	for _, item := range itemsOf(v.text) {
		n := scalar(item, v.cell)
		n.Tag = "!!str"
		out.Content = append(out.Content, n)
	}
	return out
}

func mapping(c grid.Cell) *yaml.Node {
	return &yaml.Node{Kind: yaml.MappingNode, Tag: "!!map", Line: c.At.Line, Column: c.At.Column}
}

func scalar(text string, c grid.Cell) *yaml.Node {
	return &yaml.Node{Kind: yaml.ScalarNode, Value: text, Line: c.At.Line, Column: c.At.Column}
}

func put(m *yaml.Node, key string, n *yaml.Node) {
	m.Content = append(m.Content, &yaml.Node{Kind: yaml.ScalarNode, Tag: "!!str", Value: key, Line: n.Line, Column: n.Column}, n)
}

// heading is the name of the column that a cell of a row stands in.
func (p *plan) heading(row []grid.Cell, c grid.Cell) string {
	for i := range min(len(row), len(p.names)) {
		if row[i].At == c.At {
			return p.names[i]
		}
	}
	return ""
}

// placed gives problems that the reader of parts found the place of their
// cells.
func (p *plan) placed(row []grid.Cell, found []catalog.Problem) []catalog.Problem {
	out := slices.Clone(found)
	for n := range out {
		f := &out[n]
		f.Where.Sheet = p.sheet.Name
		for _, c := range row {
			if c.At.Line == f.Where.Line && c.At.Column == f.Where.Column {
				shown := grid.Problem(f.Severity, c, p.sheet.Line, f.Summary, f.Detail)
				f.Context, f.Length = shown.Context, shown.Length
				if f.Text != "" {
					f.Text = c.Text
				}
				f.Heading = p.heading(row, c)
				switch {
				case f.Heading == "":
				case strings.HasSuffix(f.Summary, " has no unit"):
					f.Detail += fmt.Sprintf("; or state the unit of the whole column: --unit %q", f.Heading+"=...")
				case strings.HasSuffix(f.Summary, " names no currency"):
					f.Detail += "; or state the currency of the list: --currency USD"
				}
			}
		}
		if f.Related != nil {
			at := *f.Related
			at.Sheet = p.sheet.Name
			f.Related = &at
		}
	}
	return out
}
