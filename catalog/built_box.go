package catalog

import (
	"go.yaml.in/yaml/v3"

	"loudfor/catalog/document"
	"loudfor/catalog/units"
)

// A box that the shop builds is named in a build file by what the carpenter
// needs: outside size, port, and what it is built of. Everything else (inside,
// panels, volume, tuning, price) follows from these, so that a build can be
// predicted and cut again at any time from its own file.

// BuiltBox is a box to be built. Lengths in m.
type BuiltBox struct {
	SKU        string // under which the build's parts name it
	Driver     string // SKU of the subwoofer that it is cut for
	Holes      int
	Sheet      string // SKU of the sheet material
	Workshop   string // SKU of the workshop
	Outside    Size3
	Slot       float64 // width of a slot port beside the right side, 0: none
	Tube       float64 // inside diameter of a round port, 0: none
	PortLength float64 // along the middle, through the front
	Where      Position
}

var builtBoxSchema = document.NewSchema("a built box", []document.Field[BuiltBox]{
	document.String(spec{Key: "sku", Shape: document.Text, Required: true, Example: "SHOP-1", Help: "the name that the parts of the build use for it"},
		func(b *BuiltBox) *string { return &b.SKU }),
	document.String(spec{Key: "driver", Shape: document.Text, Required: true, Example: "TM-12V", Help: "the subwoofer that it is cut for"},
		func(b *BuiltBox) *string { return &b.Driver }),
	document.Int(spec{Key: "holes", Shape: document.Whole, Range: "1..16", Default: "1", Example: "2", Help: "drivers in it"},
		func(b *BuiltBox) *int { return &b.Holes }),
	document.String(spec{Key: "sheet", Shape: document.Text, Required: true, Example: "DM-MDF18", Help: "the sheet material"},
		func(b *BuiltBox) *string { return &b.Sheet }),
	document.String(spec{Key: "workshop", Shape: document.Text, Required: true, Example: "DM-BENCH", Help: "who builds it"},
		func(b *BuiltBox) *string { return &b.Workshop }),
	size(spec{Key: "outside", Shape: document.Size, Range: "5 cm..5 m", Required: true, Example: "60 x 38 x 36 cm", Help: "outside width x depth x height; the drivers are in the front, width x height"},
		func(b *BuiltBox) *Size3 { return &b.Outside }),
	document.Float(spec{Key: "slot", Shape: document.Quantity, Dim: units.Length, Range: "5 mm..1 m", Example: "45 mm", Help: "width of a slot port as high as the inside; not stated: none"},
		func(b *BuiltBox) *float64 { return &b.Slot }),
	document.Float(spec{Key: "tube", Shape: document.Quantity, Dim: units.Length, Range: "1 cm..60 cm", Example: "10 cm", Help: "inside diameter of a round port instead"},
		func(b *BuiltBox) *float64 { return &b.Tube }),
	document.Float(spec{Key: "port_length", Shape: document.Quantity, Dim: units.Length, Range: "1 mm..3 m", Example: "52 cm", Help: "length of the port along its middle, through the front"},
		func(b *BuiltBox) *float64 { return &b.PortLength }),
})

const builtBoxKey = "built_box"

var builtBoxField = briefField{
	Spec: spec{Key: builtBoxKey, Shape: document.Group, Sub: builtBoxSchema.Specs(), Example: "{sku: SHOP-1, driver: TM-12V, ...}",
		Help: "a box that a workshop builds for this build"},
	Nested: readBuiltBox,
}

func readBuiltBox(r *document.Reader, f *BuildFile, n *yaml.Node) {
	b := BuiltBox{Holes: 1, Where: r.Where(n)}
	keys := f.Brief.Keys
	good := builtBoxSchema.Decode(r, n, &b, func(field int, v *yaml.Node) {
		keys[builtBoxKey+"."+builtBoxSchema.Fields[field].Key] = r.Where(v)
	})
	if !good {
		return
	}
	switch ported := b.Slot > 0 || b.Tube > 0; {
	case b.Slot > 0 && b.Tube > 0:
		r.Complain(n, "a port is round or a slot", "keep slot or tube")
	case ported && b.PortLength == 0:
		r.Complain(n, "the port has no length", "add port_length: 52 cm")
	case !ported && b.PortLength > 0:
		r.Complain(n, "a port of that length needs its size", "add slot: 45 mm or tube: 10 cm, or remove port_length")
	}
	f.Built = &b
}

// BuiltProblem is an error about a key of the box that the build has built; an
// empty key, or one that is not stated, points at the box.
func (f *BuildFile) BuiltProblem(key, summary, detail string) Problem {
	at, ok := f.Brief.Keys[builtBoxKey+"."+key]
	if !ok && f.Built != nil {
		at = f.Built.Where
	}
	return f.Brief.problem(Error, at, summary, detail)
}
