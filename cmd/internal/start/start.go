// Package start makes a folder to begin with: a short commented list of parts
// with one of each kind, what is in the car already, a vehicle, a brief, in the
// user's currency and units, and the shop's own settings.
//
//	files, err := start.Files(start.Wishes{Currency: "EUR", Metric: true})
//	err = start.Write("shop", files)
//
// The parts are samples, and say so: their figures are plausible (common
// practice, no source), so that every command answers, and are there to be
// overwritten. Nothing that exists is overwritten, and a folder is written whole
// or not at all.
package start

import (
	"bytes"
	"embed"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strings"
	"text/template"

	"loudfor/catalog"
	"loudfor/model/cabin"
)

//go:embed files
var templates embed.FS

// Wishes are what the folder is made for. Zero values have defaults.
type Wishes struct {
	Currency string // ISO 4217; default USD
	Metric   bool   // centimetres and square millimetres, not inches and gauges
	Cap      string // in words, such as "400 EUR"; default 400 of the currency
	Body     string // a body style; default small sedan
	Stays    Stay
	// List is a catalogue that stands for the samples; nil: the samples.
	List []byte
}

// Stay is what stays in the car.
type Stay int

const (
	StayAll     Stay = iota // the radio and the front speakers
	StayRadio               // the radio: front speakers may be bought
	StayNothing             // both may be bought
)

// Stays are the words of Stay.
var Stays = []string{StayAll: "radio and speakers", StayRadio: "radio", StayNothing: "nothing"}

// File is one file of the folder.
type File struct {
	Name    string // with slashes
	Content []byte
}

const (
	defaultCurrency = "USD"
	defaultCap      = "400"
	// DefaultBody is the smallest car, whose reading is the least flattered.
	DefaultBody = "small sedan"
)

// page is what the templates see.
type page struct {
	Wishes
	Front          string
	Keeps, Samples bool
	// Space and Alternator are those of the body style.
	Space, Alternator string
}

// Files are those of the folder.
func Files(w Wishes) ([]File, error) {
	if w.Currency == "" {
		w.Currency = defaultCurrency
	}
	if w.Cap == "" {
		w.Cap = defaultCap + " " + w.Currency
	}
	if w.Body == "" {
		w.Body = DefaultBody
	}
	body, ok := cabin.BodyNamed(w.Body)
	if !ok {
		return nil, fmt.Errorf("no body style is called %q; they are %s", w.Body, strings.Join(Bodies(), ", "))
	}
	v := catalog.FromBody(body)
	p := page{Wishes: w, Front: [...]string{"keep", "either", "either"}[w.Stays], Keeps: w.Stays != StayNothing, Samples: w.List == nil}
	p.Space, p.Alternator = size(v.Space, w.Metric), fmt.Sprintf("%.0f A", v.Alternator)
	var out []File
	add := func(name string) error {
		t, err := template.ParseFS(templates, path.Join("files", path.Base(name)))
		if err != nil {
			return err
		}
		var text bytes.Buffer
		err = t.Execute(&text, p)
		out = append(out, File{name, text.Bytes()})
		return err
	}
	err := errors.Join(add("brief.yaml"), add("vehicle.yaml"), add("shop.yaml"))
	if p.Keeps {
		err = errors.Join(err, add("parts/owned.yaml"))
	}
	if p.Samples {
		err = errors.Join(err, add("parts/samples.yaml"))
	} else {
		out = append(out, File{"parts/list.yaml", w.List})
	}
	slices.SortFunc(out, func(a, b File) int { return strings.Compare(a.Name, b.Name) })
	return out, err
}

// Of gives the value in the units of the folder.
func (p page) Of(metric, other string) string {
	if p.Metric {
		return metric
	}
	return other
}

// Bodies are the body styles.
func Bodies() (names []string) {
	for _, b := range cabin.Bodies() {
		names = append(names, b.Name)
	}
	return names
}

const inch = 0.0254 // m

func size(s catalog.Size3, metric bool) string {
	unit, word := inch, "in"
	if metric {
		unit, word = 0.01, "cm"
	}
	return fmt.Sprintf("%.0f x %.0f x %.0f %s", s.Width/unit, s.Depth/unit, s.Height/unit, word)
}

// ErrExists is a folder that holds files already.
var ErrExists = errors.New("nothing is overwritten")

// Write makes the folder. Where any of the files exists, or parts or briefs
// of the user's own, nothing is written.
func Write(folder string, files []File) error {
	own := catalog.OwnFiles(folder)
	there := slices.Concat(own.Parts, own.Briefs, own.Vehicles)
	for _, f := range files {
		name := filepath.Join(folder, filepath.FromSlash(f.Name))
		if _, err := os.Lstat(name); err == nil && !slices.Contains(there, name) {
			there = append(there, name)
		}
	}
	if len(there) > 0 {
		return fmt.Errorf("%s holds files already: %s; %w: name another folder", folder, strings.Join(there, ", "), ErrExists)
	}
	var written []string
	for _, f := range files {
		name := filepath.Join(folder, filepath.FromSlash(f.Name))
		err := os.MkdirAll(filepath.Dir(name), 0o755)
		if err == nil {
			err = create(name, f.Content)
		}
		if err != nil {
			for _, name := range written {
				err = errors.Join(err, os.Remove(name))
			}
			return err
		}
		written = append(written, name)
	}
	return nil
}

// create writes a file that is not there yet.
func create(name string, content []byte) error {
	f, err := os.OpenFile(name, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o644)
	if errors.Is(err, fs.ErrExist) {
		return fmt.Errorf("%s: %w", name, ErrExists)
	}
	if err != nil {
		return err
	}
	_, err = f.Write(content)
	if err = errors.Join(err, f.Close()); err != nil {
		err = errors.Join(err, os.Remove(name))
	}
	return err
}
