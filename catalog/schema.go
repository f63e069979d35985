package catalog

import (
	"go.yaml.in/yaml/v3"

	"loudfor/catalog/document"
	"loudfor/catalog/units"
	"loudfor/model/amplifier"
)

// One table per kind of part says which keys there are, what their values look
// like and where they are kept. Reading, writing, messages and the reference of
// keys all come from these tables.

type (
	spec      = document.Spec
	value     = document.Value
	partField = document.Field[Part]
)

// common are the keys of every part.
var common = []partField{
	document.String(spec{Key: "sku", Shape: document.Text, Required: true, Example: "TM-12V", Help: "the number that the part is ordered by, unique in the catalogue"},
		func(p *Part) *string { return &p.SKU }),
	{Spec: spec{Key: "kind", Shape: document.Word, Words: kindWords[:], Required: true, Help: "what the part is for"},
		Nested: func(*document.Reader, *Part, *yaml.Node) {}, // partKind has read it: it decides which keys there are
		Get:    func(p *Part, v *value) bool { v.Word = int(p.Kind); return true }},
	document.String(spec{Key: "name", Shape: document.Text, Example: "Tamsel 12-inch value", Help: "the name on the shelf"},
		func(p *Part) *string { return &p.Name }),
	document.String(spec{Key: "maker", Shape: document.Text, Example: "Tamsel", Help: "who makes it"},
		func(p *Part) *string { return &p.Maker }),
	document.String(spec{Key: "store", Shape: document.Text, Example: "Dock Street", Help: "the shop that sells it"},
		func(p *Part) *string { return &p.Store }),
	{Spec: spec{Key: "price", Shape: document.Price, Range: "0..1000000000000", Example: "39.00 USD", Help: "the price before tax; a part without one can only be owned"},
		Set: func(p *Part, v *value) { p.Price, p.Priced = Money(v.Price), true },
		Get: func(p *Part, v *value) bool { v.Price = units.Price(p.Price); return p.Priced }},
	document.Int(spec{Key: "stock", Shape: document.Whole, Range: stockRange, Example: "3", Help: "pieces on the shelf; not stated: as many as wanted"},
		func(p *Part) *int { return &p.Stock }),
	document.Int(spec{Key: "limit", Shape: document.Whole, Range: stockRange, Example: "2", Help: "pieces that one customer may buy"},
		func(p *Part) *int { return &p.Limit }),
	document.String(spec{Key: "note", Shape: document.Text, Example: "clearance", Help: "anything worth remembering"},
		func(p *Part) *string { return &p.Note }),
	{Spec: offersSpec, Nested: readOffers,
		Write: func(w *document.Writer, p *Part) {
			offerSchema.WriteList(w, offersSpec.Key, p.Offers, &Offer{Stock: Unlimited})
		}},
}

// schemas are the tables of the kinds, common keys first.
var schemas = func() (s [KindCount]*document.Schema[Part]) {
	for k := range s {
		fields := append(append([]partField{}, common...), kindFields[k]...)
		s[k] = document.NewSchema(articles[k]+kindWords[k], fields)
		s[k].Elsewhere = func(key string) string { return elsewhere(Kind(k), key) }
	}
	return s
}()

var kindFields = [KindCount][]partField{
	subwooferFields, amplifierFields, enclosureFields, loadedFields, frontFields,
	sourceFields, converterFields, blockerFields, kitFields, sheetFields, workshopFields,
}

// elsewhere names the kinds that have a key which this one has not.
func elsewhere(k Kind, key string) string {
	for other := range kindFields {
		for i := range kindFields[other] {
			if Kind(other) != k && kindFields[other][i].Key == key {
				return key + " is a key of " + articles[other] + kindWords[other]
			}
		}
	}
	return ""
}

// flag, length and the like are the usual makings of a field.
func field(key string, shape document.Shape, dim units.Dimension, bounds, help string, at func(*Part) *float64) partField {
	return document.Float(spec{Key: key, Shape: shape, Dim: dim, Range: bounds, Help: help}, at)
}

// money is a field that holds a sum; one in no currency is not stated.
func money[T any](s spec, at func(*T) *Money) document.Field[T] {
	return document.Field[T]{Spec: s,
		Set: func(t *T, v *value) { *at(t) = Money(v.Price) },
		Get: func(t *T, v *value) bool { v.Price = units.Price(*at(t)); return true }}
}

// size is a field that holds a width, a depth and a height.
func size[T any](s spec, at func(*T) *Size3) document.Field[T] {
	return document.Lengths(s, func(t *T) []*float64 { return []*float64{&at(t).Width, &at(t).Depth, &at(t).Height} })
}

// claimed is a field that holds whether a figure is a claim.
func claimed(help string, at func(*Part) *bool) partField {
	return partField{Spec: spec{Key: "basis", Shape: document.Word, Words: basisWords, Default: basisWords[amplifier.Standard], Help: help},
		Set: func(p *Part, v *value) { *at(p) = v.Word == int(amplifier.Claimed) },
		Get: func(p *Part, v *value) bool { v.Word = int(amplifier.Claimed); return *at(p) }}
}

func required(f partField) partField {
	f.Required = true
	return f
}

func example(f partField, text string) partField {
	f.Example = text
	return f
}

// group reads one nested mapping with a schema of its own and keeps the places
// of its values.
func group[T any](p *Part, r *document.Reader, s *document.Schema[T], n *yaml.Node, path string, dst *T) bool {
	p.Keys.add(path, r.Where(n))
	return s.Decode(r, n, dst, func(sub int, v *yaml.Node) { p.Keys.add(path+"."+s.Fields[sub].Key, r.Where(v)) })
}
