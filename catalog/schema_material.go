package catalog

import (
	"loudfor/catalog/document"
	"loudfor/catalog/units"
)

// The keys of what boxes are built of, and of who builds them.

// Hours of a workshop that states none (common practice, no source).
const (
	defaultPerBox   = 60 * 60.0 // s
	defaultPerPanel = 5 * 60.0  // s
	defaultPerHole  = 15 * 60.0 // s
	defaultPerPort  = 20 * 60.0 // s
	defaultKerf     = 0.003     // m: a circular saw's blade
)

// chargeWords say what a sheet costs of which only a part is used.
var chargeWords = []string{"whole sheets", "area"}

var sheetFields = []partField{
	required(example(field("thickness", document.Quantity, units.Length, "3 mm..60 mm", "of the sheet",
		func(p *Part) *float64 { return &p.Sheet.Thickness }), "19 mm")),
	document.Lengths(spec{Key: "board", Shape: document.Pair, Range: "10 cm..6 m", Required: true, Example: "244 x 122 cm", Help: "length x width of one sheet; the price is that of one"},
		func(p *Part) []*float64 { return []*float64{&p.Sheet.Length, &p.Sheet.Width} }),
	field("density", document.Quantity, units.Density, "50 kg/m3..3000 kg/m3", "of the material; with it the weight of a box is told",
		func(p *Part) *float64 { return &p.Sheet.Density }),
	document.Bool(spec{Key: "charge", Shape: document.Word, Words: chargeWords, Default: chargeWords[0], Help: "what is paid for: every sheet that is cut into, or the area used"},
		func(p *Part) *bool { return &p.Sheet.ByArea }),
}

var workshopFields = []partField{
	work("per_box", "60 min", "work on each box: marking out, glueing, finish; the price is that of an hour", func(w *Workshop) *float64 { return &w.PerBox }),
	work("per_panel", "5 min", "work on each panel", func(w *Workshop) *float64 { return &w.PerPanel }),
	work("per_hole", "15 min", "work on each driver's hole", func(w *Workshop) *float64 { return &w.PerHole }),
	work("per_port", "20 min", "work on each port beyond its panels", func(w *Workshop) *float64 { return &w.PerPort }),
	document.Float(spec{Key: "kerf", Shape: document.Quantity, Dim: units.Length, Range: "0 mm..10 mm", Default: "3 mm", Example: "3 mm", Help: "what the saw takes at each cut"},
		func(p *Part) *float64 { return &p.Workshop.Kerf }),
}

// work is a key for the time that something takes.
func work(key, usual, help string, to func(*Workshop) *float64) partField {
	return document.Float(spec{Key: key, Shape: document.Quantity, Dim: units.Time, Range: "0 s..100 h", Default: usual, Example: usual, Help: help},
		func(p *Part) *float64 { return to(p.Workshop) })
}
