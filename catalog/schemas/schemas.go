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
	"loudfor/catalog"
	"loudfor/catalog/document"
	"loudfor/catalog/readings"
	"loudfor/catalog/tables"
)

// others are the kinds of file that packages above catalog read.
var others = []struct {
	name, title string
	keys        func() []document.Spec
}{
	{"mapping", "What the columns of a shop's list are for", tables.MappingSpecs},
	{"readings", "What a level meter showed", readings.Reference},
}

// Names lists the kinds of file.
func Names() []string {
	out := catalog.SchemaNames()
	for _, f := range others {
		out = append(out, f.name)
	}
	return out
}

// JSON gives the JSON Schema (draft 2020-12) of a kind of file. It accepts every
// file that the reader accepts.
func JSON(name string) ([]byte, error) {
	for _, f := range others {
		if f.name == name {
			return document.SchemaText(f.title, document.Object(f.keys()))
		}
	}
	return catalog.JSONSchema(name)
}
