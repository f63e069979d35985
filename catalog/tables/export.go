package tables

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"io"
	"strings"

	"github.com/xuri/excelize/v2"
	"go.yaml.in/yaml/v3"

	"loudfor/catalog"
)

// A catalogue as a table: a column for each key that any part states, its name
// the key itself, the values as files have them, units included. So nothing is
// lost, and Read needs no mapping.

// sheetOf is one table before it is written.
type sheetOf struct {
	name   string
	header []string
	rows   [][]string
}

// WriteCSV writes a catalogue as one table, parts of all kinds and the deals
// one below the other; the column kind tells them apart.
func WriteCSV(w io.Writer, c *catalog.Catalogue) error {
	sheets, err := tabulate(c)
	if err != nil {
		return err
	}
	all := merged(sheets)
	out := csv.NewWriter(w)
	if err := out.Write(all.header); err != nil {
		return err
	}
	return out.WriteAll(all.rows)
}

// WriteXLSX writes a catalogue as a workbook with a sheet for each kind and one
// for the deals.
func WriteXLSX(w io.Writer, c *catalog.Catalogue) error {
	sheets, err := tabulate(c)
	if err != nil {
		return err
	}
	f := excelize.NewFile()
	defer f.Close()
	bold, err := f.NewStyle(&excelize.Style{Font: &excelize.Font{Bold: true}})
	if err != nil {
		return err
	}
	for i, s := range sheets {
		if i == 0 {
			err = f.SetSheetName("Sheet1", s.name)
		} else {
			_, err = f.NewSheet(s.name)
		}
		if err != nil {
			return err
		}
		if err := s.stream(f, bold); err != nil {
			return fmt.Errorf("the sheet %q: %w", s.name, err)
		}
	}
	return f.Write(w)
}

func (s sheetOf) stream(f *excelize.File, bold int) error {
	out, err := f.NewStreamWriter(s.name)
	if err != nil {
		return err
	}
	if err := out.SetPanes(&excelize.Panes{Freeze: true, YSplit: 1, TopLeftCell: "A2", ActivePane: "bottomLeft"}); err != nil {
		return err
	}
	line := func(n int, cells []string, options ...excelize.RowOpts) error {
		row := make([]any, len(cells))
		for i, c := range cells {
			if c != "" {
				row[i] = c
			}
		}
		return out.SetRow(fmt.Sprintf("A%d", n), row, options...)
	}
	if err := line(1, s.header, excelize.RowOpts{StyleID: bold}); err != nil {
		return err
	}
	for i, row := range s.rows {
		if err := line(i+2, row); err != nil {
			return err
		}
	}
	return out.Flush()
}

// tabulate makes the tables, one for each kind that has parts, the deals last.
func tabulate(c *catalog.Catalogue) ([]sheetOf, error) {
	var text bytes.Buffer
	if err := catalog.WriteParts(&text, c); err != nil {
		return nil, err
	}
	var root struct{ Parts, Deals []yaml.Node }
	if err := yaml.Unmarshal(text.Bytes(), &root); err != nil {
		return nil, err
	}
	byKind := map[string][]*yaml.Node{}
	for i := range root.Parts {
		kind := lookup(&root.Parts[i], "kind").Value
		byKind[kind] = append(byKind[kind], &root.Parts[i])
	}
	var out []sheetOf
	for k := range catalog.KindCount {
		if items := byKind[k.String()]; items != nil {
			out = append(out, table(k.String(), pathSpecs()[k], items, ""))
		}
	}
	if len(root.Deals) > 0 {
		items := make([]*yaml.Node, len(root.Deals))
		for i := range items {
			items[i] = &root.Deals[i]
		}
		out = append(out, table(catalog.DealWord+"s", pathSpecs()[catalog.KindCount], items, catalog.DealWord))
	}
	return out, nil
}

// table lays items out under the keys that any of them states; kind is the
// word of the column kind where the items do not state it.
func table(name string, specs []catalog.PathSpec, items []*yaml.Node, kind string) sheetOf {
	s := sheetOf{name: name}
	flat := make([]map[string]string, len(items))
	used := map[string]bool{}
	for i, n := range items {
		flat[i] = flattened(n)
		if kind != "" {
			flat[i]["kind"] = kind
		}
		for key := range flat[i] {
			used[key] = true
		}
	}
	for _, spec := range specs {
		if used[spec.Path] {
			s.header = append(s.header, spec.Path)
		}
	}
	if kind != "" {
		s.header = append(s.header, "kind")
	}
	for _, values := range flat {
		row := make([]string, len(s.header))
		for i, key := range s.header {
			row[i] = values[key]
		}
		s.rows = append(s.rows, row)
	}
	return s
}

// flattened gives the values of a mapping by their paths.
func flattened(n *yaml.Node) map[string]string {
	out := map[string]string{}
	for i := 0; i+1 < len(n.Content); i += 2 {
		key, v := n.Content[i].Value, n.Content[i+1]
		switch v.Kind {
		case yaml.MappingNode:
			for sub, text := range flattened(v) {
				out[key+"."+sub] = text
			}
		case yaml.SequenceNode:
			var items []string
			for _, item := range v.Content {
				items = append(items, itemText(item))
			}
			out[key] = strings.Join(items, "; ")
		default:
			out[key] = v.Value
		}
	}
	return out
}

// itemText is one item of a list in a cell: a text, or the values of a rating.
func itemText(n *yaml.Node) string {
	if n.Kind != yaml.MappingNode {
		return n.Value
	}
	var words []string
	for i := 1; i < len(n.Content); i += 2 {
		words = append(words, n.Content[i].Value)
	}
	return strings.Join(words, " ")
}

// merged puts several tables under one header, in the order in which the keys
// come up.
func merged(sheets []sheetOf) sheetOf {
	var all sheetOf
	at := map[string]int{}
	for _, s := range sheets {
		for _, key := range s.header {
			if _, have := at[key]; !have {
				at[key] = len(all.header)
				all.header = append(all.header, key)
			}
		}
	}
	for _, s := range sheets {
		for _, row := range s.rows {
			out := make([]string, len(all.header))
			for i, key := range s.header {
				out[at[key]] = row[i]
			}
			all.rows = append(all.rows, out)
		}
	}
	return all
}
