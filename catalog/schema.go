package catalog

import (
	"slices"

	"go.yaml.in/yaml/v3"

	"loudfor/catalog/document"
	"loudfor/catalog/units"
	"loudfor/model/amplifier"
)

// One table per kind of part says which keys there are, what their values look
// like and where they are kept. Reading, writing, messages and the reference of
// keys all come from these tables.

// item is a part while it is read, with what its keys need until the end.
type item struct {
	part *Part
	keys Keys
	// in the group that is being read
	field int
}

type (
	spec      = document.Spec
	value     = document.Value
	itemField = document.Field[item]
)

// common are the keys of every part.
var common = []itemField{
	document.String(spec{Key: "sku", Shape: document.Text, Required: true, Example: "TM-12V", Help: "the number that the part is ordered by, unique in the catalogue"},
		func(i *item) *string { return &i.part.SKU }),
	{Spec: spec{Key: "kind", Shape: document.Word, Words: kindWords[:], Required: true, Help: "what the part is for"},
		Nested: func(*document.Reader, *item, *yaml.Node) {}, // partKind has read it: it decides which keys there are
		Get:    func(i *item, v *value) bool { v.Word = int(i.part.Kind); return true }},
	document.String(spec{Key: "name", Shape: document.Text, Example: "Tamsel 12-inch value", Help: "the name on the shelf"},
		func(i *item) *string { return &i.part.Name }),
	document.String(spec{Key: "maker", Shape: document.Text, Example: "Tamsel", Help: "who makes it"},
		func(i *item) *string { return &i.part.Maker }),
	document.String(spec{Key: "store", Shape: document.Text, Example: "Dock Street", Help: "the shop that sells it"},
		func(i *item) *string { return &i.part.Store }),
	{Spec: spec{Key: "price", Shape: document.Price, Range: "0..1000000000000", Example: "39.00 USD", Help: "the price before tax; a part without one can only be owned"},
		Set: func(i *item, v *value) { i.part.Price, i.part.Priced = Money(v.Price), true },
		Get: func(i *item, v *value) bool { v.Price = units.Price(i.part.Price); return i.part.Priced }},
	document.Int(spec{Key: "stock", Shape: document.Whole, Range: stockRange, Example: "3", Help: "pieces on the shelf; not stated: as many as wanted"},
		func(i *item) *int { return &i.part.Stock }),
	document.Int(spec{Key: "limit", Shape: document.Whole, Range: stockRange, Example: "2", Help: "pieces that one customer may buy"},
		func(i *item) *int { return &i.part.Limit }),
	document.String(spec{Key: "note", Shape: document.Text, Example: "clearance", Help: "anything worth remembering"},
		func(i *item) *string { return &i.part.Note }),
	{Spec: offersSpec, Nested: func(r *document.Reader, i *item, n *yaml.Node) { readOffers(r, i, n) },
		Write: func(w *document.Writer, i *item) {
			offerSchema.WriteList(w, offersSpec.Key, i.part.Offers, &Offer{Stock: Unlimited})
		}},
}

// schemas are the tables of the kinds, common keys first.
var schemas = func() (s [KindCount]*document.Schema[item]) {
	for k := range s {
		fields := append(append([]itemField{}, common...), kindFields[k]...)
		s[k] = document.NewSchema(articles[k]+kindWords[k], fields)
		s[k].Elsewhere = func(key string) string { return elsewhere(Kind(k), key) }
	}
	return s
}()

var kindFields = [KindCount][]itemField{
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

// findKey gives the number of a key in the table of its kind, and the keys of
// its group. A part of no known kind has the common keys, which come first in
// every table.
func findKey(k Kind, key string) (int, []spec) {
	if k < 0 || k >= KindCount {
		return slices.IndexFunc(common, func(f itemField) bool { return f.Key == key }), nil
	}
	i := schemas[k].Find(key)
	if i < 0 {
		return -1, nil
	}
	return i, schemas[k].Fields[i].Sub
}

// flag, length and the like are the usual makings of a field.
func field(key string, shape document.Shape, dim units.Dimension, bounds, help string, at func(*item) *float64) itemField {
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
func claimed(help string, at func(*item) *bool) itemField {
	return itemField{Spec: spec{Key: "basis", Shape: document.Word, Words: basisWords, Default: basisWords[amplifier.Standard], Help: help},
		Set: func(i *item, v *value) { *at(i) = v.Word == int(amplifier.Claimed) },
		Get: func(i *item, v *value) bool { v.Word = int(amplifier.Claimed); return *at(i) }}
}

func required(f itemField) itemField {
	f.Required = true
	return f
}

func example(f itemField, text string) itemField {
	f.Example = text
	return f
}

// group reads one nested mapping with a schema of its own and keeps the places
// of its values.
func group[T any](i *item, r *document.Reader, s *document.Schema[T], n *yaml.Node, number int, dst *T) bool {
	field := i.field
	i.keys = append(i.keys, keyAt(field, number, 0, r.Where(n)))
	return s.Decode(r, n, dst, func(sub int, v *yaml.Node) {
		i.keys = append(i.keys, keyAt(field, number, sub+1, r.Where(v)))
	})
}
