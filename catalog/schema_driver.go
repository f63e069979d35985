package catalog

import (
	"fmt"
	"strings"

	"go.yaml.in/yaml/v3"

	"loudfor/catalog/document"
	"loudfor/catalog/units"
	"loudfor/model/driver"
)

// The keys of a spec card, for a subwoofer and for the driver of a loaded
// enclosure. The ranges are those of the model, which refuses what no driver can
// be; whether the numbers of one card fit together is checked afterwards.

// possible is the range that the model gives the number of a key.
func possible(key string) string {
	for field, k := range cardKeys {
		if low, high, unit, ok := driver.Limits(field); ok && k == key {
			return strings.TrimSpace(fmt.Sprintf("%g %s", low, unit)) + ".." + strings.TrimSpace(fmt.Sprintf("%g %s", high, unit))
		}
	}
	panic("catalog: the model has no limits for " + key)
}

func cardFields[T any](card func(*T) *driver.Card) []document.Field[T] {
	q := func(key string, dim units.Dimension, help string, to func(*driver.Card) *float64) document.Field[T] {
		return document.Float(spec{Key: key, Shape: document.Quantity, Dim: dim, Range: possible(key), Help: help},
			func(from *T) *float64 { return to(card(from)) })
	}
	size := q("size", units.Length, "nominal diameter", func(c *driver.Card) *float64 { return &c.Size })
	size.Shape, size.Required, size.Example = document.Oval, true, "12 in"
	coils := document.Multiple(spec{Key: "coils", Shape: document.Times, Dim: units.Resistance, Range: possible("coils"), Required: true, Example: "2 x 4 ohm",
		Help: "voice coils and the nominal load of each"},
		func(from *T) *int { return &card(from).Coils }, func(from *T) *float64 { return &card(from).CoilLoad })
	return []document.Field[T]{
		size, coils,
		q("rms", units.Power, "continuous power that the whole driver takes", func(c *driver.Card) *float64 { return &c.Power }),
		q("fs", units.Frequency, "free-air resonance", func(c *driver.Card) *float64 { return &c.Fs }),
		q("qts", units.Number, "total quality factor", func(c *driver.Card) *float64 { return &c.Qts }),
		q("qes", units.Number, "electrical quality factor", func(c *driver.Card) *float64 { return &c.Qes }),
		q("qms", units.Number, "mechanical quality factor", func(c *driver.Card) *float64 { return &c.Qms }),
		q("vas", units.Volume, "volume of air as compliant as the suspension", func(c *driver.Card) *float64 { return &c.Vas }),
		q("sd", units.Area, "effective piston area", func(c *driver.Card) *float64 { return &c.Sd }),
		q("xmax", units.Length, "linear travel one way, peak", func(c *driver.Card) *float64 { return &c.Xmax }),
		q("re", units.Resistance, "direct-current resistance of one coil", func(c *driver.Card) *float64 { return &c.Re }),
		q("le", units.Inductance, "inductance of one coil", func(c *driver.Card) *float64 { return &c.Le }),
		document.Bool(spec{Key: "plain_le", Shape: document.Flag, Help: "le is a plain inductance, as in a circuit, not what a meter shows of a coil near 1 kHz"},
			func(from *T) *bool { return &card(from).PlainInductance }),
		q("bl", units.ForceFactor, "force factor of one coil", func(c *driver.Card) *float64 { return &c.Bl }),
		q("mms", units.Mass, "moving mass with its air load", func(c *driver.Card) *float64 { return &c.Mms }),
		q("cms", units.Compliance, "compliance of the suspension", func(c *driver.Card) *float64 { return &c.Cms }),
		q("sensitivity", units.Level, "level at 1 W and 1 m", func(c *driver.Card) *float64 { return &c.Sensitivity }),
	}
}

var subwooferFields = append(cardFields(func(p *Part) *driver.Card { return &p.Subwoofer.Card }),
	field("cutout", document.Quantity, units.Length, "2 cm..1 m", "diameter of the hole that it needs; one that is 2 mm smaller can be widened",
		func(p *Part) *float64 { return &p.Subwoofer.Cutout }),
	field("bolt_circle", document.Quantity, units.Length, "2 cm..1 m", "diameter of the circle on which its screws sit",
		func(p *Part) *float64 { return &p.Subwoofer.BoltCircle }),
	field("depth", document.Quantity, units.Length, "1 cm..1 m", "mounting depth behind the baffle; a box that lacks 2 mm of it will do",
		func(p *Part) *float64 { return &p.Subwoofer.Depth }),
	field("displacement", document.Quantity, units.Volume, ">0 L..100 L", "volume that it takes inside the box",
		func(p *Part) *float64 { return &p.Subwoofer.Displacement }),
)

// loadedDriver is the card of the driver in a loaded enclosure.
var loadedDriver = document.NewSchema("the driver of a loaded enclosure",
	cardFields(func(c *driver.Card) *driver.Card { return c }))

func readLoadedDriver(r *document.Reader, p *Part, n *yaml.Node) {
	group(p, r, loadedDriver, n, "driver", &p.Loaded.Card)
}
