// Package letterhead reads a shop's own settings: what stands at the head and the
// foot of its quotes.
//
//	shop, report := letterhead.Load("shop.yaml")
//	if err := report.Err(); err != nil {
//		return err // every mistake, with its place and how to mend it
//	}
//
// The file is YAML:
//
//	shop: Dock Street Sound
//	address: [12 Dock Street, Northhaven]
//	contact: [555 0100, desk@dockstreet.example]
//	logo: logo.png
//	valid: 30
//
// The logo is a picture beside the file. Limit: PNG and JPEG, for they hold
// nothing that a browser would run.
package letterhead

import (
	"bytes"
	"fmt"
	"image"
	_ "image/jpeg" // the pictures
	_ "image/png"  // that a logo may be
	"io/fs"
	"path"
	"path/filepath"
	"slices"
	"strings"

	"go.yaml.in/yaml/v3"

	"loudfor/catalog"
	"loudfor/catalog/document"
)

// Usual is the name under which the file is found in the user's folder.
const Usual = "shop.yaml"

// Shop is what a shop says of itself. The zero value is a shop that says nothing.
type Shop struct {
	Name     string
	Address  []string // lines
	Contact  []string // telephone, mail: lines
	Logo     Picture
	ValidFor int      // days that a quote holds; 0: not stated
	Terms    []string // lines at the foot of a quote
}

// Picture is a file that can be shown as it is.
type Picture struct {
	Kind    string // image/png, image/jpeg; empty: there is none
	Content []byte
}

const (
	mostLogo  = 256 << 10 // bytes: it is in every quote that the job book keeps
	mostSide  = 4000      // pixels
	mostLines = 6         // of any text: a quote is one page
	mostLine  = 120       // characters
)

type (
	spec  = document.Spec
	field = document.Field[reading]
)

// reading is a shop on its way in.
type reading struct {
	Shop
	logo   string
	logoAt *yaml.Node
}

func lines(key, sample, help string, to func(*reading) *[]string) field {
	s := spec{Key: key, Shape: document.Texts, Example: sample, Help: help}
	return field{Spec: s, Nested: func(r *document.Reader, shop *reading, n *yaml.Node) {
		var v document.Value
		if !r.Read(n, &s, &v) {
			return
		}
		for i, n := range v.Texts {
			text := strings.TrimSpace(document.Resolve(n).Value)
			switch {
			case i == mostLines:
				r.Complain(n, fmt.Sprintf("more than %d lines", mostLines), "a quote is one page: join lines, or leave some out")
				return
			case len([]rune(text)) > mostLine:
				r.Complain(n, fmt.Sprintf("a line of more than %d characters", mostLine), "split it")
			default:
				*to(shop) = append(*to(shop), text)
			}
		}
	}}
}

var schema = document.NewSchema("a shop's own settings", []field{
	document.String(spec{Key: "shop", Shape: document.Text, Required: true, Example: "Dock Street Sound", Help: "the name at the head of a quote"},
		func(s *reading) *string { return &s.Name }),
	lines("address", "[12 Dock Street, Northhaven]", "the lines below the name", func(s *reading) *[]string { return &s.Address }),
	lines("contact", "[555 0100, desk@dockstreet.example]", "telephone, mail, hours: a line each", func(s *reading) *[]string { return &s.Contact }),
	{Spec: spec{Key: "logo", Shape: document.Text, Example: "logo.png", Help: "a picture beside this file, PNG or JPEG, at most 256 kB"},
		Set: func(s *reading, v *document.Value) { s.logo, s.logoAt = v.Text, v.Node }},
	document.Int(spec{Key: "valid", Shape: document.Whole, Range: "1..365", Example: "30", Help: "for how many days a quote holds; not stated: it says nothing of that"},
		func(s *reading) *int { return &s.ValidFor }),
	lines("terms", "[Half of the price with the order.]", "lines at the foot of a quote", func(s *reading) *[]string { return &s.Terms }),
})

// Reference lists the keys of the file.
func Reference() []document.Spec { return schema.Specs() }

// Load reads the file, and the logo beside it. With an error in the report there
// is no shop.
func Load(name string) (Shop, *catalog.Report) {
	return LoadFS(document.System{}, filepath.ToSlash(name))
}

// LoadFS does the same in a file system.
func LoadFS(fsys fs.FS, name string) (Shop, *catalog.Report) {
	report := &catalog.Report{}
	content, problem := document.ReadBytes(fsys, name, document.MostBytes)
	if problem != nil {
		report.Add(*problem)
		return Shop{}, report
	}
	file, problem := document.NewFile(name, content)
	if problem != nil {
		report.Add(*problem)
		return Shop{}, report
	}
	var s reading
	r, root := document.Parse(file)
	if root != nil {
		schema.Decode(r, root, &s, nil)
		if s.logo != "" {
			s.picture(fsys, r, name)
		}
	} else if !r.Failed() {
		report.Add(catalog.Problem{Summary: "the file is empty", Detail: "write the shop's name, such as shop: Dock Street Sound", Where: catalog.Position{File: name}})
	}
	found, more := r.Problems()
	report.Add(found...)
	report.More += more
	report.Sort(document.MostProblems)
	if report.Err() != nil {
		return Shop{}, report
	}
	return s.Shop, report
}

// picture reads the logo. It has to be beside the file or below it: a file that a
// shop was sent must not put others on its quotes.
func (s *reading) picture(fsys fs.FS, r *document.Reader, name string) {
	if !fs.ValidPath(path.Clean(s.logo)) {
		r.Complain(s.logoAt, fmt.Sprintf("the logo %q is not beside this file", s.logo), "copy the picture into the folder, and write its name")
		return
	}
	content, problem := document.ReadBytes(fsys, path.Join(path.Dir(name), path.Clean(s.logo)), mostLogo)
	if problem != nil {
		r.Complain(s.logoAt, "the logo cannot be read: "+problem.Summary, fmt.Sprintf("name a PNG or JPEG of at most %d kB", mostLogo>>10))
		return
	}
	size, kind, err := image.DecodeConfig(bytes.NewReader(content))
	if err != nil || !slices.Contains([]string{"png", "jpeg"}, kind) || size.Width > mostSide || size.Height > mostSide {
		r.Complain(s.logoAt, "the logo is no picture that can be used", fmt.Sprintf("name a PNG or JPEG of at most %d x %d", mostSide, mostSide))
		return
	}
	s.Logo = Picture{"image/" + kind, content}
}
