package catalog

import (
	"loudfor/catalog/document"
	"loudfor/catalog/units"
)

// JSON Schemas of the files, made from the tables that the files are read
// with, so that an editor completes and checks exactly what the reader knows.

// FileSchema is the schema (draft 2020-12) of one kind of file. It accepts every file
// that the reader accepts; the reader also knows ranges in any unit, keys that exclude
// each other, and what concerns several parts.
type FileSchema struct {
	Name, Title string
	Object      func() map[string]any
}

// FileSchemas are those of this package; the package schemas knows the others too.
func FileSchemas() []FileSchema {
	keys := func(of func() []spec) func() map[string]any {
		return func() map[string]any { return document.Object(of()) }
	}
	return []FileSchema{
		{"parts", "A catalogue of parts, and deals", partsJSON},
		{"vehicles", "Cars", keys(vehiclesSchema.Specs)},
		{"brief", "What one customer wants", keys(briefSchema.Specs)},
		{"build", "A build to predict", keys(buildSchema.Specs)},
	}
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
