package catalog

import (
	"fmt"
	"strings"

	"go.yaml.in/yaml/v3"

	"loudfor/catalog/document"
	"loudfor/catalog/units"
)

// The keys of work and of taxes, in briefs and vehicles.

// perBuild is the word for work that is done once.
const perBuild = "build"

var (
	perWords    = append(append([]string{}, kindWords[:firstForBuilding]...), perBuild)
	piecesWords = []string{"bought", "installed"}
)

var labourSchema = document.NewSchema("a line of labour", []document.Field[Labour]{
	document.String(spec{Key: "name", Shape: document.Text, Required: true, Example: "fitting an amplifier", Help: "the work"},
		func(l *Labour) *string { return &l.Name }),
	money(spec{Key: "price", Shape: document.Price, Range: "0..1000000000000", Required: true, Example: "40 USD", Help: "of each piece, or of the whole job, before tax"},
		func(l *Labour) *Money { return &l.Price }),
	{Spec: spec{Key: "per", Shape: document.Word, Words: perWords, Default: perBuild, Help: "what is paid for: each piece of a kind, or the build once"},
		Set: func(l *Labour, v *value) {
			if l.Per = Kind(v.Word); l.Per == firstForBuilding {
				l.Per = KindCount // the last word: the build
			}
		},
		Get: func(l *Labour, v *value) bool {
			if v.Word = int(l.Per); l.Per == KindCount {
				v.Word = int(firstForBuilding)
			}
			return true
		}},
	document.Bool(spec{Key: "pieces", Shape: document.Word, Words: piecesWords, Default: "bought", Help: "whether pieces count that the customer owns already"},
		func(l *Labour) *bool { return &l.Installed }),
	{Spec: spec{Key: "tax", Shape: document.Percent, Range: "0 %..100 %", Example: "0 %", Help: "tax on this work; not stated: the brief's on labour"},
		Set: func(l *Labour, v *value) { l.TaxPPM, l.Taxed = v.Millionths, true },
		Get: func(l *Labour, v *value) bool { v.Millionths = l.TaxPPM; return l.Taxed }},
})

var labourSpec = spec{Key: "labour", Shape: document.Groups, Sub: labourSchema.Specs(), Example: "[{name: fitting an amplifier, price: 40 USD, per: amplifier}]", Help: "work that is paid for"}

// readLabour reads a list of work.
func readLabour(r *document.Reader, n *yaml.Node, to *[]Labour) {
	for _, n := range r.Items(n, &labourSpec) {
		l := Labour{Per: KindCount, Where: r.Where(n)}
		if !labourSchema.Decode(r, n, &l, nil) {
			continue
		}
		for _, other := range *to {
			if strings.EqualFold(other.Name, l.Name) {
				r.Twice(n, fmt.Sprintf("the work %q is listed twice", l.Name), "give each line of labour its own name", other.Where)
			}
		}
		*to = append(*to, l)
	}
}

var taxSpec = func() spec {
	s := spec{Key: "tax", Shape: document.Percent, Range: "0 %..100 %", Default: "0 %", Example: "7.5 %",
		Help: "sales tax on all that is bought; or rates by kind, such as {default: 7.5 %, amplifier: 0 %, labour: 0 %}"}
	rate := s
	s.Else = &spec{Shape: document.Table, Words: taxWords, Each: &rate}
	return document.NewSchema("a tax", []document.Field[int64]{{Spec: s, Set: func(*int64, *value) {}}}).Specs()[0]
}()

// taxWords are the names of the rates: default, the kinds, labour.
var taxWords = append(append([]string{"default"}, kindWords[:firstForBuilding]...), "labour")

// writeTax writes them.
func writeTax(w *document.Writer, b *Brief) {
	if len(b.TaxByKind) == 0 && b.LabourTax == nil {
		if b.TaxPPM != 0 {
			w.Key(taxSpec.Key, document.Rate(b.TaxPPM))
		}
		return
	}
	words := []string{"default: " + document.Rate(b.TaxPPM)}
	for kind := range KindCount {
		if ppm, ok := b.TaxByKind[kind]; ok {
			words = append(words, kind.String()+": "+document.Rate(ppm))
		}
	}
	if b.LabourTax != nil {
		words = append(words, "labour: "+document.Rate(*b.LabourTax))
	}
	w.Key(taxSpec.Key, "{"+strings.Join(words, ", ")+"}")
}

// readTax reads one rate, or rates by kind.
func readTax(r *document.Reader, b *Brief, n *yaml.Node) {
	var v value
	if document.Resolve(n).Kind != yaml.MappingNode {
		if r.Read(n, &taxSpec, &v) {
			b.TaxPPM = v.Millionths
		}
		return
	}
	const sample = "{default: 7.5 %, labour: 0 %}"
	pairs(r, n, "tax", sample, func(name string, key, rate *yaml.Node) {
		s, v, of := taxSpec, value{}, value{}
		if !(&spec{Key: "tax", Words: taxWords}).Has(name, &of) {
			r.Complain(key, fmt.Sprintf("%q is nothing that is taxed", name), hint(units.Nearest(name, taxWords), "write default, a kind of part, or labour"))
			return
		}
		s.Key = name
		if !r.Read(rate, &s, &v) {
			return
		}
		switch last := len(taxWords) - 1; of.Word {
		case 0:
			b.TaxPPM = v.Millionths
		case last:
			b.LabourTax = &v.Millionths
		default:
			if b.TaxByKind == nil {
				b.TaxByKind = map[Kind]int64{}
			}
			b.TaxByKind[Kind(of.Word-1)] = v.Millionths
		}
	})
}
