package catalog

import (
	"go.yaml.in/yaml/v3"

	"loudfor/catalog/document"
	"loudfor/catalog/units"
	"loudfor/model/enclosure"
)

// The keys of a box, empty or loaded.

var boxWords = []string{enclosure.Sealed: "sealed", enclosure.Vented: "vented", enclosure.BandPass: "band-pass"}

// port is the schema of the opening of a vented chamber.
var portSchema = document.NewSchema("a port", []document.Field[enclosure.Port]{
	{Spec: spec{Key: "count", Shape: document.Whole, Range: "1..20", Default: "1", Example: "2", Help: "ports, all alike"},
		Set: func(p *enclosure.Port, v *value) { p.Count = v.Count }},
	{Spec: spec{Key: "diameter", Shape: document.Quantity, Dim: units.Length, Range: "1 cm..60 cm", Example: "10 cm", Help: "inside diameter of a round port"},
		Set: func(p *enclosure.Port, v *value) { p.Diameter = v.SI }},
	{Spec: spec{Key: "width", Shape: document.Quantity, Dim: units.Length, Range: "5 mm..2 m", Example: "4 cm", Help: "inside width of a slot port"},
		Set: func(p *enclosure.Port, v *value) { p.Width = v.SI }},
	{Spec: spec{Key: "height", Shape: document.Quantity, Dim: units.Length, Range: "5 mm..2 m", Example: "32 cm", Help: "inside height of a slot port"},
		Set: func(p *enclosure.Port, v *value) { p.Height = v.SI }},
	{Spec: spec{Key: "length", Shape: document.Quantity, Dim: units.Length, Range: "1 mm..3 m", Required: true, Example: "25 cm", Help: "length along the middle, without end corrections"},
		Set: func(p *enclosure.Port, v *value) { p.Length = v.SI }},
	{Spec: spec{Key: "flanged_ends", Shape: document.Whole, Range: "0..2", Default: "1", Example: "1", Help: "ends that end in a wall"},
		Set: func(p *enclosure.Port, v *value) { p.FlangedEnds = v.Count }},
})

func readPort(r *document.Reader, i *item, n *yaml.Node) {
	b := i.part.box()
	b.Port = enclosure.Port{Count: 1, FlangedEnds: 1}
	if group(i, r, portSchema, n, 0, &b.Port) {
		round, slot := b.Port.Diameter > 0, b.Port.Width > 0 && b.Port.Height > 0
		if round == slot || !round && !slot || round && (b.Port.Width > 0 || b.Port.Height > 0) {
			r.Complain(n, "a port is round or a slot", "give its diameter, or its width and its height")
		}
	}
}

// box is the box of an enclosure or of a loaded one.
func (p *Part) box() *enclosure.Box {
	if p.Kind == KindLoaded {
		return &p.Loaded.Box
	}
	return &p.Enclosure.Box
}

// loss is the key of a quality factor, where none says that nothing is lost.
func loss(key, help string, of func(*enclosure.Box) *float64) itemField {
	f := field(key, document.Quantity, units.Number, "1..1000", help, func(i *item, v *value) { *of(i.part.box()) = v.SI })
	f.None = enclosure.Lossless
	return f
}

// boxFields are the keys that both kinds of box have.
var boxFields = []itemField{
	{Spec: spec{Key: "type", Shape: document.Word, Words: boxWords, Required: true, Help: "how the box works"},
		Set: func(i *item, v *value) { i.part.box().Kind = enclosure.Kind(v.Word) }},
	{Spec: spec{Key: "volume", Shape: document.Quantity, Dim: units.Volume, Range: ">0 L..2000 L", Required: true, Example: "0.85 ft3",
		Help: "inside volume of the (rear) chamber before the drivers go in"},
		Set: func(i *item, v *value) { i.part.box().Volume = v.SI }},
	field("front_volume", document.Quantity, units.Volume, ">0 L..2000 L", "inside volume of the vented chamber of a band-pass box",
		func(i *item, v *value) { i.part.box().FrontVolume = v.SI }),
	field("tuning", document.Quantity, units.Frequency, "10 Hz..200 Hz", "frequency to which the port is tuned",
		func(i *item, v *value) { i.part.box().Tuning = v.SI }),
	{Spec: spec{Key: "port", Shape: document.Group, Sub: portSchema.Specs(), Help: "size of the port; with it the tuning is computed"},
		Nested: func(r *document.Reader, i *item, n *yaml.Node) { readPort(r, i, n) }},
	loss("leak_q", "quality factor of the leaks, QL", func(b *enclosure.Box) *float64 { return &b.LeakQ }),
	loss("absorption_q", "quality factor of the stuffing, QA", func(b *enclosure.Box) *float64 { return &b.AbsorptionQ }),
	loss("front_absorption_q", "the same of the vented chamber of a band-pass box, where it differs", func(b *enclosure.Box) *float64 { return &b.FrontAbsorptionQ }),
	loss("port_q", "quality factor of the port, QP, at low level; otherwise by the drag of its walls", func(b *enclosure.Box) *float64 { return &b.PortQ }),
}

// outside makes the key of the outside size of a box.
func outside(set func(i *item, s Size3)) itemField {
	return itemField{
		Spec: spec{Key: "outside", Shape: document.Size, Range: "5 cm..5 m", Example: "38 x 36 x 33 cm", Help: "outside width x depth x height"},
		Set:  func(i *item, v *value) { set(i, Size3{v.Three[0], v.Three[1], v.Three[2]}) },
	}
}

var enclosureFields = append([]itemField{
	{Spec: spec{Key: "holes", Shape: document.Times, Dim: units.Length, Range: "2 in..40 in", Required: true, Example: "1 x 12 in", Help: "holes and the nominal size of driver that fits"},
		Set: func(i *item, v *value) { i.part.Enclosure.Box.Drivers, i.part.Enclosure.Hole = v.Count, v.SI }},
	outside(func(i *item, s Size3) { i.part.Enclosure.Outside = s }),
	field("depth", document.Quantity, units.Length, "1 cm..3 m", "depth free behind the baffle",
		func(i *item, v *value) { i.part.Enclosure.Depth = v.SI }),
	field("cutout", document.Quantity, units.Length, "2 cm..1 m", "diameter of the holes",
		func(i *item, v *value) { i.part.Enclosure.Cutout = v.SI }),
	field("bolt_circle", document.Quantity, units.Length, "2 cm..1 m", "diameter of the circle of the screw holes",
		func(i *item, v *value) { i.part.Enclosure.BoltCircle = v.SI }),
}, boxFields...)

var loadedFields = append([]itemField{
	{Spec: spec{Key: "drivers", Shape: document.Whole, Range: "1..16", Default: "1", Example: "1", Help: "drivers in it, all alike"},
		Set: func(i *item, v *value) { i.part.Loaded.Box.Drivers = v.Count }},
	{Spec: spec{Key: "driver", Shape: document.Group, Required: true, Sub: loadedDriver.Specs(), Help: "the spec card of each driver in it", Example: "{size: 12 in, coils: 4 ohm, ...}"},
		Nested: func(r *document.Reader, i *item, n *yaml.Node) { readLoadedDriver(r, i, n) }},
	outside(func(i *item, s Size3) { i.part.Loaded.Outside = s }),
}, boxFields...)
