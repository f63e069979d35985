package catalog

import (
	"maps"
	"slices"
	"strings"

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
		f := BuildFile{Brief: Brief{Keys: map[string]Position{}}}
		found := say(wishSchema, &f, w.Key, w.Flag, w.Values)
		report.Merge(found)
		if found.Err() != nil {
			continue
		}
		b.Keys[w.Key] = at
		switch w.Key {
		case "owned", "must", "never":
			list := b.Mentions(w.Key)
			*list = together(*list, *f.Brief.Mentions(w.Key), at)
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
