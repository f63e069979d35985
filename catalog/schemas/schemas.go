// Package schemas knows the JSON Schema of every kind of file: those of the
// package catalog, and those of the packages above it, which catalog cannot
// import.
//
//	text, err := schemas.JSON("readings")
//
// Limits: only files in YAML have one. Of a CSV file its header says what the
// columns are; the answers of --json are described by "loudfor help json".
package schemas

import (
	"fmt"

	"loudfor/catalog"
	"loudfor/catalog/document"
	"loudfor/catalog/letterhead"
	"loudfor/catalog/plan"
	"loudfor/catalog/readings"
	"loudfor/catalog/tables"
)

var all = append(catalog.FileSchemas(),
	catalog.FileSchema{Name: "mapping", Title: "What the columns of a shop's list are for", Object: func() map[string]any { return document.Object(tables.MappingSpecs()) }},
	catalog.FileSchema{Name: "plan", Title: "What a chain asks of all its shops", Object: func() map[string]any { return document.Object(plan.Reference()) }},
	catalog.FileSchema{Name: "readings", Title: "What a level meter showed", Object: func() map[string]any { return document.Object(readings.Reference()) }},
	catalog.FileSchema{Name: "shop", Title: "A shop's own settings", Object: func() map[string]any { return document.Object(letterhead.Reference()) }},
)

// Names lists the kinds of file.
func Names() (out []string) {
	for _, f := range all {
		out = append(out, f.Name)
	}
	return out
}

// JSON gives the JSON Schema (draft 2020-12) of a kind of file. It accepts every
// file that the reader accepts.
func JSON(name string) ([]byte, error) {
	for _, f := range all {
		if f.Name == name {
			return document.SchemaText(f.Title, f.Object())
		}
	}
	return nil, fmt.Errorf("there is no kind of file %q", name)
}
