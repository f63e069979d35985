package catalog

import (
	"slices"

	"go.yaml.in/yaml/v3"

	"loudfor/catalog/document"
	"loudfor/catalog/report"
)

// Parts may also come from something other than a YAML file, such as the rows
// of a spreadsheet. They take the same way: a reader of such files makes the
// mappings that the YAML would have, each value with the place of its cell, and
// the tables of keys do the rest. So no second reader has rules of its own.

// DealWord and StoreWord are the words under which rows of a table are deals
// or stores and not parts.
const (
	DealWord  = "deal"
	StoreWord = "store"
)

// PathSpec is a key of a part with its place: "fs", "port.length",
// "driver.fs", "ratings".
type PathSpec struct {
	Path string
	document.Spec
}

// PathSpecs lists the keys of a kind, those of groups one by one, in the order
// in which files are written.
func PathSpecs(k Kind) []PathSpec {
	return pathSpecs("", schemas[k].Specs())
}

// DealSpecs does the same for deals.
func DealSpecs() []PathSpec { return pathSpecs("", dealSchema.Specs()) }

// StoreSpecs does the same for stores.
func StoreSpecs() []PathSpec { return pathSpecs("", storeSchema.Specs()) }

func pathSpecs(group string, specs []spec) (out []PathSpec) {
	for _, s := range specs {
		if s.Shape == document.Group {
			out = append(out, pathSpecs(group+s.Key+".", s.Sub)...)
			continue
		}
		out = append(out, PathSpec{group + s.Key, s})
	}
	return out
}

// Items are what a catalogue is made of, before anything that concerns several
// of them was checked.
type Items struct {
	Parts  []*Part
	Deals  []*Deal
	Stores []*Store
}

// ItemNodes are items as files hold them.
type ItemNodes struct{ Parts, Deals, Stores []*yaml.Node }

// ReadItems reads items of one file. The nodes have the places of what they
// were made from; f is for messages.
func ReadItems(f *document.File, nodes ItemNodes) (Items, []report.Problem) {
	r := &document.Reader{File: f}
	var out Items
	for _, n := range nodes.Parts {
		if p := readPart(r, n); p != nil {
			out.Parts = append(out.Parts, p)
		}
	}
	for _, n := range nodes.Deals {
		if d, good := readDeal(r, n); good {
			out.Deals = append(out.Deals, &d)
		}
	}
	for _, n := range nodes.Stores {
		if s, good := readStore(r, n); good {
			out.Stores = append(out.Stores, &s)
		}
	}
	found, _ := r.Problems()
	return out, found
}

// Assemble makes a catalogue of items that were read before, and checks what
// concerns several of them. With an error in the report there is no catalogue.
func Assemble(items Items) (*Catalogue, *Report) {
	c := &Catalogue{Parts: slices.Clone(items.Parts), Deals: slices.Clone(items.Deals), Shops: slices.Clone(items.Stores)}
	all := &Report{}
	c.settle(all)
	if all.Sort(document.MostProblems); all.Err() != nil {
		return nil, all
	}
	return c, all
}

// KindNamed finds a kind by its word or by another name that people use for it
// ("amps", "Subwoofers"), whatever the case and the number.
func KindNamed(word string) (Kind, bool) {
	var v value
	for _, w := range []string{word, singular(word)} {
		if kindSpec.Has(w, &v) {
			return Kind(v.Word), true
		}
		if k, ok := otherWords[tidyWord(w)]; ok {
			return k, true
		}
	}
	return KindCount, false
}

// ReadBytes reads a file of the system that is no larger than most bytes,
// whatever it holds.
func ReadBytes(path string, most int64) ([]byte, *Problem) {
	return document.ReadBytes(document.System{}, path, most)
}
