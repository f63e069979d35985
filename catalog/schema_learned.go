package catalog

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"go.yaml.in/yaml/v3"

	"loudfor/catalog/document"
	"loudfor/catalog/units"
	"loudfor/model/cabin"
)

// The key learned of a vehicle: what readings in the car have taught, written
// by the program. All numbers are in standard deviations of what the car's
// other keys leave uncertain, so that the file stays a description of the car
// as stated, plus what was learned; without the key it is the car as before,
// and the next learning starts from there. What was learned with other equations
// than these says nothing about a car of these: it is left out, and that is said
// with every answer.

// learnedKey is the mapping while it is read.
type learnedKey struct {
	l          cabin.Learned
	names      []string // of the unknowns
	shift      []float64
	determined []cabin.Direction
}

type learnedField = document.Field[learnedKey]

var learnedSchema = document.NewSchema("what was learned", []learnedField{
	{Spec: spec{Key: "from", Shape: document.Text, Required: true, Example: "8 readings, 2026-03-09", Help: "where it comes from"},
		Set: func(*learnedKey, *value) {}},
	{Spec: equationsSpec, Set: func(*learnedKey, *value) {}}, // read beforehand
	document.Int(spec{Key: "readings", Shape: document.Whole, Range: "1..100000", Required: true, Example: "8", Help: "how many readings it was learned from"},
		func(k *learnedKey) *int { return &k.l.Readings }),
	document.Float(spec{Key: "leave_one_out", Shape: document.Quantity, Dim: units.Level, Range: "0 dB..40 dB", Example: "0.7 dB", Help: "rms error of each reading foretold by the others; not stated: too few readings"},
		func(k *learnedKey) *float64 { return &k.l.LeaveOneOut }),
	document.Float(spec{Key: "widened", Shape: document.Quantity, Dim: units.Number, Range: fmt.Sprintf("1..%g", cabin.MostWidened), Default: "1", Example: "1", Help: "factor on all spreads that are left, from the leave-one-out errors"},
		func(k *learnedKey) *float64 { return &k.l.Widened }),
	{Spec: spec{Key: "shift", Shape: document.Table, Dim: units.Number, Required: true, Example: "{length: 0.8, damping: -0.3}", Help: "how far the car is from the one stated, in standard deviations"},
		Nested: func(r *document.Reader, k *learnedKey, n *yaml.Node) { k.shift = k.vector(r, "shift", n) }},
	{Spec: spec{Key: "determined", Shape: document.Groups, Example: "[{left: 0.2, along: {length: 0.8, level: -0.6}}]", Help: "directions in which the readings have narrowed the spread"},
		Nested: func(r *document.Reader, k *learnedKey, n *yaml.Node) {
			for _, item := range r.Items(n, &spec{Key: "determined"}) {
				d := directionKey{key: k}
				if directionSchema.Decode(r, item, &d, nil) && d.unit(r, item) {
					k.determined = append(k.determined, d.d)
				}
			}
		}},
})

// equationsSpec is made ready by a schema, for it is read before the others are.
var equationsSpec = document.NewSchema("the equations", []document.Field[int]{
	document.Int(spec{Key: "equations", Shape: document.Whole, Range: "1..1000", Example: fmt.Sprint(cabin.Equations), Help: "number of the program's equations of a car with which it was learned; with others it is not used"}, func(to *int) *int { return to }),
}).Fields[0].Spec

// learnedSpecs are its keys, with those of a direction under theirs.
func learnedSpecs() []spec {
	specs := learnedSchema.Specs()
	for i := range specs {
		if specs[i].Key == "determined" {
			specs[i].Sub = directionSchema.Specs()
		}
	}
	return specs
}

// directionKey is one direction while it is read.
type directionKey struct {
	key *learnedKey
	d   cabin.Direction
}

var directionSchema = document.NewSchema("a direction", []document.Field[directionKey]{
	document.Float(spec{Key: "left", Shape: document.Quantity, Dim: units.Number, Range: "0..1", Required: true, Example: "0.2", Help: "share of the spread that is left along it"},
		func(d *directionKey) *float64 { return &d.d.Spread }),
	{Spec: spec{Key: "along", Shape: document.Table, Dim: units.Number, Required: true, Example: "{length: 0.8, level: -0.6}", Help: "the direction, of length 1"},
		Nested: func(r *document.Reader, d *directionKey, n *yaml.Node) { d.d.Along = d.key.vector(r, "along", n) }},
})

// deviationSpec is that of each unknown, with its range made ready.
var deviationSpec = document.NewSchema("an unknown", []document.Field[float64]{
	document.Float(spec{Key: "deviation", Shape: document.Quantity, Dim: units.Number, Range: fmt.Sprintf("%g..%g", -cabin.MostShift, cabin.MostShift), Example: "0.8"}, func(to *float64) *float64 { return to }),
}).Fields[0].Spec

// vector reads a table of unknowns; what is not named is zero.
func (k *learnedKey) vector(r *document.Reader, key string, n *yaml.Node) []float64 {
	out := make([]float64, len(k.names))
	pairs(r, n, key, "{length: 0.8}", func(name string, at, number *yaml.Node) {
		i := slices.Index(k.names, strings.ToLower(name))
		if i < 0 {
			r.Complain(at, fmt.Sprintf("%q is no unknown of this car", name),
				hint(units.Nearest(name, k.names), "the unknowns are "+strings.Join(k.names, ", ")))
			return
		}
		s, v := deviationSpec, value{}
		s.Key = name
		if r.Read(number, &s, &v) {
			out[i] = v.SI
		}
	})
	return out
}

// unit takes from a direction what the file's rounding has done to it: its length
// is brought to 1, and what it has along those before it is taken off.
func (d *directionKey) unit(r *document.Reader, n *yaml.Node) bool {
	const mend = "write it as the program did, or learn the car again"
	along := d.d.Along
	if length := math.Sqrt(product(along, along)); math.Abs(length-1) > cabin.Rounding {
		r.Complain(n, fmt.Sprintf("the direction has the length %.3g, not 1", length), mend)
		return false
	}
	for i, before := range d.key.determined {
		if !cabin.Across(along, before.Along) {
			r.Complain(n, fmt.Sprintf("the direction is not at right angles to number %d: what the readings left along it would count twice", i+1), mend)
			return false
		}
	}
	for _, before := range d.key.determined {
		cosine := product(along, before.Along)
		for i := range along {
			along[i] -= cosine * before.Along[i]
		}
	}
	length := math.Sqrt(product(along, along)) // far from 0: it was 1, and little was taken off
	for i := range along {
		along[i] /= length
	}
	return true
}

func product(a, b []float64) (sum float64) {
	for i := range a {
		sum += a[i] * b[i]
	}
	return sum
}

// learn reads the key once the places of the car are known.
func (c *car) learn(r *document.Reader, body *cabin.Body) {
	if c.learned == nil || c.outdated(r) {
		return
	}
	k := learnedKey{names: body.Unknowns()}
	k.l.Widened = 1
	if !learnedSchema.Decode(r, c.learned, &k, nil) {
		c.good = false
		return
	}
	k.l.Shift, k.l.Determined = cabin.DeviationOf(k.shift), k.determined
	body.Learned = &k.l
	// What the style gave is no longer all that is known of these.
	body.Assumed = slices.DeleteFunc(body.Assumed, func(a string) bool {
		return slices.ContainsFunc([]string{"inside dimensions", "Q of the first mode", "places, source"}, func(w string) bool { return strings.HasPrefix(a, w) })
	})
	words := fmt.Sprintf("of dimensions, damping, places and openings, what %d readings in the car did not determine", k.l.Readings)
	if k.l.LeaveOneOut > 0 {
		words += fmt.Sprintf(" (each foretold by the others to %.1f dB rms)", k.l.LeaveOneOut)
	}
	body.Assumed = append(body.Assumed, words)
}

// outdated says whether something was learned with other equations, which is said
// and left out; it may be about unknowns that are none any more.
func (c *car) outdated(r *document.Reader) bool {
	key := document.Resolve(c.learned)
	if key.Kind != yaml.MappingNode {
		return false
	}
	at := r.Lookup(key, equationsSpec.Key)
	if at != nil {
		s, v := equationsSpec, value{}
		if !r.Read(at, &s, &v) {
			c.good = false
			return true
		}
		if v.Count == cabin.Equations {
			return false
		}
	}
	const what = "what readings taught about this car is not used: it was learned with other equations of a car than these"
	const mend = "learn it again from the same readings: loudfor meter learn READINGS --vehicles FILE --out FILE"
	r.Warn(or(at, c.learned), what, mend)
	c.v.Outdated = what + "; " + mend
	return true
}

// LearnedVehicle gives the text of a file of vehicles in which one car has
// what was learned about it, in place of what was learned before; everything
// else, remarks included, stays. Without a text the file has that car alone,
// which is then a body style. from is said to be where it comes from, and
// remarks are put beside the key.
func LearnedVehicle(text []byte, v Vehicle, from string, remarks []string) ([]byte, error) {
	if v.Body.Learned == nil {
		return nil, fmt.Errorf("nothing was learned about %q", v.Name)
	}
	if len(text) == 0 {
		text = fmt.Appendf(nil, "vehicles:\n  - name: %s\n    body: %s\n", v.Name, v.Name)
	}
	var doc yaml.Node
	if err := yaml.Unmarshal(text, &doc); err != nil {
		return nil, err
	}
	item := carNode(&doc, v.Name)
	if item == nil {
		return nil, fmt.Errorf("the file has no vehicle %q", v.Name)
	}
	for k := 0; k+1 < len(item.Content); k += 2 {
		if item.Content[k].Value == "learned" {
			item.Content = slices.Delete(item.Content, k, k+2)
			break
		}
	}
	key := scalarNode("learned")
	key.HeadComment = commented(remarks)
	item.Content = append(item.Content, key, learnedNode(v.Body, from))
	item.Style = 0 // a car in braces would not take the group well
	var out strings.Builder
	e := yaml.NewEncoder(&out)
	e.SetIndent(2)
	if err := e.Encode(&doc); err != nil {
		return nil, err
	}
	return []byte(out.String()), nil
}

func commented(lines []string) string {
	var b strings.Builder
	for _, l := range lines {
		b.WriteString("# " + strings.ReplaceAll(l, "\n", " ") + "\n")
	}
	return strings.TrimSuffix(b.String(), "\n")
}

// carNode is the mapping of a vehicle in a file of vehicles.
func carNode(doc *yaml.Node, name string) *yaml.Node {
	if len(doc.Content) == 0 {
		return nil
	}
	top := document.Resolve(doc.Content[0])
	for k := 0; k+1 < len(top.Content); k += 2 {
		if top.Content[k].Value != "vehicles" {
			continue
		}
		for _, item := range document.Resolve(top.Content[k+1]).Content {
			item = document.Resolve(item)
			for i := 0; i+1 < len(item.Content); i += 2 {
				if item.Content[i].Value == "name" && strings.EqualFold(strings.TrimSpace(document.Resolve(item.Content[i+1]).Value), name) {
					return item
				}
			}
		}
	}
	return nil
}

// Digits of what is written: standard deviations to a ten-thousandth, far
// below anything that a reading shows.
const learnedDigits = 4

func learnedNode(b cabin.Body, from string) *yaml.Node {
	l := b.Learned
	n := &yaml.Node{Kind: yaml.MappingNode}
	put := func(key string, value *yaml.Node) { n.Content = append(n.Content, scalarNode(key), value) }
	put("from", scalarNode(from))
	put(equationsSpec.Key, scalarNode(fmt.Sprint(cabin.Equations)))
	put("readings", scalarNode(fmt.Sprint(l.Readings)))
	if l.LeaveOneOut > 0 {
		put("leave_one_out", scalarNode(fmt.Sprintf("%.2f dB", l.LeaveOneOut)))
	}
	put("widened", scalarNode(fmt.Sprintf("%.3f", l.Widened)))
	names := b.Unknowns()
	put("shift", vectorNode(names, l.Shift.Vector()))
	list := &yaml.Node{Kind: yaml.SequenceNode}
	for _, d := range l.Determined {
		m := &yaml.Node{Kind: yaml.MappingNode, Style: yaml.FlowStyle}
		m.Content = append(m.Content, scalarNode("left"), scalarNode(fmt.Sprintf("%.*f", learnedDigits, d.Spread)), scalarNode("along"), vectorNode(names, d.Along))
		list.Content = append(list.Content, m)
	}
	if len(list.Content) > 0 {
		put("determined", list)
	}
	return n
}

func vectorNode(names []string, v []float64) *yaml.Node {
	n := &yaml.Node{Kind: yaml.MappingNode, Style: yaml.FlowStyle}
	for i, name := range names {
		if text := fmt.Sprintf("%.*f", learnedDigits, v[i]); strings.Trim(text, "-0.") != "" {
			n.Content = append(n.Content, scalarNode(name), scalarNode(text))
		}
	}
	return n
}

func scalarNode(text string) *yaml.Node {
	n := &yaml.Node{}
	n.SetString(text)
	if n.Tag == "!!str" {
		n.Tag = ""
	}
	return n
}
