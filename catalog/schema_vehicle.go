package catalog

import (
	"fmt"
	"io/fs"
	"path"
	"path/filepath"
	"slices"
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
	body           *yaml.Node
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
	return carField{
		Spec: spec{Key: key, Shape: document.Quantity, Dim: dim, Range: bounds, Example: sample, Help: help},
		Set:  func(c *car, v *value) { *to(c) = v.SI },
	}
}

var placeSpec = spec{Key: "places", Shape: document.Point, Range: "0 m..20 m", Example: "35 x 98 x 76 cm"}

var vehicleSchema = document.NewSchema("a vehicle", []carField{
	{Spec: spec{Key: "name", Shape: document.Text, Required: true, Example: "blue sedan", Help: "what briefs call it"},
		Set: func(c *car, v *value) { c.v.Name = v.Text }},
	{Spec: spec{Key: "body", Shape: document.Text, Example: "small sedan", Help: "the body style that it starts from"},
		Set: func(c *car, v *value) { c.body = v.Node }},
	{Spec: spec{Key: "open_field", Shape: document.Flag, Default: "false", Help: "no car: the box on open ground, the meter 1 m away"},
		Set: func(c *car, v *value) { c.openField = v.Flag }},
	{Spec: spec{Key: "inside", Shape: document.Size, Range: "50 cm..10 m", Example: "240 x 136 x 112 cm", Help: "inside length x width x height"},
		Set: func(c *car, v *value) { c.inside = v.Three }},
	carQuantity("first_mode_q", units.Number, "1..50", "5", "quality factor of the lowest resonance of the cabin", func(c *car) *float64 { return &c.q }),
	carQuantity("admittance", units.Admittance, ">0..1", "0.05", "specific wall admittance, in place of first_mode_q", func(c *car) *float64 { return &c.admittance }),
	{Spec: spec{Key: "space", Shape: document.Size, Range: "5 cm..10 m", Example: "95 x 45 x 50 cm", Help: "width x depth x height that is free for boxes"},
		Set: func(c *car, v *value) { c.v.Space = Size3{v.Three[0], v.Three[1], v.Three[2]} }},
	carQuantity("alternator", units.Current, ">0 A..1000 A", "70 A", "its rated current", func(c *car) *float64 { return &c.v.Alternator }),
	carQuantity("standby", units.Current, ">0 A..500 A", "30 A", "current that the car itself takes, engine running", func(c *car) *float64 { return &c.v.Standby }),
	carQuantity("cable_run", units.Length, "20 cm..30 m", "4.5 m", "cable from the battery to the amplifier, one way", func(c *car) *float64 { return &c.v.CableRun }),
	{Spec: spec{Key: "source", Shape: document.Point, Range: "0 m..20 m", Example: "195 x 68 x 30 cm", Help: "where the box stands: from the front, from the left, from the floor"},
		Set: func(c *car, v *value) { c.source = &cabin.Point{X: v.Three[0], Y: v.Three[1], Z: v.Three[2]} }},
	carQuantity("source_area", units.Area, "10 cm2..2 m2", "700 cm2", "area of the cones and ports", func(c *car) *float64 { return &c.area }),
	{Spec: spec{Key: "places", Shape: document.Table, Dim: units.Length, Example: "{dash: 35 x 98 x 76 cm}", Help: "places by name: from the front x from the left x from the floor"},
		Nested: func(r *document.Reader, c *car, n *yaml.Node) { readPlaces(r, c, n) }},
	{Spec: spec{Key: "openings", Shape: document.Table, Sub: openingSchema.Specs(), Example: "{doors open: [{wall: left, from: 30 x 5 cm, size: 100 x 103 cm}]}", Help: "what can stand open, by name"},
		Nested: func(r *document.Reader, c *car, n *yaml.Node) { readSets(r, c, n) }},
	{Spec: spec{Key: "curve", Shape: document.Group, Sub: curveSchema.Specs(), Example: "cabin-gain.csv", Help: "a measured curve in place of the computed one: the name of a CSV file, or the keys below"},
		Nested: func(r *document.Reader, c *car, n *yaml.Node) { readCurveKey(r, c, n) }},
	{Spec: spec{Key: "note", Shape: document.Text, Help: "anything worth remembering"}, Set: func(*car, *value) {}},
})

var wallWords = []string{cabin.Front: "front", cabin.Rear: "rear", cabin.Left: "left", cabin.Right: "right", cabin.Floor: "floor", cabin.Roof: "roof"}

var openingSchema = document.NewSchema("an opening", []document.Field[cabin.Opening]{
	{Spec: spec{Key: "wall", Shape: document.Word, Words: wallWords, Required: true, Help: "the wall that it is in"},
		Set: func(o *cabin.Opening, v *value) { o.Wall = cabin.Wall(v.Word) }},
	{Spec: spec{Key: "from", Shape: document.Pair, Range: "0 m..20 m", Required: true, Example: "30 x 5 cm", Help: "its corner in the wall: from the front (or left) x from the floor (or left)"},
		Set: func(o *cabin.Opening, v *value) { o.U, o.V = v.Three[0], v.Three[1] }},
	{Spec: spec{Key: "size", Shape: document.Pair, Range: "1 cm..10 m", Required: true, Example: "100 x 103 cm", Help: "width x height in the wall"},
		Set: func(o *cabin.Opening, v *value) { o.Width, o.Height = v.Three[0], v.Three[1] }},
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

// curveKey is the mapping form of the key curve.
type curveKey struct {
	file string
	at   *yaml.Node
	c    cabin.Curve
}

var curveSchema = document.NewSchema("a curve", []document.Field[curveKey]{
	{Spec: spec{Key: "file", Shape: document.Text, Required: true, Example: "cabin-gain.csv", Help: "a CSV file with the columns frequency_hz and gain_db, beside the vehicle file"},
		Set: func(k *curveKey, v *value) { k.file, k.at = v.Text, v.Node }},
	{Spec: spec{Key: "place", Shape: document.Text, Example: "headrest", Help: "the place that it was measured at; not stated: all"},
		Set: func(k *curveKey, v *value) { k.c.Place = v.Text }},
	{Spec: spec{Key: "openings", Shape: document.Text, Example: "shut", Help: "what stood open; not stated: all"},
		Set: func(k *curveKey, v *value) { k.c.Openings = v.Text }},
	{Spec: spec{Key: "spread", Shape: document.Quantity, Dim: units.Level, Range: "0 dB..20 dB", Default: "1.5 dB", Example: "1.5 dB", Help: "one standard deviation of the measured values"},
		Set: func(k *curveKey, v *value) { k.c.Spread = v.SI }},
})

// defaultCurveSpread is what a careful reading with a hand-held meter scatters
// by, dB (common practice, no source).
const defaultCurveSpread = 1.5

func readCurveKey(r *document.Reader, c *car, n *yaml.Node) {
	k := curveKey{c: cabin.Curve{Spread: defaultCurveSpread}}
	if document.Resolve(n).Kind == yaml.ScalarNode {
		var v value
		if !r.Read(n, &spec{Key: "curve", Shape: document.Text, Example: "cabin-gain.csv"}, &v) {
			return
		}
		k.file, k.at = v.Text, n
	} else if !curveSchema.Decode(r, n, &k, nil) {
		return
	}
	name := beside(c.fsys, r.File.Name, k.file)
	if !fs.ValidPath(name) && c.fsys != (systemFiles{}) {
		r.Complain(k.at, fmt.Sprintf("%q leads out of the folder", k.file), "name a file beside the vehicle file")
		return
	}
	file, problem := document.ReadFile(c.fsys, name, mostCurveBytes)
	if problem != nil {
		r.Complain(k.at, fmt.Sprintf("%s: %s", name, problem.Summary), problem.Detail)
		return
	}
	hz, gain, problems := readCurve(file)
	for _, p := range problems {
		r.Add(p)
	}
	if len(problems) == 0 {
		k.c.Hz, k.c.Gain = hz, gain
		c.curve = &k.c
	}
}

// beside is a file name seen from another file.
func beside(fsys fs.FS, from, name string) string {
	if _, ok := fsys.(systemFiles); !ok {
		return path.Join(path.Dir(from), name)
	}
	if filepath.IsAbs(name) {
		return name
	}
	return filepath.Join(filepath.Dir(from), name)
}

// finish makes the vehicle out of its style and its own values.
func (c *car) finish(r *document.Reader, n *yaml.Node) {
	if c.openField {
		open := OpenField()
		open.Name, open.Where = c.v.Name, r.Where(n)
		c.v = open
		return
	}
	if c.body == nil {
		if c.at["body"] == nil {
			r.Complain(n, "a vehicle needs the key \"body\"", "the body style that it starts from: add body: and one of "+strings.Join(bodyNames(), ", "))
		}
		return
	}
	style := strings.TrimSpace(document.Resolve(c.body).Value)
	body, ok := cabin.BodyNamed(style)
	if !ok {
		r.Complain(c.body, fmt.Sprintf("%q is not a body style", style),
			hint(units.Nearest(style, bodyNames()), "the body styles are "+strings.Join(bodyNames(), ", ")))
		return
	}
	style = body.Name
	c.override(&body)
	body.Name = c.v.Name
	c.v.Body = body
	c.v.Assumed = append([]string(nil), body.Assumed...)
	c.v.assume(style)
	c.check(r, n, style)
}

// override puts the car's own values in place of the style's, and drops the
// assumptions that they replace.
func (c *car) override(body *cabin.Body) {
	stated := func(words ...string) {
		body.Assumed = slices.DeleteFunc(body.Assumed, func(a string) bool {
			return slices.ContainsFunc(words, func(w string) bool { return strings.HasPrefix(a, w) })
		})
	}
	if c.inside != [3]float64{} {
		*body = body.Resized(c.inside[0], c.inside[1], c.inside[2])
		body.Spread.Length, body.Spread.Width, body.Spread.Height = statedSize, statedSize, statedSize
		stated("inside dimensions", "the boot counts")
	}
	switch {
	case c.q > 0:
		*body = body.WithFirstModeQ(c.q)
	case c.admittance > 0:
		body.Cavity.Admittance = c.admittance
	}
	if c.q > 0 || c.admittance > 0 {
		stated("Q of the first mode")
		body.Spread.Admittance = min(body.Spread.Admittance, statedDamping)
	}
	if c.source != nil {
		body.Source = *c.source
	}
	if c.area > 0 {
		body.SourceArea = c.area
	}
	for _, p := range c.places {
		if i := slices.IndexFunc(body.Places, func(q cabin.NamedPlace) bool { return strings.EqualFold(q.Name, p.Name) }); i >= 0 {
			body.Places[i] = p
		} else {
			body.Places = append(body.Places, p)
		}
	}
	for _, s := range c.sets {
		if i := slices.IndexFunc(body.Sets, func(q cabin.NamedOpenings) bool { return strings.EqualFold(q.Name, s.Name) }); i >= 0 {
			body.Sets[i] = s
		} else {
			body.Sets = append(body.Sets, s)
		}
	}
	if c.curve != nil {
		body.Curve = c.curve
	}
}

// Spreads of values that somebody measured in the car with a tape, or fitted
// from readings (common practice, no source).
const (
	statedSize    = 0.02
	statedDamping = 0.2
)

func bodyNames() []string {
	var out []string
	for _, b := range cabin.Bodies() {
		out = append(out, b.Name)
	}
	return out
}

// check reports what cannot be in the car, at the key that says so.
func (c *car) check(r *document.Reader, n *yaml.Node, style string) {
	b := &c.v.Body
	l, w, h := b.Cavity.Length, b.Cavity.Width, b.Cavity.Height
	size := fmt.Sprintf("the inside is %.0f x %.0f x %.0f cm", 100*l, 100*w, 100*h)
	outside := func(p cabin.Point) bool { return p.X > l || p.Y > w || p.Z > h }
	if c.source != nil && outside(*c.source) {
		r.Complain(c.at["source"], "the source stands outside the car", size)
	}
	before := r.Count()
	for i, p := range c.places {
		if outside(p.Point) {
			r.Complain(c.placeAt[i], fmt.Sprintf("%s lies outside the car", p.Name), size)
		}
	}
	for i, s := range c.sets {
		if err := b.Cavity.CheckOpenings(s.Openings); err != nil {
			r.Complain(c.setAt[i], fmt.Sprintf("%s does not fit the car: %v", s.Name, err), size)
		}
	}
	if c.q > 0 && c.admittance > 0 {
		r.Twice(c.at["admittance"], "the damping is given twice", "keep first_mode_q or admittance", r.Where(c.at["first_mode_q"]))
	}
	if c.curve != nil {
		for _, s := range [...]struct {
			word, what string
			names      []string
		}{{c.curve.Place, "place", b.PlaceNames()}, {c.curve.Openings, "set of openings", b.OpeningNames()}} {
			if s.word != "" && !slices.ContainsFunc(s.names, func(k string) bool { return strings.EqualFold(k, s.word) }) {
				r.Complain(c.at["curve"], fmt.Sprintf("the car has no %s called %q", s.what, s.word),
					hint(units.Nearest(s.word, s.names), "there are "+strings.Join(s.names, ", ")))
			}
		}
	}
	if v := &c.v; v.Standby >= v.Alternator {
		at, what := c.at["standby"], "the car takes more than its alternator gives"
		if at == nil {
			at = c.at["alternator"]
		}
		r.Warn(or(at, n), what, fmt.Sprintf("%g A of %g A: nothing is left for an amplifier", v.Standby, v.Alternator))
	}
	if !c.good || r.Count() > before {
		return
	}
	if err := b.Check(); err != nil {
		r.Complain(n, err.Error(), "mend the value, or leave it out to take that of a "+style)
	}
}

func or(a, b *yaml.Node) *yaml.Node {
	if a != nil {
		return a
	}
	return b
}
