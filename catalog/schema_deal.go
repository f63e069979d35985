package catalog

import (
	"fmt"
	"strings"

	"go.yaml.in/yaml/v3"

	"loudfor/catalog/document"
)

// The keys of deals. Which of them belong together depends on the form, and
// one key of each form gives it away.

type dealField = document.Field[Deal]

var appliesWords = []string{"further", "all"}

var dealParts = spec{Key: "parts", Shape: document.Texts, Example: "[OR-M3, \"TM-12V x 2\"]", Help: "a set: the pieces that are bought together for the price"}

var dealSchema = document.NewSchema("a deal", []dealField{
	document.String(spec{Key: "name", Shape: document.Text, Required: true, Example: "two twelves and a mono block", Help: "what the deal is called, unique in the catalogue"},
		func(d *Deal) *string { return &d.Name }),
	{Spec: dealParts, Nested: func(r *document.Reader, d *Deal, n *yaml.Node) { readMentions(r, &dealParts, n, &d.Parts) },
		Get: func(d *Deal, v *value) bool { v.Items = mentionTexts(d.Parts); return d.Form == DealSet }},
	{Spec: spec{Key: "sku", Shape: document.Text, Example: "TM-12V", Help: "the part, of a deal for several pieces of one"},
		Set: func(d *Deal, v *value) { d.Parts = []Mention{{SKU: v.Text, Count: 1}} },
		Get: func(d *Deal, v *value) bool {
			if d.Form == DealSet || len(d.Parts) != 1 {
				return false
			}
			v.Text = d.Parts[0].SKU
			return true
		}},
	money(spec{Key: "price", Shape: document.Price, Range: "0..1000000000000", Example: "160 USD", Help: "of the set, or with from of each piece, before tax"},
		func(d *Deal) *Money { return &d.Price }),
	document.Int(spec{Key: "from", Shape: document.Whole, Range: "2..99", Example: "3", Help: "how many pieces of the part make the price lower"},
		func(d *Deal) *int { return &d.From }),
	document.Bool(spec{Key: "applies", Shape: document.Word, Words: appliesWords, Default: "further", Help: "with from: whether the further pieces (the from-th too) get the lower price, or all"},
		func(d *Deal) *bool { return &d.All }),
	document.Int(spec{Key: "every", Shape: document.Whole, Range: "2..99", Example: "2", Help: "2: every second piece of the part is discounted"},
		func(d *Deal) *int { return &d.Every }),
	{Spec: spec{Key: "off", Shape: document.Percent, Range: ">0 %..100 %", Example: "50 %", Help: "with every: what is taken off the price of that piece; the rest is rounded half up"},
		Set: func(d *Deal, v *value) { d.OffPPM = v.Millionths },
		Get: func(d *Deal, v *value) bool { v.Millionths = d.OffPPM; return d.Form == DealEvery }},
	document.Int(spec{Key: "limit", Shape: document.Whole, Range: "1..1000000", Example: "1", Help: "sets, or pieces at the lower price, that one customer gets"},
		func(d *Deal) *int { return &d.Limit }),
	document.String(spec{Key: "store", Shape: document.Text, Example: "Dock Street", Help: "the shop that offers it; not stated: wherever the parts are sold"},
		func(d *Deal) *string { return &d.Store }),
	document.String(spec{Key: "note", Shape: document.Text, Example: "until the shelf is empty", Help: "anything worth remembering"},
		func(d *Deal) *string { return &d.Note }),
})

// dealForms are the keys of each form, after the one that gives it away.
var dealForms = [...]struct {
	key    string
	needs  []string
	allows string
}{
	DealSet:   {"parts", []string{"price"}, ""},
	DealFrom:  {"from", []string{"sku", "price"}, "applies"},
	DealEvery: {"every", []string{"sku", "off"}, ""},
}

// formWords says how the forms are written.
const formWords = "a set of pieces has parts and price; a lower price for several pieces has sku, from and price; a discount on every second piece has sku, every and off"

// readDeal reads one item of a list of deals.
func readDeal(r *document.Reader, n *yaml.Node) (d Deal, good bool) {
	d = Deal{Limit: Unlimited, Where: r.Where(n), Keys: map[string]Position{}}
	at := map[string]*yaml.Node{}
	good = dealSchema.Decode(r, n, &d, func(field int, v *yaml.Node) {
		key := dealSchema.Fields[field].Key
		at[key], d.Keys[key] = v, r.Where(v)
	})
	if !good {
		return d, false
	}
	form := -1
	for f, of := range dealForms {
		if at[of.key] == nil {
			continue
		}
		if form >= 0 {
			r.Complain(at[of.key], fmt.Sprintf("a deal has either %s or %s", dealForms[form].key, of.key), formWords)
			return d, false
		}
		form = f
	}
	if form < 0 {
		r.Complain(n, fmt.Sprintf("the deal %q does not say when it applies", d.Name), formWords)
		return d, false
	}
	d.Form = DealForm(form)
	return d, d.complete(r, n, at)
}

// complete checks that the keys of the form are there, and no others.
func (d *Deal) complete(r *document.Reader, n *yaml.Node, at map[string]*yaml.Node) bool {
	good := true
	form := &dealForms[d.Form]
	own := strings.Join(append([]string{form.key, form.allows}, form.needs...), " ")
	for _, key := range form.needs {
		if at[key] == nil {
			f := &dealSchema.Fields[dealSchema.Find(key)]
			r.Complain(n, fmt.Sprintf("a deal with %s needs the key %q", form.key, key), f.Help+": add "+key+": "+f.Example)
			good = false
		}
	}
	for _, key := range [...]string{"sku", "price", "applies", "off"} {
		if at[key] != nil && !strings.Contains(" "+own+" ", " "+key+" ") {
			r.Complain(at[key], fmt.Sprintf("%s is not a key of a deal with %s", key, form.key), formWords)
			good = false
		}
	}
	if good && at["sku"] != nil {
		d.Parts[0].Where = d.Keys["sku"]
	}
	if good && d.Form == DealSet && len(d.Parts) == 0 {
		r.Complain(at["parts"], "the deal is for nothing", "name the pieces of the set")
		good = false
	}
	return good
}
