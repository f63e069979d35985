package catalog

import (
	"math/rand/v2"
	"strings"
	"testing"

	"go.yaml.in/yaml/v3"

	"loudfor/catalog/document"
	"loudfor/model/amplifier"
	"loudfor/model/enclosure"
)

// Every key of every table that is written is filled with a value and gives it
// back. The tables say themselves what a value looks like, so a key that is
// added is tried on the day it is added.
func TestEveryKeyComesBack(t *testing.T) {
	for k := range KindCount {
		comesBack(t, schemas[k], func() *Part { return newPart(k) })
	}
	comesBack(t, loadedDriver, nil)
	comesBack(t, portSchema, func() *enclosure.Port { return &enclosure.Port{} })
	comesBack(t, ratingSchema, func() *amplifier.Rating { return &amplifier.Rating{} })
	comesBack(t, offerSchema, nil)
	comesBack(t, storeSchema, nil)
	comesBack(t, labourSchema, nil)
	comesBack(t, builtBoxSchema, nil)
	comesBack(t, briefSchema, func() *BuildFile { return &BuildFile{Brief: Brief{Keys: map[string]Position{}}} })
	for _, form := range []DealForm{DealSet, DealFrom, DealEvery} {
		own := dealForms[form].key + " " + strings.Join(dealForms[form].needs, " ")
		comesBack(t, dealSchema, func() *Deal { return &Deal{Form: form} }, func(key string) bool {
			return dealForms[DealSet].key != key && key != "sku" && key != "off" || strings.Contains(own, key)
		})
	}
}

func comesBack[T any](t *testing.T, s *document.Schema[T], empty func() *T, only ...func(key string) bool) {
	t.Helper()
	if empty == nil {
		empty = func() *T { return new(T) }
	}
	r := &document.Reader{File: &document.File{}}
	for i := range s.Fields {
		f := &s.Fields[i]
		switch {
		case f.Get == nil && f.Write == nil:
			t.Errorf("%s: the key %s can be read and not written", s.What, f.Key)
		case f.Get == nil || len(only) > 0 && !only[0](f.Key):
			continue
		case f.Nested != nil && f.Shape == document.Word:
			continue // the kind of a part, which is read before its keys
		}
		random := rand.New(rand.NewPCG(uint64(i), 3))
		for range 20 {
			n := &yaml.Node{Kind: yaml.ScalarNode, Tag: "!!str", Value: fill(random, &f.Spec)}
			var in, out document.Value
			to := empty()
			if f.Nested != nil {
				f.Nested(r, to, n)
				in.Items = []string{n.Value}
			} else if r.Read(n, &f.Spec, &in) {
				f.Set(to, &in)
			}
			if found, _ := r.Problems(); len(found) > 0 {
				t.Fatalf("%s: %s: %+v", s.What, f.Key, found)
			}
			// What only the reading has, and what a flag and its word share.
			in.Node = nil
			if f.Shape != document.Text {
				in.Text = ""
			}
			given := f.Get(to, &out)
			if f.Shape == document.Flag {
				out.Word = 0
			}
			if f.Shape == document.Sum {
				in.Count = 0
			}
			if f.Shape == document.Word {
				out.Flag = false
			}
			if f.Shape == document.Price || f.Shape == document.Percent {
				in.SI = 0
			}
			// Whether a gauge or a head unit's power is a claim is all that is kept
			// of its basis.
			if given && !out.Equal(&in) || !given && (f.Key != "basis" || in.Word == int(amplifier.Claimed)) {
				t.Errorf("%s: %s: %s came back as %+v (%v), not as %+v", s.What, f.Key, n.Value, out, given, in)
			}
		}
	}
}

// fill is a value of a key: a random one where the sample knows its form.
func fill(r *rand.Rand, s *document.Spec) string {
	switch s.Shape {
	case document.Texts:
		return "TM-12V x 2"
	case document.Text:
		return "some text"
	case document.Percent:
		return "12.5 %"
	case document.Sum: // whose range is that of the sum
		_, each, _ := strings.Cut(sample(r, s, "", map[string]bool{}), " x ")
		return each
	case document.Wire:
		return []string{"4 AWG", "2/0 AWG"}[r.IntN(2)]
	}
	return sample(r, s, "", map[string]bool{})
}
