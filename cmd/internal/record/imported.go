package record

import (
	"loudfor/catalog"
	"loudfor/catalog/tables"
)

// ImportSchema is the name of the shape.
const ImportSchema = "loudfor/import/1"

// Import is the answer of "import".
type Import struct {
	Schema  string            `json:"schema"`
	File    string            `json:"file" doc:"the list"`
	Parts   int               `json:"parts" doc:"how many of them were read"`
	Deals   int               `json:"deals,omitempty" doc:"the same"`
	Stores  int               `json:"stores,omitempty" doc:"the same"`
	Sheets  []ImportedSheet   `json:"sheets" doc:"how the kind of the rows was found, and how each column was understood; without a key, why it is not read"`
	Unsure  int               `json:"unsure,omitempty" doc:"rows that were left out because they may be of any kind"`
	Skipped []catalog.Problem `json:"skipped,omitempty" doc:"with --skip-bad, what is wrong with the rows that were left out"`
	Changes []ImportedChange  `json:"changes,omitempty" doc:"with --into"`
	Added   []string          `json:"added,omitempty" doc:"SKUs that the file did not have"`
	Absent  []string          `json:"absent,omitempty" doc:"those that the list does not have"`
	Written string            `json:"written,omitempty" doc:"the file that was written; not there in a dry run"`
}

// ImportedSheet is one list of the file.
type ImportedSheet struct {
	Sheet    string           `json:"sheet,omitempty"`
	Encoding string           `json:"encoding,omitempty"`
	Rows     int              `json:"rows"`
	Kinds    []ImportedKind   `json:"kinds"`
	Columns  []ImportedColumn `json:"columns"`
}

// ImportedKind tells how the kind of some rows was found.
type ImportedKind struct {
	Kind string `json:"kind"`
	Rows int    `json:"rows"`
	Why  string `json:"why"`
}

// ImportedColumn is one column; either Key or Why is there.
type ImportedColumn struct {
	Name   string `json:"name"`
	Key    string `json:"key,omitempty"`
	Unit   string `json:"unit,omitempty"`
	Cells  int    `json:"cells"`
	Sample string `json:"sample,omitempty"`
	Why    string `json:"why,omitempty"`
}

// ImportedChange is one value that is another now.
type ImportedChange struct {
	SKU string `json:"sku"`
	Key string `json:"key"`
	Old string `json:"old,omitempty"`
	New string `json:"new"`
}

// OfImport makes the record; u is nil where no file was brought up to date.
func OfImport(list *tables.List, u *tables.Updated, written string) Import {
	out := Import{Schema: ImportSchema, File: list.Name, Parts: len(list.Parts), Deals: len(list.Deals), Stores: len(list.Stores), Unsure: list.Unsure, Skipped: list.Skipped, Written: written}
	for _, s := range list.Sheets {
		sheet := ImportedSheet{Sheet: s.Name, Encoding: s.Encoding, Rows: s.Rows, Kinds: []ImportedKind{}}
		for _, k := range s.Kinds {
			sheet.Kinds = append(sheet.Kinds, ImportedKind{Kind: k.Kind.String(), Rows: k.Rows, Why: k.Why})
		}
		for _, c := range s.Columns {
			sheet.Columns = append(sheet.Columns, ImportedColumn{Name: c.Name, Key: c.Key, Unit: c.Unit, Cells: c.Filled, Sample: c.Sample, Why: c.Why})
		}
		out.Sheets = append(out.Sheets, sheet)
	}
	if u != nil {
		out.Added, out.Absent = u.Added, u.Absent
		for _, c := range u.Changes {
			out.Changes = append(out.Changes, ImportedChange(c))
		}
	}
	return out
}
