package catalog

import (
	"cmp"
	"fmt"
	"io/fs"
	"maps"
	"slices"

	"go.yaml.in/yaml/v3"

	"loudfor/catalog/document"
	"loudfor/model/parallel"
)

// Load reads files and folders into one catalogue. Folders are searched for
// *.yaml and *.yml with all their folders; a file that is named twice is read
// once. The report holds every problem, sorted; with an error in it the
// catalogue is nil.
func Load(paths []string) (*Catalogue, *Report) {
	return load(document.System{}, paths, false)
}

// LoadSound is Load for a shop that has to go on: parts, deals and stores in which
// something is wrong are left out, each with a warning that names it. What is wrong
// with a file as a whole is an error as ever.
func LoadSound(paths []string) (*Catalogue, *Report) {
	return load(document.System{}, paths, true)
}

// LoadFS does the same in a file system, such as an embedded one.
func LoadFS(fsys fs.FS, paths []string) (*Catalogue, *Report) {
	return load(fsys, paths, false)
}

// piece is a part of a file that is read on its own.
type piece struct {
	file   *document.File
	text   document.Piece
	parts  []*Part
	deals  []*Deal
	stores []*Store
	found  *document.Reader
	unread bool // could not be parsed, or is empty
	fails  bool // as a piece; the whole file has to be read
}

func load(fsys fs.FS, paths []string, skipBad bool) (*Catalogue, *Report) {
	report := &Report{}
	c := &Catalogue{files: map[string]*document.File{}}
	var work []*piece
	for _, name := range find(fsys, paths, "parts", report) {
		file, problem := document.ReadFile(fsys, name.path, document.MostBytes)
		if problem != nil {
			report.Add(*problem)
			continue
		}
		if !name.named && isOther(file) {
			continue
		}
		c.files[file.Name] = file
		for _, text := range document.Pieces(file, "parts") {
			work = append(work, &piece{file: file, text: text})
		}
	}
	parallel.Each(parallel.Workers(0), len(work), func(i int) { work[i].read(skipBad) })
	work = mended(work, skipBad)
	for _, w := range work {
		w.found.Tell(report)
		c.Parts = append(c.Parts, w.parts...)
		c.Deals = append(c.Deals, w.deals...)
		c.Shops = append(c.Shops, w.stores...)
	}
	c.settleAll(report, skipBad)
	if len(c.Parts) == 0 && report.Err() == nil {
		report.Add(Problem{Summary: "the catalogue is empty", Detail: "name a file or folder with parts: a list under the key \"parts\"", Where: firstFile(paths)})
	}
	report.Sort(document.MostProblems)
	if report.Err() != nil {
		return nil, report
	}
	return c, report
}

func firstFile(paths []string) Position {
	if len(paths) == 0 {
		return Position{}
	}
	return Position{File: paths[0]}
}

// read parses and decodes one piece.
func (w *piece) read(skipBad bool) {
	r, root := document.ParsePiece(w.file, w.text)
	r.SkipBad = skipBad
	w.found = r
	w.unread = root == nil
	w.fails = w.unread && w.text.Partial
	if root != nil {
		w.parts, w.deals, w.stores = readParts(r, root)
	}
}

// mended replaces all pieces of a file of which one could not be parsed by the
// file as a whole: a cut may have parted an anchor from its alias. If the whole
// cannot be parsed either, the pieces stay: they know the place of the mistake
// better, and the mistakes in the other pieces too.
func mended(work []*piece, skipBad bool) []*piece {
	whole := map[*document.File]*piece{}
	for _, w := range work {
		if w.fails && whole[w.file] == nil {
			all := &piece{file: w.file, text: document.Entire(w.file)}
			all.read(skipBad)
			whole[w.file] = all
		}
	}
	if len(whole) == 0 {
		return work
	}
	var out []*piece
	for _, w := range work {
		all := whole[w.file]
		switch {
		case all == nil || all.unread:
			out = append(out, w)
		case len(out) == 0 || out[len(out)-1] != all:
			out = append(out, all)
		}
	}
	return out
}

// catalogueFile is the top of a file of parts.
type catalogueFile struct {
	parts  []*Part
	deals  []*Deal
	stores []*Store
	stated bool // one of the lists is there
}

var partsSpec = spec{Key: "parts", Shape: document.Groups, Help: "the parts, one item each", Example: "[{sku: TM-12V, kind: subwoofer, ...}]"}

var catalogueSchema = document.NewSchema("a catalogue", []document.Field[catalogueFile]{
	{Spec: partsSpec,
		Nested: func(r *document.Reader, dst *catalogueFile, n *yaml.Node) {
			items := r.Items(n, &partsSpec)
			dst.parts, dst.stated = make([]*Part, 0, len(items)), true
			for _, n := range items {
				before := r.Count()
				p := readPart(r, n)
				name := ""
				if p != nil {
					name = p.SKU
				}
				if !r.Leaves(before, name) && p != nil {
					dst.parts = append(dst.parts, p)
				}
			}
		}},
	{Spec: spec{Key: "deals", Shape: document.Groups, Sub: dealSchema.Specs(), Help: "prices that depend on what is bought together", Example: "[{name: second at half price, sku: TM-12V, every: 2, off: 50 %}]"},
		Nested: func(r *document.Reader, dst *catalogueFile, n *yaml.Node) {
			dst.stated = true
			for _, n := range r.Items(n, &spec{Key: "deals"}) {
				before := r.Count()
				if d, good := readDeal(r, n); !r.Leaves(before, d.Name) && good {
					dst.deals = append(dst.deals, &d)
				}
			}
		}},
	{Spec: storesListSpec,
		Nested: func(r *document.Reader, dst *catalogueFile, n *yaml.Node) {
			dst.stated, dst.stores = true, readStoreList(r, n)
		}},
})

func readParts(r *document.Reader, root *yaml.Node) ([]*Part, []*Deal, []*Store) {
	var f catalogueFile
	if good := catalogueSchema.Decode(r, root, &f, nil); good && !f.stated {
		// Deals may stand in a file of their own, so neither list is required.
		r.Complain(root, "a catalogue needs the key \"parts\"", partsSpec.Help+": add parts: "+partsSpec.Example)
	}
	return f.parts, f.deals, f.stores
}

// settleAll is settle; with skipBad again and again without what is wrong, since
// leaving one thing out can make another wrong: the deal on a part.
func (c *Catalogue) settleAll(report *Report, skipBad bool) {
	for {
		found := &Report{}
		c.settle(found)
		gone := false
		for i := range found.Problems {
			if p := &found.Problems[i]; skipBad && p.Severity == Error {
				if name, ok := c.leaveOut(p.Where); ok {
					gone = p.Excuse(name)
					report.Add(*p)
				}
			}
		}
		if !gone {
			report.Merge(found)
			return
		}
	}
}

// leaveOut drops what has something at a place, and gives its name.
func (c *Catalogue) leaveOut(at Position) (name string, ok bool) {
	drop := func(there bool, called string) bool {
		if there {
			name, ok = called, true
		}
		return there
	}
	c.Parts = slices.DeleteFunc(c.Parts, func(p *Part) bool {
		return drop(p.Where == at || p.Where.File == at.File && slices.ContainsFunc(p.Keys, func(k KeyAt) bool { return int(k.Line) == at.Line && int(k.Column) == at.Column }), p.SKU)
	})
	c.Deals = slices.DeleteFunc(c.Deals, func(d *Deal) bool {
		return drop(d.Where == at || slices.Contains(slices.Collect(maps.Values(d.Keys)), at) || slices.ContainsFunc(d.Parts, func(m Mention) bool { return m.Where == at }), d.Name)
	})
	c.Shops = slices.DeleteFunc(c.Shops, func(s *Store) bool { return drop(s.Where == at, s.Name) })
	return name, ok
}

// settle sorts the parts and checks what concerns several of them.
func (c *Catalogue) settle(report *Report) {
	slices.SortFunc(c.Parts, func(a, b *Part) int {
		if c := cmp.Compare(a.SKU, b.SKU); c != 0 {
			return c // nearly always: the places are compared of parts with one SKU only
		}
		return a.Where.Compare(b.Where)
	})
	var priced *Part // the first place with a price decides the currency
	for _, p := range c.Parts {
		if p.Priced && (priced == nil || p.At("price").Compare(priced.At("price")) < 0) {
			priced = p
		}
	}
	if priced != nil {
		c.Currency = priced.Price.Currency
	}
	for i, p := range c.Parts {
		if i > 0 && p.SKU != "" && p.SKU == c.Parts[i-1].SKU {
			first := c.Parts[i-1]
			report.Add(c.problem(Error, p, "sku", fmt.Sprintf("the SKU %q stands twice in the catalogue", p.SKU),
				"give each part its own SKU, or remove one of the two").Citing(first.At("sku"), "first used here"))
		}
		if p.Priced && p.Price.Currency != c.Currency {
			report.Add(c.problem(Error, p, "price", fmt.Sprintf("%s costs %s, but the catalogue is in %s", p.SKU, p.Price, c.Currency),
				"write all prices in one currency").Citing(priced.At("price"), "the first price, in "+c.Currency))
		}
	}
	c.settleStores(report)
	c.settleDeals(report)
}
