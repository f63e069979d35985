package catalog

import (
	"bytes"
	"io/fs"
	"path"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/rogpeppe/go-internal/txtar"
	"github.com/santhosh-tekuri/jsonschema/v6"
	"go.yaml.in/yaml/v3"

	"loudfor/catalog/demo"
	"loudfor/catalog/document"
)

func schemaNames() (out []string) {
	for _, f := range FileSchemas() {
		out = append(out, f.Name)
	}
	return out
}

// compileSchema has an independent program judge the schema: it must be one,
// and it decides what the tests below ask.
func compileSchema(t *testing.T, name string) *jsonschema.Schema {
	t.Helper()
	i := slices.Index(schemaNames(), name)
	text, err := document.SchemaText(name, FileSchemas()[i].Object())
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

// judged is what the schema says about a YAML text.
func judged(t *testing.T, s *jsonschema.Schema, text []byte) error {
	t.Helper()
	var v any
	if err := yaml.Unmarshal(text, &v); err != nil {
		t.Fatal(err)
	}
	return s.Validate(v)
}

func TestSchemasAcceptTheDemo(t *testing.T) {
	of := map[string]string{"parts": "parts", "vehicles.yaml": "vehicles", "briefs": "brief", "builds": "build"}
	schemas := map[string]*jsonschema.Schema{}
	for _, name := range schemaNames() {
		schemas[name] = compileSchema(t, name)
	}
	files := 0
	err := fs.WalkDir(demo.FS, ".", func(name string, d fs.DirEntry, err error) error {
		top, _, _ := strings.Cut(name, "/")
		if err != nil || path.Ext(name) != ".yaml" || schemas[of[top]] == nil {
			return err
		}
		text, err := fs.ReadFile(demo.FS, name)
		if err != nil {
			return err
		}
		files++
		if err := judged(t, schemas[of[top]], text); err != nil {
			t.Errorf("%s: %v", name, err)
		}
		return nil
	})
	if err != nil || files < 10 {
		t.Fatalf("%d files, %v", files, err)
	}
}

// What WriteParts writes is read again, so the schema has to let it pass.
func TestSchemaAcceptsWhatIsWritten(t *testing.T) {
	c, report := LoadFS(demo.FS, []string{demo.Parts})
	if report.Err() != nil {
		t.Fatal(report.Err())
	}
	var text bytes.Buffer
	if err := WriteParts(&text, c); err != nil {
		t.Fatal(err)
	}
	if err := judged(t, compileSchema(t, "parts"), text.Bytes()); err != nil {
		t.Error(err)
	}
}

// The words, keys and units that the reader refuses, the schema refuses too;
// of the other faults a schema cannot know.
func TestSchemasRefuseMistakes(t *testing.T) {
	const good = "sku: A-1, kind: subwoofer, size: 12 in, coils: 2 x 4 ohm, rms: 250 W, qts: 0.6"
	for _, c := range []struct {
		schema, good, bad string
	}{
		{"parts", "parts: [{" + good + "}]", "parts: [{" + good + ", xmaxx: 9 mm}]"},
		{"parts", "parts: [{" + good + "}]", "parts: [{" + good + ", channels: 2}]"}, // of another kind
		{"parts", "parts: [{" + good + "}]", "parts: [{sku: A-1, kind: subwoofer, size: 12 in}]"},
		{"parts", "parts: [{" + good + ", vas: 58 L}]", "parts: [{" + good + ", vas: 58 kg}]"},
		{"parts", "parts: [{" + good + ", vas: 58 L}]", "parts: [{" + good + ", vas: 58}]"},
		{"parts", "parts: [{" + good + ", qes: 0.7}]", "parts: [{" + good + ", qes: 0.7 L}]"},
		{"parts", "parts: [{" + good + ", price: 39 USD}]", "parts: [{" + good + ", price: 39}]"},
		{"parts", "parts: [{" + good + ", stock: 3}]", "parts: [{" + good + ", stock: -1}]"},
		{"parts", "parts: [{" + good + ", stock: 3}]", "parts: [{" + good + ", stock: 2.5}]"},
		{"parts", "parts: [{" + good + "}]", "parts: [{sku: A-1, kind: subwoover, size: 12 in, coils: 2 x 4 ohm}]"},
		{"parts", "parts: [{" + good + "}]", "party: []"},
		{"parts", "deals: [{name: a, sku: A-1, every: 2, off: 50 %}]", "{}"},
		{"brief", "{cap: 250 USD, vehicle: sedan, goal: music}", "{cap: 250 USD, vehicle: sedan, goal: loud}"},
		{"brief", "{cap: 250 USD, vehicle: sedan}", "{vehicle: sedan}"},
		{"brief", "{cap: 250 USD, vehicle: sedan, tax: 7.5 %}", "{cap: 250 USD, vehicle: sedan, tax: 7.5}"},
		{"brief", "{cap: 250 USD, vehicle: sedan, tax: {default: 7 %, Bass-Blocker: 0 %}}", "{cap: 250 USD, vehicle: sedan, tax: {car: 7 %}}"},
		{"build", "{vehicle: sedan, parts: [A, B x 2]}", "{vehicle: sedan}"},
		{"vehicles", "vehicles: [{name: a, places: {dash: 35 x 98 x 76 cm}}]", "vehicles: [{name: a, places: {dash: 35 x 98 cm}}]"},
		{"vehicles", "vehicles: [{name: a, openings: {shut: []}}]", "vehicles: [{name: a, openings: {open: [{wall: left}]}}]"},
		{"vehicles", "vehicles: [{name: a, curve: gain.csv}]", "vehicles: [{name: a, curve: {place: dash}}]"},
	} {
		s := compileSchema(t, c.schema)
		if err := judged(t, s, []byte(c.good)); err != nil {
			t.Errorf("%s: %v", c.good, err)
		}
		if judged(t, s, []byte(c.bad)) == nil {
			t.Errorf("%s passes", c.bad)
		}
		if sayAbout(fstest.MapFS{c.schema + ".yaml": {Data: []byte(c.bad)}}).Err() == nil {
			t.Errorf("the reader takes %s", c.bad)
		}
	}
}

// Of the files with planted faults, whatever the schema refuses the reader
// must have refused: all of them are bad. That the schema finds a good part of
// them without the reader is what it is for.
func TestSchemasFindPlantedFaults(t *testing.T) {
	names, err := filepath.Glob("testdata/bad/*.txt")
	if err != nil {
		t.Fatal(err)
	}
	var found []string
	for _, name := range names {
		archive, err := txtar.ParseFile(name)
		if err != nil {
			t.Fatal(err)
		}
		for _, f := range archive.Files {
			kind := strings.TrimSuffix(f.Name, ".yaml")
			var v any
			if !slices.Contains(schemaNames(), kind) || yaml.Unmarshal(f.Data, &v) != nil {
				continue
			}
			if compileSchema(t, kind).Validate(v) != nil {
				found = append(found, filepath.Base(name))
			}
		}
	}
	if len(found) < len(names)/3 {
		t.Errorf("of %d files only %v are found", len(names), found)
	}
}
