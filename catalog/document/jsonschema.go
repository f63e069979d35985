package document

import (
	"bytes"
	"encoding/json"

	"loudfor/catalog/units"
)

// A table of keys as a JSON Schema (draft 2020-12), so that editors complete
// keys and check values while a file is typed. It is made from the very specs
// that the reader uses. A schema can say less than the reader (a range in the
// unit that somebody chose, keys that exclude each other), so it accepts all
// that the reader accepts and refuses most of what the reader refuses: unknown
// and missing keys, words that are not in the list, values without a unit or
// with one of another quantity.

// schemaDialect is the version of JSON Schema that is written.
const schemaDialect = "https://json-schema.org/draft/2020-12/schema"

// SchemaText is the text of the schema of a file that is such an object.
func SchemaText(title string, object map[string]any) ([]byte, error) {
	object["$schema"], object["title"] = schemaDialect, title
	var text bytes.Buffer
	e := json.NewEncoder(&text)
	e.SetEscapeHTML(false)
	e.SetIndent("", "  ")
	err := e.Encode(object)
	return text.Bytes(), err
}

// JSON is the schema of the value of a key.
func (s *Spec) JSON() map[string]any {
	out := s.form()
	if s.Else != nil {
		other := s.Else.form()
		out = map[string]any{"anyOf": []any{out, other}}
	}
	if s.None != 0 {
		out = map[string]any{"anyOf": []any{out, pattern(units.WordPattern([]string{s.free()}))}}
	}
	if s.Help != "" {
		out["description"] = s.described()
	}
	if s.Example != "" && (s.Shape <= Wire) {
		out["examples"] = []any{s.Example}
	}
	return out
}

// described is the help with what an editor cannot show otherwise.
func (s *Spec) described() string {
	text := s.Help + " (" + s.Expected()
	if s.Range != "" && s.Shape != Price {
		text += "; " + s.Range
	}
	if s.Default != "" {
		text += "; default " + s.Default
	}
	return text + ")"
}

func (s *Spec) form() map[string]any {
	switch s.Shape {
	case Text:
		return text()
	case Word:
		return map[string]any{"anyOf": []any{map[string]any{"enum": s.Words}, pattern(units.WordPattern(s.Words))}}
	case Flag:
		return map[string]any{"anyOf": []any{map[string]any{"type": "boolean"}, pattern(units.WordPattern([]string{"true", "yes", "on", "false", "no", "off"}))}}
	case Whole:
		return map[string]any{"anyOf": []any{s.bounded("integer"), pattern(units.WholePattern())}}
	case Quantity:
		if s.Dim == units.Number || s.Dim == units.Admittance {
			return map[string]any{"anyOf": []any{s.bounded("number"), pattern(s.Dim.Pattern())}}
		}
		return pattern(s.Dim.Pattern())
	case Named:
		return map[string]any{"anyOf": []any{s.bounded("number"), pattern(s.Dim.NamedPattern())}}
	case Times, Sum:
		return pattern(s.Dim.TimesPattern())
	case Oval:
		return pattern(units.OvalPattern())
	case Size, Point:
		return pattern(units.LengthsPattern(3))
	case Pair:
		return pattern(units.LengthsPattern(2))
	case Price:
		return pattern(units.PricePattern())
	case Percent:
		return pattern(units.Ratio.Pattern())
	case Wire:
		return pattern(units.WirePattern())
	case Texts:
		return map[string]any{"anyOf": []any{text(), map[string]any{"type": "array", "items": text()}}}
	case Group:
		return Object(s.Sub)
	case Groups:
		return map[string]any{"type": "array", "items": Object(s.Sub)}
	}
	return s.table()
}

// table is a mapping with the user's own names, or with those of Words.
func (s *Spec) table() map[string]any {
	each := map[string]any{"type": "array", "items": Object(s.Sub)}
	if s.Each != nil {
		each = s.Each.JSON()
	}
	out := map[string]any{"type": "object", "additionalProperties": each}
	if len(s.Words) > 0 {
		out["propertyNames"] = map[string]any{"anyOf": []any{map[string]any{"enum": s.Words}, pattern(units.WordPattern(s.Words))}}
	}
	return out
}

// Object is the schema of a mapping with the keys of a table and no others.
func Object(specs []Spec) map[string]any {
	out := Properties(specs)
	out["additionalProperties"] = false
	return out
}

// Properties is the same, open for further keys.
func Properties(specs []Spec) map[string]any {
	properties := map[string]any{}
	var required []string
	for i := range specs {
		properties[specs[i].Key] = specs[i].JSON()
		if specs[i].Required {
			required = append(required, specs[i].Key)
		}
	}
	out := map[string]any{"type": "object", "properties": properties}
	if required != nil {
		out["required"] = required
	}
	return out
}

// text takes what YAML makes of an unquoted name: TM-12 is a text, 1200 is not.
func text() map[string]any {
	return map[string]any{"type": []string{"string", "number", "boolean"}, "minLength": 1, "maxLength": LongestText}
}

func pattern(p string) map[string]any {
	return map[string]any{"type": "string", "pattern": `^\s*(?:` + p + `)\s*$`}
}

// bounded is a number within the range of the key.
func (s *Spec) bounded(kind string) map[string]any {
	out := map[string]any{"type": kind}
	if s.Range == "" {
		return out
	}
	prepared := *s
	prepared.prepare()
	out["minimum"], out["maximum"] = prepared.least, prepared.most
	if prepared.over {
		delete(out, "minimum")
		out["exclusiveMinimum"] = prepared.least
	}
	return out
}
