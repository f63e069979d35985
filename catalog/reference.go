package catalog

import "loudfor/catalog/document"

// The reference of all keys comes from the tables that the files are read
// with, so it cannot go out of date.

// Section describes the keys of one kind of mapping.
type Section struct {
	Title string // "subwoofer", "brief", "driver of a loaded enclosure"
	Keys  []document.Spec
}

// Reference lists the keys of every file: those common to all parts first,
// then those of each kind, of a brief, a build, a vehicle and a deal.
func Reference() []Section {
	out := []Section{{"part", schemas[0].Specs()[:len(common)]}}
	for k := range KindCount {
		out = append(out, Section{k.String(), schemas[k].Specs()[len(common):]})
	}
	out = append(out,
		Section{"brief", briefSchema.Specs()},
		Section{"build", buildSchema.Specs()[len(briefSchema.Fields):]},
		Section{"vehicle", vehicleSchema.Specs()},
		Section{"deal", dealSchema.Specs()},
		Section{"store", storeSchema.Specs()},
	)
	return out
}
