package readings

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"strings"

	"go.yaml.in/yaml/v3"

	"loudfor/catalog/document"
)

// CSV becomes what YAML would have given: each row a mapping of the header's
// names to its cells, at the places where they stand in the file. From there
// on one table of keys reads both. The names are the keys, whatever the case,
// with spaces or with a unit in their end ("level_db", "Frequency (Hz)").

var separators = [...]rune{'\t', ';', ','}

// mostRows bounds a file.
const mostRows = 20_000

// isCSV tells by the first line that is no remark: its cells are names of
// columns, two of them at least.
func isCSV(f *document.File) bool {
	_, ok := header(f)
	return ok
}

// header finds the separator of a file whose first line names columns.
func header(f *document.File) (rune, bool) {
	for line := range bytes.Lines(f.LineFeeds()) {
		text := strings.TrimSpace(string(line))
		if text == "" || strings.HasPrefix(text, "#") {
			continue
		}
		for _, s := range separators {
			known := 0
			for _, cell := range strings.Split(text, string(s)) {
				if schema.Find(column(cell)) >= 0 {
					known++
				}
			}
			if known >= 2 {
				return s, true
			}
		}
		return 0, false
	}
	return 0, false
}

// endings are units that people put into the name of a column.
var endings = []string{"_hz", "_db", "_v", "_a", "_w"}

// column is the key that a name of a column means, or the name as written.
func column(cell string) string {
	name := strings.ToLower(strings.Trim(strings.TrimSpace(cell), `"`))
	name = strings.NewReplacer(" ", "_", "-", "_", "(", "", ")", "").Replace(name)
	if schema.Find(name) >= 0 {
		return name
	}
	for _, e := range endings {
		if short, ok := strings.CutSuffix(name, e); ok && schema.Find(short) >= 0 {
			return short
		}
	}
	if key, ok := everyday[name]; ok {
		return key
	}
	for _, e := range endings {
		if key, ok := everyday[strings.TrimSuffix(name, e)]; ok {
			return key
		}
	}
	return strings.TrimSpace(cell)
}

// everyday are headings as people write them who have read nothing.
var everyday = map[string]string{
	"freq": "frequency", "hz": "frequency", "f": "frequency", "tone": "frequency",
	"db": "level", "spl": "level", "dbspl": "level", "db_spl": "level", "spl_db": "level", "meter": "level", "reading": "level",
	"volts": "clamp_voltage", "volt": "clamp_voltage", "voltage": "clamp_voltage", "v": "clamp_voltage", "vac": "clamp_voltage", "output_volts": "clamp_voltage",
	"amps": "clamp_current", "amp": "clamp_current", "amperes": "clamp_current", "current": "clamp_current", "a": "clamp_current", "output_amps": "clamp_current",
	"watts": "power", "watt": "power", "w": "power", "real_power": "power",
	"battery": "supply_voltage", "supply": "supply_voltage", "supply_volts": "supply_voltage", "battery_volts": "supply_voltage", "vdc": "supply_voltage",
	"car": "vehicle", "position": "place", "where": "place", "mic": "place", "open": "openings", "opening": "openings", "windows": "openings",
	"day": "date", "when": "date", "notes": "note", "remark": "note", "comment": "note", "parts": "build", "system": "build",
}

// readCSV reads all rows.
func (t *top) readCSV(r *document.Reader) {
	separator, _ := header(r.File)
	rows := csv.NewReader(bytes.NewReader(r.File.LineFeeds()))
	rows.Comma, rows.Comment, rows.FieldsPerRecord, rows.TrimLeadingSpace = separator, '#', -1, true
	var names []*yaml.Node
	list := &yaml.Node{Kind: yaml.SequenceNode, Line: 1, Column: 1}
	for len(list.Content) <= mostRows {
		cells, err := rows.Read()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			broken(r, err)
			break
		}
		nodes := make([]*yaml.Node, len(cells))
		blank := true
		for i, cell := range cells {
			line, col := rows.FieldPos(i)
			nodes[i] = &yaml.Node{Kind: yaml.ScalarNode, Tag: "!!str", Value: strings.TrimSpace(cell), Line: line, Column: r.File.Character(line, col)}
			blank = blank && nodes[i].Value == ""
		}
		switch {
		case blank:
		case names == nil:
			for _, n := range nodes {
				n.Value = column(n.Value)
			}
			names = nodes
		default:
			list.Content = append(list.Content, row(r, names, nodes))
		}
	}
	if len(list.Content) > mostRows {
		r.Complain(list.Content[mostRows], fmt.Sprintf("more than %d readings", mostRows), "split the file")
		return
	}
	r.RefuseHidden(list)
	t.items(r, list)
}

// row is one reading as a mapping; empty cells are not stated.
func row(r *document.Reader, names, cells []*yaml.Node) *yaml.Node {
	n := &yaml.Node{Kind: yaml.MappingNode, Line: cells[0].Line, Column: cells[0].Column}
	for i, cell := range cells {
		switch {
		case cell.Value == "":
		case i >= len(names):
			r.Complain(cell, "the row has more values than there are columns", "put a value that holds the separator in double quotes")
			return n
		default:
			key := *names[i]
			if schema.Find(key.Value) >= 0 {
				key.Line, key.Column = cell.Line, cell.Column
			}
			n.Content = append(n.Content, &key, cell)
		}
	}
	return n
}

// broken reports a line that is no CSV.
func broken(r *document.Reader, err error) {
	var e *csv.ParseError
	n := &yaml.Node{Kind: yaml.MappingNode}
	what := err.Error()
	if errors.As(err, &e) {
		line := min(e.Line, r.File.Lines())
		n.Line, n.Column, what = line, r.File.Character(line, e.Column), e.Err.Error()
	}
	r.Complain(n, "the line is not CSV: "+what, "close each quote, and double each quote inside a quoted value")
}
