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

// DealWord is the word under which rows of a table are deals and not parts.
const DealWord = "deal"

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

// ReadItems reads the parts and deals of one file. The nodes have the places
// of what they were made from; f is for messages.
func ReadItems(f *document.File, parts, deals []*yaml.Node) ([]*Part, []*Deal, []report.Problem) {
	r := &document.Reader{File: f}
	var ps []*Part
	var ds []*Deal
	for _, n := range parts {
		if p := readPart(r, n); p != nil {
			ps = append(ps, p)
		}
	}
	for _, n := range deals {
		if d, good := readDeal(r, n); good {
			ds = append(ds, &d)
		}
	}
	found, _ := r.Problems()
	return ps, ds, found
}

// Assemble makes a catalogue of parts and deals that were read before, and
// checks what concerns several of them. With an error in the report there is
// no catalogue.
func Assemble(parts []*Part, deals []*Deal) (*Catalogue, *Report) {
	c := &Catalogue{Parts: slices.Clone(parts), Deals: slices.Clone(deals)}
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
	return document.ReadBytes(systemFiles{}, path, most)
}
