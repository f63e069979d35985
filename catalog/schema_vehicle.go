package catalog

import (
	"fmt"
	"io/fs"
	"strings"

	"go.yaml.in/yaml/v3"

	"loudfor/catalog/document"
	"loudfor/catalog/units"
	"loudfor/model/cabin"
)

// The keys of a car. It starts from a body style; what the file states
// overrides it, and what the style gave and nobody stated stays marked as
// assumed.

// car is a vehicle while it is read.
type car struct {
	v              Vehicle
	fsys           fs.FS
	body, learned  *yaml.Node
	inside         [3]float64
	q, admittance  float64
	area           float64
	source         *cabin.Point
	places         []cabin.NamedPlace
	sets           []cabin.NamedOpenings
	curve          *cabin.Curve
	at             map[string]*yaml.Node // values by key
	placeAt, setAt []*yaml.Node
	openField      bool
	good           bool // every key could be read
}

type carField = document.Field[car]

func carQuantity(key string, dim units.Dimension, bounds, sample, help string, to func(*car) *float64) carField {
	return document.Float(spec{Key: key, Shape: document.Quantity, Dim: dim, Range: bounds, Example: sample, Help: help}, to)
}

var placeSpec = spec{Key: "places", Shape: document.Point, Range: "0 m..20 m", Example: "35 x 98 x 76 cm"}

var vehicleSchema = document.NewSchema("a vehicle", []carField{
	document.String(spec{Key: "name", Shape: document.Text, Required: true, Example: "blue sedan", Help: "what briefs call it"},
		func(c *car) *string { return &c.v.Name }),
	{Spec: spec{Key: "body", Shape: document.Text, Example: "small sedan", Help: "the body style that it starts from"},
		Set: func(c *car, v *value) { c.body = v.Node }},
	document.Bool(spec{Key: "open_field", Shape: document.Flag, Default: "false", Help: "no car: the box on open ground, the meter 1 m away"},
		func(c *car) *bool { return &c.openField }),
	{Spec: spec{Key: "inside", Shape: document.Size, Range: "50 cm..10 m", Example: "240 x 136 x 112 cm", Help: "inside length x width x height"},
		Set: func(c *car, v *value) { c.inside = v.Three }},
	carQuantity("first_mode_q", units.Number, "1..50", "5", "quality factor of the lowest resonance of the cabin", func(c *car) *float64 { return &c.q }),
	carQuantity("admittance", units.Admittance, ">0..1", "0.05", "specific wall admittance, in place of first_mode_q", func(c *car) *float64 { return &c.admittance }),
	size(spec{Key: "space", Shape: document.Size, Range: "5 cm..10 m", Example: "95 x 45 x 50 cm", Help: "width x depth x height that is free for boxes"},
		func(c *car) *Size3 { return &c.v.Space }),
	{Spec: spec{Key: "boot_opening", Shape: document.Pair, Range: "5 cm..10 m", Example: "95 x 60 cm", Help: "width x height of the opening that a box has to go through"},
		Set: func(c *car, v *value) { c.v.Boot = [2]float64{v.Three[0], v.Three[1]} }},
	carQuantity("alternator", units.Current, ">0 A..1000 A", "70 A", "its rated current", func(c *car) *float64 { return &c.v.Alternator }),
	carQuantity("standby", units.Current, ">0 A..500 A", "30 A", "current that the car itself takes, engine running", func(c *car) *float64 { return &c.v.Standby }),
	carQuantity("cable_run", units.Length, "20 cm..30 m", "4.5 m", "cable from the battery to the amplifier, one way", func(c *car) *float64 { return &c.v.CableRun }),
	{Spec: spec{Key: "source", Shape: document.Point, Range: "0 m..20 m", Example: "195 x 68 x 30 cm", Help: "where the box stands: from the front, from the left, from the floor"},
		Set: func(c *car, v *value) { c.source = &cabin.Point{X: v.Three[0], Y: v.Three[1], Z: v.Three[2]} }},
	carQuantity("source_area", units.Area, "10 cm2..2 m2", "700 cm2", "area of the cones and ports", func(c *car) *float64 { return &c.area }),
	{Spec: spec{Key: "places", Shape: document.Table, Each: &placeSpec, Example: "{dash: 35 x 98 x 76 cm}", Help: "places by name: from the front x from the left x from the floor"},
		Nested: func(r *document.Reader, c *car, n *yaml.Node) { readPlaces(r, c, n) }},
	{Spec: spec{Key: "openings", Shape: document.Table, Sub: openingSchema.Specs(), Example: "{doors open: [{wall: left, from: 30 x 5 cm, size: 100 x 103 cm}]}", Help: "what can stand open, by name"},
		Nested: func(r *document.Reader, c *car, n *yaml.Node) { readSets(r, c, n) }},
	{Spec: spec{Key: "curve", Shape: document.Group, Sub: curveSchema.Specs(), Else: &spec{Shape: document.Text}, Example: "cabin-gain.csv", Help: "a measured curve in place of the computed one: the name of a CSV file, or the keys below"},
		Nested: func(r *document.Reader, c *car, n *yaml.Node) { readCurveKey(r, c, n) }},
	{Spec: spec{Key: "learned", Shape: document.Group, Sub: learnedSpecs(), Help: "what readings in the car have taught, as meter learn writes it"},
		Nested: func(r *document.Reader, c *car, n *yaml.Node) { c.learned = n }},
	{Spec: labourSpec, Nested: func(r *document.Reader, c *car, n *yaml.Node) { readLabour(r, n, &c.v.Labour) }},
	{Spec: spec{Key: "note", Shape: document.Text, Help: "anything worth remembering"}, Set: func(*car, *value) {}},
})

var wallWords = []string{cabin.Front: "front", cabin.Rear: "rear", cabin.Left: "left", cabin.Right: "right", cabin.Floor: "floor", cabin.Roof: "roof"}

var openingSchema = document.NewSchema("an opening", []document.Field[cabin.Opening]{
	document.Enum(spec{Key: "wall", Shape: document.Word, Words: wallWords, Required: true, Help: "the wall that it is in"},
		func(o *cabin.Opening) *cabin.Wall { return &o.Wall }),
	document.Lengths(spec{Key: "from", Shape: document.Pair, Range: "0 m..20 m", Required: true, Example: "30 x 5 cm", Help: "its corner in the wall: from the front (or left) x from the floor (or left)"},
		func(o *cabin.Opening) []*float64 { return []*float64{&o.U, &o.V} }),
	document.Lengths(spec{Key: "size", Shape: document.Pair, Range: "1 cm..10 m", Required: true, Example: "100 x 103 cm", Help: "width x height in the wall"},
		func(o *cabin.Opening) []*float64 { return []*float64{&o.Width, &o.Height} }),
})

// pairs gives the keys and values of a table of the user's own names.
func pairs(r *document.Reader, n *yaml.Node, key, sample string, visit func(name string, key, value *yaml.Node)) {
	m := document.Resolve(n)
	if m.Kind != yaml.MappingNode {
		r.Complain(n, key+" holds names with values", "write them such as "+sample)
		return
	}
	seen := map[string]*yaml.Node{}
	for k := 0; k+1 < len(m.Content); k += 2 {
		word := document.Resolve(m.Content[k])
		name := strings.TrimSpace(word.Value)
		if word.Kind != yaml.ScalarNode || name == "" {
			r.Complain(m.Content[k], "a name is one text", "write it such as "+sample)
			continue
		}
		low := strings.ToLower(name)
		if first := seen[low]; first != nil {
			r.Twice(m.Content[k], fmt.Sprintf("%q is named twice under %s", name, key), "keep one of the two", r.Where(first))
			continue
		}
		seen[low] = m.Content[k]
		visit(name, m.Content[k], m.Content[k+1])
	}
}

func readPlaces(r *document.Reader, c *car, n *yaml.Node) {
	pairs(r, n, "places", "{dash: 35 x 98 x 76 cm}", func(name string, key, at *yaml.Node) {
		s, v := placeSpec, value{}
		s.Key = name
		if r.Read(at, &s, &v) {
			c.places = append(c.places, cabin.NamedPlace{Name: name, Point: cabin.Point{X: v.Three[0], Y: v.Three[1], Z: v.Three[2]}})
			c.placeAt = append(c.placeAt, at)
		}
	})
}

func readSets(r *document.Reader, c *car, n *yaml.Node) {
	pairs(r, n, "openings", "{shut: []}", func(name string, key, at *yaml.Node) {
		set := cabin.NamedOpenings{Name: name}
		for _, item := range r.Items(at, &spec{Key: name}) {
			var o cabin.Opening
			if openingSchema.Decode(r, item, &o, nil) {
				set.Openings = append(set.Openings, o)
			}
		}
		c.sets = append(c.sets, set)
		c.setAt = append(c.setAt, at)
	})
}
