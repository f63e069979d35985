package catalog

import (
	"fmt"

	"loudfor/catalog/document"
	"loudfor/catalog/units"
)

// JSON Schemas of the files, made from the tables that the files are read
// with, so that an editor completes and checks exactly what the reader knows.

// fileSchema is one kind of file.
type fileSchema struct {
	name, title string
	make        func() map[string]any
}

var fileSchemas = []fileSchema{
	{"parts", "A catalogue of parts, and deals", partsJSON},
	{"vehicles", "Cars", func() map[string]any { return document.Object(vehiclesSchema.Specs()) }},
	{"brief", "What one customer wants", func() map[string]any { return document.Object(briefSchema.Specs()) }},
	{"build", "A build to predict", func() map[string]any { return document.Object(buildSchema.Specs()) }},
}

// SchemaNames lists the files that JSONSchema knows.
func SchemaNames() []string {
	out := make([]string, len(fileSchemas))
	for i, f := range fileSchemas {
		out[i] = f.name
	}
	return out
}

// JSONSchema gives the JSON Schema (draft 2020-12) of a kind of file: "parts",
// "vehicles", "brief" or "build" (the package schemas knows the others too). It
// accepts every file that the reader
// accepts; the reader also knows ranges in any unit, keys that exclude each
// other, and what concerns several parts.
func JSONSchema(name string) ([]byte, error) {
	for _, f := range fileSchemas {
		if f.name == name {
			return document.SchemaText(f.title, f.make())
		}
	}
	return nil, fmt.Errorf("there is no kind of file %q", name)
}

// partsJSON has a branch for each kind of part, since the kind decides which
// other keys there are.
func partsJSON() map[string]any {
	branches := make([]any, KindCount)
	for k := range KindCount {
		branches[k] = map[string]any{
			"if": map[string]any{"properties": map[string]any{"kind": map[string]any{
				"type": "string", "pattern": `^\s*(?:` + units.WordPattern([]string{k.String()}) + `)\s*$`}},
				"required": []string{"kind"}},
			"then": document.Properties(schemas[k].Specs()[len(common):]),
		}
	}
	part := document.Properties(schemas[0].Specs()[:len(common)])
	part["allOf"], part["unevaluatedProperties"] = branches, false
	out := document.Object(catalogueSchema.Specs())
	list := out["properties"].(map[string]any)["parts"].(map[string]any)
	list["items"] = part
	out["anyOf"] = []any{
		map[string]any{"required": []string{"parts"}},
		map[string]any{"required": []string{"deals"}},
	}
	return out
}
