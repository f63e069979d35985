package catalog

import "loudfor/catalog/document"

// The reference of all keys comes from the tables that the files are read
// with, so it cannot go out of date.

// Section describes the keys of one kind of mapping.
type Section struct {
	Title string // "subwoofer", "brief", "driver of a loaded enclosure"
	Keys  []Key
}

// Key describes one key of a file.
type Key struct {
	Name     string
	Required bool
	Expected string // what a value looks like, with an example
	Range    string // accepted values; empty: all
	Default  string // empty: none
	Help     string
	Words    []string // accepted words, if only these are
	Keys     []Key    // of a group
}

// Reference lists the keys of every file: those common to all parts first,
// then those of each kind, of a brief, a build, a vehicle and a deal.
func Reference() []Section {
	out := []Section{{"part", keysOf(commonSpecs())}}
	for k := range KindCount {
		out = append(out, Section{k.String(), keysOf(schemas[k].Specs()[len(common):])})
	}
	out = append(out,
		Section{"brief", keysOf(briefSchema.Specs())},
		Section{"build", keysOf(buildSchema.Specs()[len(briefSchema.Fields):])},
		Section{"vehicle", keysOf(vehicleSchema.Specs())},
		Section{"deal", keysOf(dealSchema.Specs())},
		Section{"store", keysOf(storeSchema.Specs())},
	)
	return out
}

func commonSpecs() []spec {
	out := make([]spec, len(common))
	for i := range common {
		out[i] = common[i].Spec
	}
	return out
}

// KeysOf describes the keys of a table for the reference.
func KeysOf(specs []document.Spec) []Key { return keysOf(specs) }

func keysOf(specs []spec) []Key {
	out := make([]Key, len(specs))
	for i := range specs {
		s := &specs[i]
		out[i] = Key{Name: s.Key, Required: s.Required, Expected: s.Expected(), Range: s.Range,
			Default: s.Default, Help: s.Help, Words: s.Words, Keys: keysOf(s.Sub)}
		if s.Shape == document.Price {
			out[i].Range = ""
		}
	}
	return out
}
