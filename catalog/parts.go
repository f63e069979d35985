package catalog

import (
	"strings"

	"go.yaml.in/yaml/v3"

	"loudfor/catalog/document"
	"loudfor/catalog/units"
	"loudfor/model/supply"
)

// wireArea is the conductor's cross-section, m2.
func wireArea(w units.Wire) float64 {
	if w.Area > 0 {
		return w.Area
	}
	return supply.AreaOfGauge(w.Gauge)
}

// wireOf is the size of a cross-section, m2: a gauge, if one has exactly this
// area.
func wireOf(area float64) units.Wire {
	if awg, ok := supply.GaugeOf(area); ok && supply.AreaOfGauge(awg) == area {
		return units.Wire{Gauge: awg}
	}
	return units.Wire{Area: area}
}

// readPart reads one item of a list of parts. A part in which something is
// wrong is given as well, so that a SKU which is used twice is found in the
// same run; nil if there is no SKU either.
func readPart(r *document.Reader, n *yaml.Node) *Part {
	kind, ok := partKind(r, n)
	if !ok {
		return unknownPart(r, n)
	}
	p := newPart(kind)
	p.Where = r.Where(n)
	p.Keys = make(Keys, 0, len(document.Resolve(n).Content)/2)
	s := schemas[kind]
	good := s.Decode(r, n, p, func(field int, v *yaml.Node) {
		if f := &s.Fields[field]; f.Nested == nil {
			p.Keys.add(f.Key, r.Where(v))
		}
	})
	if good {
		p.validate(r)
	}
	return p
}

// unknownPart is a part of no known kind, with its SKU alone; nil without one.
func unknownPart(r *document.Reader, n *yaml.Node) *Part {
	m := document.Resolve(n)
	if m.Kind != yaml.MappingNode {
		return nil
	}
	written := r.Lookup(m, common[0].Key)
	sku := document.Resolve(written)
	if sku == nil || sku.Kind != yaml.ScalarNode || strings.TrimSpace(sku.Value) == "" {
		return nil
	}
	p := &Part{SKU: strings.TrimSpace(sku.Value), Kind: KindCount, Where: r.Where(n)}
	p.Keys.add(common[0].Key, r.Where(written))
	return p
}

// newPart is a part of which nothing is stated but its kind: it has the one
// description of that kind, with the defaults that are not zero.
func newPart(kind Kind) *Part {
	p := &Part{Kind: kind, Stock: Unlimited, Limit: Unlimited}
	switch kind {
	case KindSubwoofer:
		p.Subwoofer = &Subwoofer{}
	case KindAmplifier:
		p.Amplifier = &Amplifier{}
	case KindEnclosure:
		p.Enclosure = &Enclosure{}
	case KindLoaded:
		p.Loaded = &Loaded{}
		p.Loaded.Box.Drivers = 1
	case KindFront:
		p.Front = &FrontSpeakers{}
	case KindSource:
		p.Source = &Source{Load: 4}
	case KindConverter:
		p.Converter = &LineConverter{}
	case KindBlocker:
		p.Blocker = &BassBlocker{}
	case KindKit:
		p.Kit = &WiringKit{}
	case KindSheet:
		p.Sheet = &Sheet{}
	case KindWorkshop:
		p.Workshop = &Workshop{PerBox: defaultPerBox, PerPanel: defaultPerPanel, PerHole: defaultPerHole, PerPort: defaultPerPort, Kerf: defaultKerf}
	}
	return p
}

// described tells whether the part has the description of its kind.
func (p *Part) described() bool {
	return [KindCount]bool{
		p.Subwoofer != nil, p.Amplifier != nil, p.Enclosure != nil, p.Loaded != nil, p.Front != nil,
		p.Source != nil, p.Converter != nil, p.Blocker != nil, p.Kit != nil, p.Sheet != nil, p.Workshop != nil,
	}[p.Kind]
}

// partKind finds the kind first, since it decides which keys there are.
func partKind(r *document.Reader, n *yaml.Node) (Kind, bool) {
	m := document.Resolve(n)
	if m.Kind != yaml.MappingNode {
		r.Complain(n, "a part is a group of keys", "write \"- sku: ...\" with its other keys below")
		return 0, false
	}
	kind := r.Lookup(m, "kind")
	if kind == nil {
		r.Complain(n, "a part needs the key \"kind\"", "add kind: and one of "+kindSpec.Expected())
		return 0, false
	}
	var v value
	if k := document.Resolve(kind); k.Kind == yaml.ScalarNode {
		if kindSpec.Has(k.Value, &v) {
			return Kind(v.Word), true
		}
		if k, ok := KindNamed(k.Value); ok {
			return k, true
		}
		remedy := "write " + kindSpec.Expected()
		if near := nearestKind(k.Value); near != "" {
			remedy = "did you mean \"" + near + "\"?\n" + remedy
		}
		r.Complain(kind, "\""+k.Value+"\" is not a kind of part", remedy)
		return 0, false
	}
	r.Complain(kind, "kind is one word", "write "+kindSpec.Expected())
	return 0, false
}

var kindSpec = &spec{Key: "kind", Shape: document.Word, Words: kindWords[:]}
