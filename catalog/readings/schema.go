package readings

import (
	"fmt"
	"maps"

	"go.yaml.in/yaml/v3"

	"loudfor/catalog"
	"loudfor/catalog/document"
	"loudfor/catalog/prices"
	"loudfor/catalog/units"
)

// The keys of a reading: one table for YAML and CSV.

type (
	spec  = document.Spec
	field = document.Field[Reading]
)

func text(key, sample, help string, required bool, to func(*Reading) *string) field {
	return document.String(spec{Key: key, Shape: document.Text, Example: sample, Help: help, Required: required}, to)
}

func measured(key string, dim units.Dimension, bounds, sample, help string, required bool, to func(*Reading) *float64) field {
	return document.Float(spec{Key: key, Shape: document.Named, Dim: dim, Range: bounds, Example: sample, Help: help, Required: required}, to)
}

var dateSpec = spec{Key: "date", Shape: document.Text, Example: "2026-03-09", Help: "the day"}

// shared are the keys that may also stand above the list, for all readings.
var shared = []field{
	{Spec: dateSpec, Nested: readDate},
	text("vehicle", "small sedan", "the car, as briefs call it", false, func(r *Reading) *string { return &r.Vehicle }),
	text("build", "demo:value-12-sealed", "what was metered: a build file, demo:NAME, or its parts such as \"OR-M3, TM-12V x 2, KE-D12\"", false, func(r *Reading) *string { return &r.Build }),
	text("place", "dash", "where the meter stood: a place of the vehicle", false, func(r *Reading) *string { return &r.Place }),
	text("openings", "doors open", "what stood open", false, func(r *Reading) *string { return &r.Openings }),
	measured("tolerance", units.Level, ">0 dB..10 dB", "0.5 dB", "one standard deviation of the level meter", false, func(r *Reading) *float64 { return &r.Tolerance }),
}

var schema = document.NewSchema("a reading", append(append([]field{}, shared...),
	measured("frequency", units.Frequency, "5 Hz..500 Hz", "40 Hz", "of the tone", true, func(r *Reading) *float64 { return &r.Frequency }),
	measured("level", units.Level, "40 dB..190 dB", "124.1 dB", "what the level meter showed", true, func(r *Reading) *float64 { return &r.Level }),
	measured("clamp_voltage", units.Voltage, ">0 V..1000 V", "26 V", "at one output of the amplifier, rms", false, func(r *Reading) *float64 { return &r.Volts }),
	measured("clamp_current", units.Current, ">0 A..1000 A", "6.2 A", "from that output, rms", false, func(r *Reading) *float64 { return &r.Amps }),
	measured("power", units.Power, ">0 W..50000 W", "146 W", "real power from that output, of a meter that shows it beside volts and amperes", false, func(r *Reading) *float64 { return &r.Watts }),
	measured("supply_voltage", units.Voltage, "8 V..20 V", "13.6 V", "at the amplifier's supply terminals, during the tone", false, func(r *Reading) *float64 { return &r.Supply }),
	text("note", "rain", "anything worth remembering", false, func(r *Reading) *string { return &r.Note }),
))

func readDate(r *document.Reader, to *Reading, n *yaml.Node) {
	var v document.Value
	if !r.Read(n, &dateSpec, &v) {
		return
	}
	d, err := prices.ParseDate(v.Text)
	if err != nil {
		r.Complain(n, err.Summary, err.Remedy)
		return
	}
	to.Date = d
}

// top is a file of readings.
type top struct {
	common Reading
	list   []Reading
}

var topSchema = func() *document.Schema[top] {
	fields := []document.Field[top]{{
		Spec:   spec{Key: "readings", Shape: document.Groups, Required: true, Sub: schema.Specs(), Help: "the readings, one item each", Example: "[{frequency: 40 Hz, level: 124.1 dB}]"},
		Nested: func(r *document.Reader, t *top, n *yaml.Node) { t.items(r, n) },
	}}
	for _, f := range shared {
		g := document.Field[top]{Spec: f.Spec}
		if f.Nested != nil {
			g.Nested = func(r *document.Reader, t *top, n *yaml.Node) { f.Nested(r, &t.common, n) }
		} else {
			g.Set = func(t *top, v *document.Value) { f.Set(&t.common, v) }
		}
		fields = append(fields, g)
	}
	return document.NewSchema("a file of readings", fields)
}()

func (t *top) items(r *document.Reader, n *yaml.Node) {
	for _, item := range r.Items(n, &spec{Key: "readings"}) {
		one := Reading{Where: r.Where(item), At: map[string]catalog.Position{}}
		good := schema.Decode(r, item, &one, func(k int, v *yaml.Node) { one.At[schema.Fields[k].Key] = r.Where(v) })
		if good {
			good = whole(r, &one, item)
		}
		if good {
			t.list = append(t.list, one)
		}
	}
}

// whole refuses a reading whose values cannot stand together.
func whole(r *document.Reader, one *Reading, n *yaml.Node) bool {
	if one.Amps > 0 && one.Volts == 0 {
		at := r.Lookup(document.Resolve(n), "clamp_current")
		r.Complain(at, "amperes without volts say nothing of power or impedance", "add clamp_voltage, measured at the same output, or remove clamp_current")
		return false
	}
	if one.Watts > 0 && one.Amps == 0 {
		at := r.Lookup(document.Resolve(n), "power")
		r.Complain(at, "watts without volts and amperes cannot be held against anything", "add clamp_voltage and clamp_current, measured at the same output, or remove power")
		return false
	}
	if most := one.Volts * one.Amps; one.Watts > most*mostPower {
		at := r.Lookup(document.Resolve(n), "power")
		r.Complain(at, fmt.Sprintf("%g W is more than %g V times %g A, which is %.0f VA", one.Watts, one.Volts, one.Amps, most),
			"real power is never more than volts times amperes: mend one of the three")
		return false
	}
	return true
}

// mostPower is by how much real power may seem to exceed volts times amperes: two
// meters of 5 % each (common practice, no source).
const mostPower = 1.1

// inherit fills in what a reading leaves to the top of its file, and the
// defaults.
func (t *top) inherit(at map[string]catalog.Position) {
	for i := range t.list {
		one := &t.list[i]
		stated := one.At
		one.At = maps.Clone(at)
		if one.At == nil {
			one.At = map[string]catalog.Position{}
		}
		maps.Copy(one.At, stated)
		c := &t.common
		if one.Date.IsZero() {
			one.Date = c.Date
		}
		if one.Tolerance == 0 {
			one.Tolerance = c.Tolerance
		}
		for _, s := range [...]struct {
			own           *string
			common, usual string
		}{{&one.Vehicle, c.Vehicle, ""}, {&one.Build, c.Build, ""}, {&one.Place, c.Place, usualPlace}, {&one.Openings, c.Openings, usualOpenings}} {
			if *s.own == "" {
				*s.own = s.common
			}
			if *s.own == "" {
				*s.own = s.usual
			}
		}
	}
}

// What a reading means that does not say where, as for a brief.
const (
	usualPlace    = "dash"
	usualOpenings = "shut"
)

// Reference lists the keys of a file of readings.
func Reference() []document.Spec { return topSchema.Specs() }
