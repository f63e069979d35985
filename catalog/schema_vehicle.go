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
	exponent       *float64 // of frequency in the walls' admittance
	zone           float64  // loss of the pressure zone, times the walls'
	angle, hinge   float64  // of the doors
	floor          float64  // its height above the ground
	panels         []cabin.Panel
	guessed        []string // of its own openings: what hangs there
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
	carQuantity("admittance", units.Admittance, ">0..1", "0.05", "specific wall admittance at the lowest resonance, in place of first_mode_q", func(c *car) *float64 { return &c.admittance }),
	{Spec: spec{Key: "admittance_exponent", Shape: document.Quantity, Dim: units.Number, Range: "-1..3", Default: "1", Example: "1.5", Help: "power of frequency that the walls' admittance goes with: 0 for leaks, 2 for thin trim"},
		Set: func(c *car, v *value) { c.exponent = new(v.SI) }},
	carQuantity("zone_loss", units.Number, "0.01..100", "2", "what the pressure zone (all of the air together) loses, times what the walls make it lose; not stated: 1", func(c *car) *float64 { return &c.zone }),
	carQuantity("door_angle", units.Angle, "30 degrees..180 degrees", "60 degrees", "how far doors in the sides stand open, 30 to 180 degrees; not stated: 65", func(c *car) *float64 { return &c.angle }),
	carQuantity("door_hinge", units.Length, "1 cm..3 m", "35 cm", "from the firewall to the hinge edge of the front doors", func(c *car) *float64 { return &c.hinge }),
	carQuantity("floor_height", units.Length, "1 cm..2 m", "22 cm", "from the ground to the cabin floor", func(c *car) *float64 { return &c.floor }),
	{Spec: spec{Key: "panels", Shape: document.Groups, Sub: panelSchema.Specs(), Example: "[{wall: roof, share: 10 %, resonance: 50 Hz}]", Help: "sheets that give way to bass; not stated: none"},
		Nested: func(r *document.Reader, c *car, n *yaml.Node) {
			for _, item := range r.Items(n, &spec{Key: "panels"}) {
				var p cabin.Panel
				if panelSchema.Decode(r, item, &p, nil) {
					c.panels = append(c.panels, p)
				}
			}
		}},
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

var panelSchema = document.NewSchema("a panel", []document.Field[cabin.Panel]{
	document.Enum(spec{Key: "wall", Shape: document.Word, Words: wallWords, Required: true, Help: "the wall that it is in"},
		func(p *cabin.Panel) *cabin.Wall { return &p.Wall }),
	{Spec: spec{Key: "share", Shape: document.Percent, Range: "1 %..30 %", Required: true, Example: "10 %", Help: "of the wall's area that moves, as a piston would; a guess between 10 and 30 %"},
		Set: func(p *cabin.Panel, v *value) { p.Share = v.SI }},
	document.Float(spec{Key: "resonance", Shape: document.Quantity, Dim: units.Frequency, Range: "5 Hz..500 Hz", Required: true, Example: "40 Hz", Help: "where it drums: 25 to 60 Hz, as a finger's knock tells"},
		func(p *cabin.Panel) *float64 { return &p.Resonance }),
})

// hingeWords are the edges of an opening as one says them; front and rear are
// those of a door in the side, left and right those of one in the rear.
var hingeWords = []string{"none", "front", "rear", "bottom", "top", "left", "right"}

var hingeEdges = []cabin.Edge{cabin.Unhinged, cabin.Near, cabin.Far, cabin.Bottom, cabin.Top, cabin.Near, cabin.Far}

// openingKey is an opening while it is read.
type openingKey struct {
	cabin.Opening
	hinge *int // word; none stated: nil
	angle float64
}

// What an opening is taken for that does not say what hangs on it (common
// practice, no source): as high as this it is a door, or a lid.
const (
	leastDoor = 0.7 // m
	leastLid  = 0.3
)

// hang finishes an opening: its leaf, stated or usual.
func (k *openingKey) hang(r *document.Reader, n *yaml.Node) (cabin.Opening, bool) {
	o := k.Opening
	side, end := o.Wall == cabin.Left || o.Wall == cabin.Right, o.Wall == cabin.Front || o.Wall == cabin.Rear
	if k.hinge == nil {
		if side && o.Height >= leastDoor || end && o.Height >= leastLid || k.angle > 0 {
			o.Leaf = o.Wall.Usual()
		}
	} else if word := *k.hinge; word > 0 {
		if (word <= 2 && !side) || (word >= 5 && !end) || !(side || end) {
			r.Complain(n, fmt.Sprintf("an opening in the %v has no %s edge to hang on", o.Wall, hingeWords[word]),
				"left and right walls have the edges front, rear, top and bottom; front and rear walls left, right, top and bottom")
			return o, false
		}
		o.Leaf = o.Wall.Usual()
		o.Leaf.Hinge = hingeEdges[word]
	}
	if k.angle > 0 {
		if o.Leaf.Hinge == cabin.Unhinged {
			r.Complain(n, "an angle is given, but nothing hangs on this opening", "leave out angle, or say hinge: front (or top ...)")
			return o, false
		}
		o.Leaf.Angle, o.Leaf.Spread = k.angle, cabin.StatedAngle
	}
	return o, true
}

var openingSchema = document.NewSchema("an opening", []document.Field[openingKey]{
	document.Enum(spec{Key: "wall", Shape: document.Word, Words: wallWords, Required: true, Help: "the wall that it is in"},
		func(o *openingKey) *cabin.Wall { return &o.Wall }),
	document.Lengths(spec{Key: "from", Shape: document.Pair, Range: "0 m..20 m", Required: true, Example: "30 x 5 cm", Help: "its corner in the wall: from the front (or left) x from the floor (or left)"},
		func(o *openingKey) []*float64 { return []*float64{&o.U, &o.V} }),
	document.Lengths(spec{Key: "size", Shape: document.Pair, Range: "1 cm..10 m", Required: true, Example: "100 x 103 cm", Help: "width x height in the wall"},
		func(o *openingKey) []*float64 { return []*float64{&o.Width, &o.Height} }),
	{Spec: spec{Key: "hinge", Shape: document.Word, Words: hingeWords, Example: "front", Help: "the edge that its door or lid hangs on; not stated: front for what is 70 cm high in the sides, top for what is 30 cm high in front or rear, else none"},
		Set: func(o *openingKey, v *value) { o.hinge = new(v.Word) }},
	document.Float(spec{Key: "angle", Shape: document.Quantity, Dim: units.Angle, Range: "30 degrees..180 degrees", Example: "65 degrees", Help: "between its leaf and the wall, 30 to 180 degrees; 180 for one that slides or is off; not stated: 65 for doors, 85 for lids"},
		func(o *openingKey) *float64 { return &o.angle }),
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
			var k openingKey
			if !openingSchema.Decode(r, item, &k, nil) {
				continue
			}
			o, ok := k.hang(r, item)
			c.good = c.good && ok
			set.Openings = append(set.Openings, o)
			if k.hinge == nil && o.Leaf.Hinge != cabin.Unhinged {
				c.guessed = append(c.guessed, fmt.Sprintf("something hangs on the opening of %.3g x %.3g m of %q (hinge is not stated): by its size a door or lid", o.Width, o.Height, name))
			}
		}
		c.sets = append(c.sets, set)
		c.setAt = append(c.setAt, at)
	})
}
