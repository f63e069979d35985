package catalog

import (
	"maps"
	"slices"
	"strings"

	"go.yaml.in/yaml/v3"

	"loudfor/catalog/document"
)

// A wish is a rule of a brief that is said on the command line. It is read by
// the table of the brief's keys, so that it means the same there and is refused
// in the same words.

// Wish is one key with its values; a list has several, anything else one.
type Wish struct {
	Key    string
	Flag   string // how messages name it
	Values []string
}

// wishable are the keys that may be wished for.
var wishable = []string{"owned", "must", "never", "space", "front", "tax"}

var wishSchema = document.NewSchema("a wish", slices.DeleteFunc(briefFields(false), func(f briefField) bool {
	return !slices.Contains(wishable, f.Key)
}))

// Wish lays wishes over a brief: parts come beside those that it names, anything
// else in place of what it says.
func (b *Brief) Wish(wishes ...Wish) *Report {
	report := &Report{}
	b.Keys = maps.Clone(b.Keys)
	if b.Keys == nil {
		b.Keys = map[string]Position{}
	}
	for _, w := range wishes {
		if len(w.Values) == 0 {
			continue
		}
		at := Position{File: w.Flag}
		var value any = w.Values
		switch w.Key {
		case "owned", "must", "never":
		case "tax":
			value = percent(w.Values[0])
		default:
			value = w.Values[0]
		}
		text, err := yaml.Marshal(map[string]any{w.Key: value})
		if err != nil {
			report.Add(Problem{Summary: err.Error(), Where: at})
			continue
		}
		f := BuildFile{Brief: Brief{Keys: map[string]Position{}}}
		r, root := document.Parse(&document.File{Name: w.Flag, Text: text})
		if root != nil {
			wishSchema.Decode(r, root, &f, nil)
		}
		found, _ := r.Problems()
		for _, p := range found { // a flag has no lines
			p.Where, p.Context, p.Length, p.Related = at, "", 0, nil
			report.Add(p)
		}
		if r.Failed() {
			continue
		}
		b.Keys[w.Key] = at
		switch w.Key {
		case "owned":
			b.Owned = together(b.Owned, f.Brief.Owned, at)
		case "must":
			b.Must = together(b.Must, f.Brief.Must, at)
		case "never":
			b.Never = together(b.Never, f.Brief.Never, at)
		case "space":
			b.Space = f.Brief.Space
		case "front":
			b.Front = f.Brief.Front
		case "tax":
			b.TaxPPM, b.TaxByKind, b.LabourTax = f.Brief.TaxPPM, nil, nil
		}
	}
	b.contradictions(report)
	return report
}

// percent lets a bare number be a rate.
func percent(text string) string {
	if text = strings.TrimSpace(text); text != "" && strings.Trim(text, "0123456789.,") == "" {
		return text + " %"
	}
	return text
}

// together are the mentions of both; of a part that both name, the second holds.
func together(list, more []Mention, at Position) []Mention {
	out := slices.DeleteFunc(slices.Clone(list), func(m Mention) bool {
		return slices.ContainsFunc(more, func(n Mention) bool { return n.SKU == m.SKU })
	})
	for _, m := range more {
		m.Where = at
		out = append(out, m)
	}
	return out
}
