package tables

import (
	"archive/zip"
	"bytes"
	"encoding/csv"
	"fmt"
	"io"
	"slices"
	"strings"

	"github.com/xuri/excelize/v2"
	"go.yaml.in/yaml/v3"

	"loudfor/catalog"
)

// A catalogue as a table: a column for each key that any part states, its name
// the key itself, the values as files have them, units included. So nothing is
// lost, and Read needs no mapping. What a cell cannot hold is found before
// anything is written: see held.go.

// sheetOf is one table before it is written.
type sheetOf struct {
	name   string
	header []string
	rows   [][]string
}

// WriteCSV writes a catalogue as one table, parts of all kinds, the deals and
// the stores one below the other; the column kind tells them apart.
func WriteCSV(w io.Writer, c *catalog.Catalogue) error {
	sheets, err := tabulate(c, inCSV)
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

// WriteXLSX writes a catalogue as a workbook with a sheet for each kind, one for
// the deals and one for the stores.
func WriteXLSX(w io.Writer, c *catalog.Catalogue) error {
	sheets, err := tabulate(c, inWorkbook)
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
	var book bytes.Buffer
	if err := f.Write(&book); err != nil {
		return err
	}
	return inOrder(w, book.Bytes())
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

// tabulate makes the tables, one for each kind that has parts, then the deals
// and the stores; fits says why the file that they are for cannot hold a text.
func tabulate(c *catalog.Catalogue, fits func(string) error) ([]sheetOf, error) {
	var text bytes.Buffer
	if err := catalog.WriteParts(&text, c); err != nil {
		return nil, err
	}
	var root struct{ Parts, Deals, Stores []yaml.Node }
	if err := yaml.Unmarshal(text.Bytes(), &root); err != nil {
		return nil, err
	}
	var rows [rowSorts][]*yaml.Node
	for i := range root.Parts {
		k, _ := catalog.KindNamed(lookup(&root.Parts[i], "kind").Value)
		rows[k] = append(rows[k], &root.Parts[i])
	}
	for i := range root.Deals {
		rows[dealRow] = append(rows[dealRow], &root.Deals[i])
	}
	for i := range root.Stores {
		rows[storeRow] = append(rows[storeRow], &root.Stores[i])
	}
	var out []sheetOf
	for k, items := range rows {
		if len(items) == 0 {
			continue
		}
		s, err := table(catalog.Kind(k), items, fits)
		if err != nil {
			return nil, err
		}
		out = append(out, s)
	}
	return out, nil
}

// table lays rows of one sort out under the keys that any of them states.
func table(k catalog.Kind, items []*yaml.Node, fits func(string) error) (sheetOf, error) {
	s := sheetOf{name: k.String()}
	flat := make([]map[string]string, len(items))
	// By its trips a list of stores is known; one without is a list of names.
	used := map[string]bool{"trip": true}
	for i, n := range items {
		flat[i] = map[string]string{}
		var wrong error
		each(n, "", func(key string, v *yaml.Node) {
			flat[i][key] = cellText(key, v)
			used[key] = true
			if err := held(k, key, v, flat[i][key], fits); err != nil && wrong == nil {
				wrong = fmt.Errorf("%s cannot be written to a table: %s: %w", itemName(k, n), key, err)
			}
		})
		if wrong != nil {
			return s, wrong
		}
	}
	for _, spec := range pathSpecs()[k] {
		if used[spec.Path] {
			s.header = append(s.header, spec.Path)
		}
	}
	if k >= catalog.KindCount { // which do not state their kind
		s.name = sortWords[k-dealRow] + "s"
		s.header = append(s.header, "kind")
		for i := range flat {
			flat[i]["kind"] = sortWords[k-dealRow]
		}
	}
	for _, values := range flat {
		row := make([]string, len(s.header))
		for i, key := range s.header {
			row[i] = values[key]
		}
		s.rows = append(s.rows, row)
	}
	return s, nil
}

// itemName names a part, a deal or a store, for messages.
func itemName(k catalog.Kind, n *yaml.Node) string {
	if k < catalog.KindCount {
		return fmt.Sprintf("the part %q", lookup(n, "sku").Value)
	}
	return fmt.Sprintf("the %s %q", sortWords[k-dealRow], lookup(n, "name").Value)
}

// each calls with the values of a mapping and their paths.
func each(n *yaml.Node, group string, value func(path string, v *yaml.Node)) {
	for i := 0; i+1 < len(n.Content); i += 2 {
		path, v := group+n.Content[i].Value, n.Content[i+1]
		if v.Kind == yaml.MappingNode {
			each(v, path+".", value)
			continue
		}
		value(path, v)
	}
}

// cellText is a value as it stands in a cell.
func cellText(key string, v *yaml.Node) string {
	if v.Kind != yaml.SequenceNode {
		return v.Value
	}
	texts := make([]string, len(v.Content))
	for i, item := range v.Content {
		texts[i] = item.Value
		if item.Kind == yaml.MappingNode {
			texts[i] = lists[key].write(item)
		}
	}
	return strings.Join(texts, between+" ")
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

// inOrder writes a workbook with the files inside it in the order of their names:
// the library lays them down in another order each time.
func inOrder(w io.Writer, book []byte) error {
	in, err := zip.NewReader(bytes.NewReader(book), int64(len(book)))
	if err != nil {
		return err
	}
	slices.SortFunc(in.File, func(a, b *zip.File) int { return strings.Compare(a.Name, b.Name) })
	out := zip.NewWriter(w)
	for _, f := range in.File {
		if err := out.Copy(f); err != nil {
			return err
		}
	}
	return out.Close()
}
