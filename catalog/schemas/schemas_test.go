package schemas

import (
	"bytes"
	"slices"
	"testing"
	"testing/fstest"
	"time"

	"github.com/santhosh-tekuri/jsonschema/v6"
	"go.yaml.in/yaml/v3"

	"loudfor/catalog/letterhead"
	"loudfor/catalog/plan"
	"loudfor/catalog/readings"
	"loudfor/catalog/tables"
)

// compiled has an independent program read the schema.
func compiled(t *testing.T, name string) *jsonschema.Schema {
	t.Helper()
	text, err := JSON(name)
	if err != nil {
		t.Fatal(err)
	}
	doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(text))
	if err != nil {
		t.Fatal(err)
	}
	c := jsonschema.NewCompiler()
	if err := c.AddResource(name, doc); err != nil {
		t.Fatal(err)
	}
	s, err := c.Compile(name)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// plain writes days as JSON does: the YAML library makes times of them.
func plain(v any) any {
	switch v := v.(type) {
	case map[string]any:
		for k := range v {
			v[k] = plain(v[k])
		}
	case []any:
		for i := range v {
			v[i] = plain(v[i])
		}
	case time.Time:
		return v.Format(time.DateOnly)
	}
	return v
}

// The schema takes what the reader takes, and refuses the words, keys and units
// that the reader refuses.
func TestSchemas(t *testing.T) {
	reads := map[string]func(text string) error{
		"mapping": func(text string) error {
			_, report := tables.ReadMapping("a.yaml", []byte(text))
			return report.Err()
		},
		"plan": func(text string) error {
			_, report := plan.Read("a.yaml", []byte(text))
			return report.Err()
		},
		"shop": func(text string) error {
			_, report := letterhead.LoadFS(fstest.MapFS{"shop.yaml": {Data: []byte(text)}}, "shop.yaml")
			return report.Err()
		},
		"readings": func(text string) error {
			_, report := readings.Read("a.yaml", []byte(text))
			return report.Err()
		},
	}
	const one = "vehicle: van\nbuild: x\n"
	for _, c := range []struct {
		schema, text string
		good         bool
	}{
		{"mapping", "kind: amplifier\ncurrency: USD\ncolumns: [{name: RMS@4, key: ratings, mode: stereo, load: 4 ohm, basis: claimed}, {name: kg, ignore: true}, {name: 12, key: sku}]", true},
		{"mapping", "columns: [{name: a, key: rms, unit: W}]", true},
		{"mapping", "kind: loudspeaker", false},
		{"mapping", "columns: [{name: a, kee: rms}]", false},
		{"mapping", "columns: [{key: rms}]", false},
		{"mapping", "columns: [{name: a, ignore: perhaps}]", false},
		{"mapping", "columns: {name: a, key: rms}", false},
		{"mapping", "colums: []", false},
		{"plan", "catalogues: shops/*\ncars: [van]\ncaps: [250 USD]\nresults: a.jsonl", true},
		{"plan", "cars: [van]\ncaps: [250 USD]", false},
		{"plan", "catalogues: {a: b}\ncars: [van]\ncaps: [250 USD]", false},
		{"plan", "catalogues: a\nbudgets: [250 USD]", false},
		{"shop", "shop: Dock Street Sound\naddress: [12 Dock Street]\ncontact: []\nvalid: 30\nterms: [one, two]", true},
		{"shop", "address: [12 Dock Street]", false},
		{"shop", "shop: x\nvalid: soon", false},
		{"shop", "shop: x\ncolour: red", false},
		{"readings", one + "date: 2026-03-07\ntolerance: 0.5 dB\nreadings: [{place: dash, frequency: 40 Hz, level: 121.5 dB, clamp_voltage: 24.8 V, clamp_current: 3.4 A}]", true},
		{"readings", one + "readings: [{frequency: 40, level: 121.5, note: rain, openings: shut}]", true},
		{"readings", one + "readings: [{frequency: 40 Hz}]", false},
		{"readings", one + "readings: [{frequency: 40 Hz, level: 121 W}]", false},
		{"readings", one + "readings: [{frequenzy: 40 Hz, level: 121 dB}]", false},
		{"readings", one + "reading: []", false},
		{"readings", one, false},
	} {
		var v any
		if err := yaml.Unmarshal([]byte(c.text), &v); err != nil {
			t.Fatal(err)
		}
		if err := compiled(t, c.schema).Validate(plain(v)); (err == nil) != c.good {
			t.Errorf("the schema says %v of\n%s", err, c.text)
		}
		if err := reads[c.schema](c.text); (err == nil) != c.good {
			t.Errorf("the reader says %v of\n%s", err, c.text)
		}
	}
}

func TestNames(t *testing.T) {
	names := Names()
	for _, want := range []string{"parts", "vehicles", "brief", "build", "mapping", "readings"} {
		if !slices.Contains(names, want) {
			t.Errorf("%v lacks %s", names, want)
		}
		compiled(t, want)
	}
	if _, err := JSON("prices"); err == nil {
		t.Error("a kind of file without a schema has one")
	}
}
