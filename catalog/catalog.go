// Package catalog holds the user's files: parts with prices, vehicles, briefs
// and builds. It reads them with units and positions and reports everything
// that is wrong in them at once.
//
//	c, report := catalog.Load([]string{"parts/", "clearance.yaml"})
//	if err := report.Err(); err != nil {
//		report.Write(os.Stderr, false) // every error of every file, with its line
//		return err
//	}
//	for _, p := range c.ByKind(catalog.KindSubwoofer) {
//		fmt.Println(p.SKU, p.Price)
//	}
//
// Values are converted to SI once, here. Nothing is half loaded: with one
// error there is no catalogue. Warnings and remarks about parts that can be
// used but cannot be quite right come from Check.
//
// The keys of every kind of file stand in tables (see Reference), from which
// reading, messages and documentation are made.
//
// Limits: YAML with one document a file, up to 64 MB each; one currency for a
// catalogue.
package catalog

import (
	"cmp"
	"slices"

	"loudfor/catalog/document"
)

// Catalogue is a set of parts with one currency, in SKU order.
type Catalogue struct {
	Currency string
	Parts    []*Part
	Deals    []*Deal  // by name
	Shops    []*Store // those that are described, by name

	files map[string]*document.File // what the parts were read from
}

// New makes a catalogue of parts that came from no file; their SKUs must
// differ and their currencies be the same.
func New(currency string, parts []*Part) *Catalogue {
	c := &Catalogue{Currency: currency, Parts: slices.Clone(parts)}
	slices.SortFunc(c.Parts, func(a, b *Part) int { return cmp.Compare(a.SKU, b.SKU) })
	return c
}

// Part finds a part by its SKU; nil if there is none.
func (c *Catalogue) Part(sku string) *Part {
	i, ok := slices.BinarySearchFunc(c.Parts, sku, func(p *Part, sku string) int { return cmp.Compare(p.SKU, sku) })
	if !ok {
		return nil
	}
	return c.Parts[i]
}

// ByKind lists the parts of one kind in SKU order.
func (c *Catalogue) ByKind(kind Kind) []*Part {
	var out []*Part
	for _, p := range c.Parts {
		if p.Kind == kind {
			out = append(out, p)
		}
	}
	return out
}

// SKUs lists all SKUs in order.
func (c *Catalogue) SKUs() []string {
	out := make([]string, len(c.Parts))
	for i, p := range c.Parts {
		out[i] = p.SKU
	}
	return out
}

// Line gives the source line of a position in the catalogue's files.
func (c *Catalogue) Line(at Position) string {
	if f := c.files[at.File]; f != nil {
		return f.Line(at.Line)
	}
	return ""
}
