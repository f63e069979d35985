package counter

import (
	"bytes"
	"cmp"
	"fmt"
	"reflect"
	"slices"
	"strings"
	"sync"
	"time"

	"loudfor/catalog"
	"loudfor/catalog/book"
	"loudfor/catalog/document"
	"loudfor/catalog/letterhead"
	"loudfor/cmd/internal/inputs"
	"loudfor/optimizer"
)

// stock is everything that was read from the files at one moment. It never
// changes: a request works with the one that it began with, and new files make
// a new one.
type stock struct {
	generation int
	read       time.Time
	inputs.Shelf
	remarks map[string][]catalog.Problem // by SKU: what a check says of it
	other   []catalog.Problem            // what it says of no part
	doubts  int                          // warnings among them all
	hashed  func() (string, error)
	stores  []string // of the catalogue
	shop    *letterhead.Shop
	shared  *optimizer.Shared // what depends on neither sums nor wishes, for all questions
}

func newStock(generation int, read time.Time, shelf inputs.Shelf) *stock {
	s := &stock{generation: generation, read: read, Shelf: shelf, remarks: map[string][]catalog.Problem{}, stores: shelf.Catalogue.Stores(), shop: &letterhead.Shop{}, shared: new(optimizer.Shared)}
	type place struct {
		file string
		line int
	}
	owner := map[place]string{}
	for _, p := range shelf.Catalogue.Parts {
		owner[place{p.Where.File, p.Where.Line}] = p.SKU
		for _, key := range p.Keys {
			owner[place{p.Where.File, int(key.Line)}] = p.SKU
		}
	}
	s.hashed = sync.OnceValues(func() (string, error) { return book.Hash(shelf.Catalogue) })
	problems := catalog.Check(shelf.Catalogue)
	for _, problem := range shelf.Remarks.Problems {
		if problem.Severity != catalog.Error {
			problems = append(problems, problem)
		}
	}
	for _, problem := range problems {
		if problem.Severity == catalog.Warning {
			s.doubts++
		}
		if sku, ok := owner[place{problem.Where.File, problem.Where.Line}]; ok {
			s.remarks[sku] = append(s.remarks[sku], problem)
		} else {
			s.other = append(s.other, problem)
		}
	}
	return s
}

// hash is the name under which the job book would store the catalogue.
func (s *stock) hash() (string, error) { return s.hashed() }

// beside is the stock with the cars that came with a job's brief: those that
// the brief knows come first.
func (s *stock) beside(j book.Job) *stock {
	var files []inputs.CarFile
	for _, a := range j.Attachments {
		files = append(files, inputs.CarFile{Name: a.Name})
	}
	vehicles, report := inputs.LoadCars(j.Files(), files)
	if len(vehicles) == 0 || report.Err() != nil {
		return s // the brief says itself what it misses
	}
	with := *s
	with.Vehicles = append(vehicles, s.Vehicles...)
	return &with
}

// news is one change of the files, as it is told on the page.
type news struct {
	At         time.Time
	Generation int
	Lines      []string // what changed, in words
	Trouble    bool     // the files cannot be read: the stock is still the one before
}

// mostLines keeps a piece of news readable; the rest is counted.
const mostLines = 8

// changes says in words what is different between two stocks: nothing where the
// files were only written again, or laid out otherwise.
func changes(before, after *stock) []string {
	var lines []string
	old, now := before.Catalogue, after.Catalogue
	for _, p := range now.Parts {
		if was := old.Part(p.SKU); was == nil {
			lines = append(lines, fmt.Sprintf("%s is new: %s", p.SKU, offer(p)))
		} else if line := partChange(was, p); line != "" {
			lines = append(lines, line)
		}
	}
	for _, p := range old.Parts {
		if now.Part(p.SKU) == nil {
			lines = append(lines, p.SKU+" is gone")
		}
	}
	if len(old.Deals) != len(now.Deals) {
		lines = append(lines, fmt.Sprintf("there are %d deals, there were %d", len(now.Deals), len(old.Deals)))
	}
	for _, spec := range catalog.BriefSpecs() {
		if was, is := saidIn(&before.Brief, spec), saidIn(&after.Brief, spec); was != is {
			lines = append(lines, fmt.Sprintf("the brief: %s %s, was %s", spec.Key, is, was))
		}
	}
	for _, v := range after.Vehicles {
		if was, known := catalog.FindVehicle(v.Name, before.Vehicles); !known || !reflect.DeepEqual(unplaced(was), unplaced(v)) {
			lines = append(lines, fmt.Sprintf("the car %s is described otherwise", v.Name))
		}
	}
	for _, v := range before.Vehicles {
		if !slices.ContainsFunc(after.Vehicles, func(n catalog.Vehicle) bool { return n.Name == v.Name }) {
			lines = append(lines, fmt.Sprintf("the car %s is gone", v.Name))
		}
	}
	if len(lines) == 0 && others(old) != others(now) {
		lines = append(lines, "deals or shops are described otherwise")
	}
	if more := len(lines) - mostLines; more > 0 {
		lines = append(lines[:mostLines], fmt.Sprintf("and %d more", more))
	}
	return lines
}

func partChange(was, p *catalog.Part) string {
	switch {
	case was.Priced != p.Priced || was.Price != p.Price:
		return fmt.Sprintf("%s: %s, was %s", p.SKU, offer(p), offer(was))
	case was.Stock != p.Stock:
		return fmt.Sprintf("%s: %s, was %s", p.SKU, pieces(p.Stock), pieces(was.Stock))
	case was.Store != p.Store:
		return fmt.Sprintf("%s: sold by %s, was %s", p.SKU, p.Store, was.Store)
	case !slices.EqualFunc(was.Offers, p.Offers, func(a, b catalog.Offer) bool { return a.Store == b.Store && a.Price == b.Price && a.Stock == b.Stock }):
		return fmt.Sprintf("%s: other shops take another price, or have other stocks", p.SKU)
	case was.Name != p.Name:
		return fmt.Sprintf("%s: called %s, was %s", p.SKU, p.Name, was.Name)
	}
	is, then := written(p), written(was)
	if slices.Equal(is, then) {
		return ""
	}
	words := []string{}
	for _, line := range is {
		if key, value, _ := strings.Cut(line, ": "); !slices.Contains(then, line) {
			words = append(words, fmt.Sprintf("%s is now %s", key, value))
		}
	}
	for _, line := range then {
		key, _, _ := strings.Cut(line, ": ")
		if !slices.ContainsFunc(is, func(l string) bool { return strings.HasPrefix(l, key+": ") }) {
			words = append(words, key+" is not stated any more")
		}
	}
	return p.SKU + ": " + strings.Join(words, ", ")
}

// written are the lines of a part as a file has them.
func written(p *catalog.Part) (lines []string) {
	var text bytes.Buffer
	if catalog.WriteParts(&text, catalog.New(p.Price.Currency, []*catalog.Part{p})) != nil {
		return nil
	}
	for _, line := range strings.Split(strings.TrimSpace(text.String()), "\n")[1:] {
		lines = append(lines, strings.Trim(line, " -"))
	}
	return lines
}

// saidIn is the value of a key in a brief's words.
func saidIn(b *catalog.Brief, s document.Spec) string {
	if said := b.Said(s.Key); len(said) > 0 {
		return strings.Join(said, ", ")
	}
	return cmp.Or(s.Default, "not stated")
}

// unplaced is a car wherever its file has it.
func unplaced(v catalog.Vehicle) catalog.Vehicle {
	v.Where = catalog.Position{}
	v.Labour = slices.Clone(v.Labour)
	for i := range v.Labour {
		v.Labour[i].Where = catalog.Position{}
	}
	return v
}

// others is all that a catalogue holds besides parts, as a file has it.
func others(c *catalog.Catalogue) string {
	var text bytes.Buffer
	if len(c.Parts) == 0 || catalog.WriteParts(&text, &catalog.Catalogue{Currency: c.Currency, Parts: c.Parts[:1], Deals: c.Deals, Shops: c.Shops}) != nil {
		return ""
	}
	_, rest, _ := strings.Cut(text.String(), "\ndeals:")
	if rest == "" {
		_, rest, _ = strings.Cut(text.String(), "\nstores:")
	}
	return rest
}

func offer(p *catalog.Part) string {
	if !p.Priced {
		return "without a price"
	}
	return p.Price.String()
}

func pieces(stock int) string {
	switch {
	case stock == catalog.Unlimited:
		return "stock not stated"
	case stock == 0:
		return "out of stock"
	}
	return fmt.Sprintf("%d in stock", stock)
}
