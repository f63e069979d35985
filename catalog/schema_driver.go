package catalog

import (
	"go.yaml.in/yaml/v3"

	"loudfor/catalog/document"
	"loudfor/catalog/units"
	"loudfor/model/driver"
)

// The keys of a spec card, for a subwoofer and for the driver of a loaded
// enclosure. The ranges refuse what no driver can be; whether the numbers of
// one card fit together is checked afterwards.

func cardFields[T any](card func(*T) *driver.Card) []document.Field[T] {
	q := func(key string, dim units.Dimension, bounds, help string, to func(*driver.Card) *float64) document.Field[T] {
		return document.Float(spec{Key: key, Shape: document.Quantity, Dim: dim, Range: bounds, Help: help},
			func(from *T) *float64 { return to(card(from)) })
	}
	size := q("size", units.Length, "2 in..40 in", "nominal diameter", func(c *driver.Card) *float64 { return &c.Size })
	size.Shape, size.Required, size.Example = document.Oval, true, "12 in"
	coils := document.Multiple(spec{Key: "coils", Shape: document.Times, Dim: units.Resistance, Range: "0.1 ohm..100 ohm", Required: true, Example: "2 x 4 ohm",
		Help: "voice coils and the nominal load of each"},
		func(from *T) *int { return &card(from).Coils }, func(from *T) *float64 { return &card(from).CoilLoad })
	return []document.Field[T]{
		size, coils,
		q("rms", units.Power, ">0 W..50000 W", "continuous power that the whole driver takes", func(c *driver.Card) *float64 { return &c.Power }),
		q("fs", units.Frequency, "5 Hz..1000 Hz", "free-air resonance", func(c *driver.Card) *float64 { return &c.Fs }),
		q("qts", units.Number, ">0..50", "total quality factor", func(c *driver.Card) *float64 { return &c.Qts }),
		q("qes", units.Number, ">0..50", "electrical quality factor", func(c *driver.Card) *float64 { return &c.Qes }),
		q("qms", units.Number, ">0..100", "mechanical quality factor", func(c *driver.Card) *float64 { return &c.Qms }),
		q("vas", units.Volume, ">0 L..5000 L", "volume of air as compliant as the suspension", func(c *driver.Card) *float64 { return &c.Vas }),
		q("sd", units.Area, ">0 cm2..10000 cm2", "effective piston area", func(c *driver.Card) *float64 { return &c.Sd }),
		q("xmax", units.Length, ">0 mm..150 mm", "linear travel one way, peak", func(c *driver.Card) *float64 { return &c.Xmax }),
		q("re", units.Resistance, ">0 ohm..100 ohm", "direct-current resistance of one coil", func(c *driver.Card) *float64 { return &c.Re }),
		q("le", units.Inductance, ">0 mH..100 mH", "inductance of one coil", func(c *driver.Card) *float64 { return &c.Le }),
		q("bl", units.ForceFactor, ">0 T m..300 T m", "force factor of one coil", func(c *driver.Card) *float64 { return &c.Bl }),
		q("mms", units.Mass, ">0 g..10 kg", "moving mass with its air load", func(c *driver.Card) *float64 { return &c.Mms }),
		q("cms", units.Compliance, ">0 mm/N..100 mm/N", "compliance of the suspension", func(c *driver.Card) *float64 { return &c.Cms }),
		q("sensitivity", units.Level, "50 dB..125 dB", "level at 1 W and 1 m", func(c *driver.Card) *float64 { return &c.Sensitivity }),
	}
}

var subwooferFields = append(cardFields(func(i *item) *driver.Card { return &i.part.Subwoofer.Card }),
	field("cutout", document.Quantity, units.Length, "2 cm..1 m", "diameter of the hole that it needs",
		func(i *item) *float64 { return &i.part.Subwoofer.Cutout }),
	field("bolt_circle", document.Quantity, units.Length, "2 cm..1 m", "diameter of the circle on which its screws sit",
		func(i *item) *float64 { return &i.part.Subwoofer.BoltCircle }),
	field("depth", document.Quantity, units.Length, "1 cm..1 m", "mounting depth behind the baffle",
		func(i *item) *float64 { return &i.part.Subwoofer.Depth }),
	field("displacement", document.Quantity, units.Volume, ">0 L..100 L", "volume that it takes inside the box",
		func(i *item) *float64 { return &i.part.Subwoofer.Displacement }),
)

// loadedDriver is the card of the driver in a loaded enclosure.
var loadedDriver = document.NewSchema("the driver of a loaded enclosure",
	cardFields(func(c *driver.Card) *driver.Card { return c }))

func readLoadedDriver(r *document.Reader, i *item, n *yaml.Node) {
	group(i, r, loadedDriver, n, 0, &i.part.Loaded.Card)
}
