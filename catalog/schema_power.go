package catalog

import (
	"fmt"

	"go.yaml.in/yaml/v3"

	"loudfor/catalog/document"
	"loudfor/catalog/units"
	"loudfor/model/amplifier"
)

// The keys of amplifiers and wiring kits: what makes and carries the power.

var (
	modeWords  = []string{amplifier.Mono: "mono", amplifier.Stereo: "stereo", amplifier.Bridged: "bridged", amplifier.Paralleled: "paralleled"}
	basisWords = []string{amplifier.Claimed: "claimed", amplifier.Standard: "standard", amplifier.Measured: "measured"}
	classWords = []string{"AB", "D"}
)

var ratingSchema = document.NewSchema("a rating", []document.Field[amplifier.Rating]{
	document.Enum(spec{Key: "mode", Shape: document.Word, Words: modeWords, Required: true, Help: "how the channels are used"},
		func(a *amplifier.Rating) *amplifier.Mode { return &a.Mode }),
	document.Float(spec{Key: "load", Shape: document.Quantity, Dim: units.Resistance, Range: "0.1 ohm..100 ohm", Required: true, Example: "4 ohm", Help: "load of one output"},
		func(a *amplifier.Rating) *float64 { return &a.Load }),
	document.Float(spec{Key: "watts", Shape: document.Named, Dim: units.Power, Range: ">0 W..50000 W", Required: true, Example: "150", Help: "continuous power of one output"},
		func(a *amplifier.Rating) *float64 { return &a.Watts }),
	document.Enum(spec{Key: "basis", Shape: document.Word, Words: basisWords, Default: "claimed", Help: "how far the figure can be believed"},
		func(a *amplifier.Rating) *amplifier.Basis { return &a.Basis }),
	document.Float(spec{Key: "volts", Shape: document.Named, Dim: units.Voltage, Range: "9 V..18 V", Default: "14.4 V", Example: "14.4 V", Help: "supply at which it holds"},
		func(a *amplifier.Rating) *float64 { return &a.Volts }),
})

// mostRatings bounds the list of one amplifier.
const mostRatings = 40

// ratingExample is one power.
const ratingExample = "{mode: mono, load: 4 ohm, watts: 300, basis: claimed}"

func readRatings(r *document.Reader, p *Part, n *yaml.Node) {
	p.Keys.add("ratings", r.Where(n))
	items := r.Items(n, &spec{Key: "ratings", Example: "[" + ratingExample + "]"})
	if len(items) == 0 && document.Resolve(n).Kind == yaml.SequenceNode {
		r.Complain(n, "ratings is an empty list", "add at least one, such as "+ratingExample)
	}
	if len(items) > mostRatings {
		r.Complain(items[mostRatings], fmt.Sprintf("more than %d ratings", mostRatings), "keep the ones that matter")
		return
	}
	spec := &p.Amplifier.Spec
	for k, n := range items {
		var a amplifier.Rating
		if !group(p, r, ratingSchema, n, fmt.Sprintf("ratings[%d]", k+1), &a) {
			continue
		}
		for j, b := range spec.Ratings {
			if a.Mode == b.Mode && a.Load == b.Load && a.Basis == b.Basis && a.Volts == b.Volts {
				r.Twice(n, fmt.Sprintf("a second rating for %s into the same load", a.Mode), "keep one of the two", r.Where(items[j]))
			}
		}
		spec.Ratings = append(spec.Ratings, a)
	}
}

var amplifierFields = []partField{
	document.Int(spec{Key: "channels", Shape: document.Whole, Range: "1..16", Required: true, Example: "4", Help: "power channels"},
		func(p *Part) *int { return &p.Amplifier.Spec.Channels }),
	{Spec: spec{Key: "class", Shape: document.Word, Words: classWords, Help: "working principle, which decides the efficiency"},
		Set: func(p *Part, v *value) { p.Amplifier.Spec.Class = amplifier.ClassAB + amplifier.Class(v.Word) },
		Get: func(p *Part, v *value) bool {
			v.Word = int(p.Amplifier.Spec.Class - amplifier.ClassAB)
			return true
		}},
	document.Float(spec{Key: "fuse", Shape: document.Sum, Dim: units.Current, Range: ">0 A..2000 A", Example: "2 x 30 A", Help: "all its fuses"},
		func(p *Part) *float64 { return &p.Amplifier.Spec.Fuse }),
	{Spec: spec{Key: "ratings", Shape: document.Groups, Required: true, Sub: ratingSchema.Specs(), Example: "[" + ratingExample + "]",
		Help: "continuous power of one output for each mode and load"},
		Nested: readRatings,
		Write: func(w *document.Writer, p *Part) {
			// The basis is always written: it is what the figure is worth.
			ratingSchema.WriteList(w, "ratings", p.Amplifier.Spec.Ratings, &amplifier.Rating{Basis: -1})
		}},
	flag("high_pass", "has a high-pass for the front channels", func(p *Part) *bool { return &p.Amplifier.HighPass }),
	flag("low_pass", "has a low-pass for the bass channels", func(p *Part) *bool { return &p.Amplifier.LowPass }),
	flag("bass_control", "has a remote bass level knob", func(p *Part) *bool { return &p.Amplifier.BassControl }),
	flag("speaker_input", "takes the speaker wires of the source", func(p *Part) *bool { return &p.Amplifier.SpeakerInput }),
}

func flag(key, help string, to func(*Part) *bool) partField {
	return document.Bool(spec{Key: key, Shape: document.Flag, Default: "false", Help: help}, to)
}

var kitFields = []partField{
	{Spec: spec{Key: "gauge", Shape: document.Wire, Required: true, Example: "4 AWG", Help: "size of the power cable"},
		Set: func(p *Part, v *value) { p.Kit.Area = wireArea(v.Wire) },
		Get: func(p *Part, v *value) bool { v.Wire = wireOf(p.Kit.Area); return p.Kit.Area > 0 }},
	document.Bool(spec{Key: "material", Shape: document.Word, Words: []string{"copper", "copper-clad aluminium"}, Default: "copper", Help: "what the cable is made of"},
		func(p *Part) *bool { return &p.Kit.CopperClad }),
	required(example(field("length", document.Quantity, units.Length, "10 cm..30 m", "power cable, one way",
		func(p *Part) *float64 { return &p.Kit.Length }), "5 m")),
	field("fuse", document.Sum, units.Current, ">0 A..2000 A", "the fuse in the kit",
		func(p *Part) *float64 { return &p.Kit.Fuse }),
	claimed("how far the gauge can be believed", func(p *Part) *bool { return &p.Kit.GaugeClaimed }),
}
