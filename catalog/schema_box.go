package catalog

import (
	"go.yaml.in/yaml/v3"

	"loudfor/catalog/document"
	"loudfor/catalog/units"
	"loudfor/model/driver"
	"loudfor/model/enclosure"
)

// The keys of a box, empty or loaded.

var boxWords = []string{enclosure.Sealed: "sealed", enclosure.Vented: "vented", enclosure.BandPass: "band-pass"}

// port is the schema of the opening of a vented chamber.
var portSchema = document.NewSchema("a port", []document.Field[enclosure.Port]{
	document.Int(spec{Key: "count", Shape: document.Whole, Range: "1..20", Default: "1", Example: "2", Help: "ports, all alike"},
		func(p *enclosure.Port) *int { return &p.Count }),
	document.Float(spec{Key: "diameter", Shape: document.Quantity, Dim: units.Length, Range: "1 cm..60 cm", Example: "10 cm", Help: "inside diameter of a round port"},
		func(p *enclosure.Port) *float64 { return &p.Diameter }),
	document.Float(spec{Key: "width", Shape: document.Quantity, Dim: units.Length, Range: "5 mm..2 m", Example: "4 cm", Help: "inside width of a slot port"},
		func(p *enclosure.Port) *float64 { return &p.Width }),
	document.Float(spec{Key: "height", Shape: document.Quantity, Dim: units.Length, Range: "5 mm..2 m", Example: "32 cm", Help: "inside height of a slot port"},
		func(p *enclosure.Port) *float64 { return &p.Height }),
	document.Float(spec{Key: "length", Shape: document.Quantity, Dim: units.Length, Range: "1 mm..3 m", Required: true, Example: "25 cm", Help: "length along the middle, without end corrections"},
		func(p *enclosure.Port) *float64 { return &p.Length }),
	document.Int(spec{Key: "flanged_ends", Shape: document.Whole, Range: "0..2", Default: "1", Example: "1", Help: "ends that end in a wall"},
		func(p *enclosure.Port) *int { return &p.FlangedEnds }),
})

// plainPort is what a port is as long as nothing is stated.
var plainPort = enclosure.Port{Count: 1, FlangedEnds: 1}

func readPort(r *document.Reader, p *Part, n *yaml.Node) {
	b := p.box()
	b.Port = plainPort
	if group(p, r, portSchema, n, "port", &b.Port) {
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
func loss(key, help string, of func(*enclosure.Box) *float64) partField {
	f := field(key, document.Quantity, units.Number, "1..1000", help, func(p *Part) *float64 { return of(p.box()) })
	f.None = enclosure.Lossless
	return f
}

// boxFields are the keys that both kinds of box have.
var boxFields = []partField{
	document.Enum(spec{Key: "type", Shape: document.Word, Words: boxWords, Required: true, Help: "how the box works"},
		func(p *Part) *enclosure.Kind { return &p.box().Kind }),
	document.Float(spec{Key: "volume", Shape: document.Quantity, Dim: units.Volume, Range: ">0 L..2000 L", Required: true, Example: "0.85 ft3",
		Help: "inside volume of the (rear) chamber before the drivers go in"},
		func(p *Part) *float64 { return &p.box().Volume }),
	field("front_volume", document.Quantity, units.Volume, ">0 L..2000 L", "inside volume of the vented chamber of a band-pass box",
		func(p *Part) *float64 { return &p.box().FrontVolume }),
	field("tuning", document.Quantity, units.Frequency, "10 Hz..200 Hz", "frequency to which the port is tuned",
		func(p *Part) *float64 { return &p.box().Tuning }),
	{Spec: spec{Key: "port", Shape: document.Group, Sub: portSchema.Specs(), Help: "size of the port; with it the tuning is computed"},
		Nested: readPort,
		Write: func(w *document.Writer, p *Part) {
			if usual := plainPort; p.box().Port != (enclosure.Port{}) {
				portSchema.WriteGroup(w, "port", &p.box().Port, &usual)
			}
		}},
	loss("leak_q", "quality factor of the leaks, QL", func(b *enclosure.Box) *float64 { return &b.LeakQ }),
	loss("absorption_q", "quality factor of the stuffing, QA", func(b *enclosure.Box) *float64 { return &b.AbsorptionQ }),
	loss("front_absorption_q", "the same of the vented chamber of a band-pass box, where it differs", func(b *enclosure.Box) *float64 { return &b.FrontAbsorptionQ }),
	loss("port_q", "quality factor of the port, QP, at low level; otherwise by the drag of its walls", func(b *enclosure.Box) *float64 { return &b.PortQ }),
}

// outside is the key of the outside size of a box.
func outside(at func(p *Part) *Size3) partField {
	return size(spec{Key: "outside", Shape: document.Size, Range: "5 cm..5 m", Example: "38 x 36 x 33 cm", Help: "outside width x depth x height"}, at)
}

var enclosureFields = append([]partField{
	document.Multiple(spec{Key: "holes", Shape: document.Times, Dim: units.Length, Range: "2 in..40 in", Required: true, Example: "1 x 12 in", Help: "holes and the nominal size of driver that fits"},
		func(p *Part) *int { return &p.Enclosure.Box.Drivers }, func(p *Part) *float64 { return &p.Enclosure.Hole }),
	outside(func(p *Part) *Size3 { return &p.Enclosure.Outside }),
	field("depth", document.Quantity, units.Length, "1 cm..3 m", "depth free behind the baffle",
		func(p *Part) *float64 { return &p.Enclosure.Depth }),
	field("cutout", document.Quantity, units.Length, "2 cm..1 m", "diameter of the holes",
		func(p *Part) *float64 { return &p.Enclosure.Cutout }),
	field("bolt_circle", document.Quantity, units.Length, "2 cm..1 m", "diameter of the circle of the screw holes",
		func(p *Part) *float64 { return &p.Enclosure.BoltCircle }),
}, boxFields...)

var loadedFields = append([]partField{
	document.Int(spec{Key: "drivers", Shape: document.Whole, Range: "1..16", Default: "1", Example: "1", Help: "drivers in it, all alike"},
		func(p *Part) *int { return &p.Loaded.Box.Drivers }),
	{Spec: spec{Key: "driver", Shape: document.Group, Required: true, Sub: loadedDriver.Specs(), Help: "the spec card of each driver in it", Example: "{size: 12 in, coils: 4 ohm, ...}"},
		Nested: readLoadedDriver,
		Write: func(w *document.Writer, p *Part) {
			loadedDriver.WriteGroup(w, "driver", &p.Loaded.Card, &driver.Card{})
		}},
	outside(func(p *Part) *Size3 { return &p.Loaded.Outside }),
}, boxFields...)
