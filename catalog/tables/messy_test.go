package tables

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"go.yaml.in/yaml/v3"

	"loudfor/catalog"
	"loudfor/catalog/document"
)

// messy is one list of testdata/messy/lists.yaml.
type messy struct {
	File     string
	Encoding string
	Currency string
	Units    map[string]string
	Unsure   []int
}

func messyLists(t testing.TB) []messy {
	t.Helper()
	content, err := os.ReadFile("testdata/messy/lists.yaml")
	if err != nil {
		t.Fatal(err)
	}
	var index struct{ Lists []messy }
	if err := yaml.Unmarshal(content, &index); err != nil {
		t.Fatal(err)
	}
	return index.Lists
}

// Lists as shops have them are read as a person reads them, row by row: what is
// right was written by hand beside each list. At least 95 of 100 rows are right,
// and no value is taken that the person does not see.
func TestMessyLists(t *testing.T) {
	rows, right := 0, 0
	for _, m := range messyLists(t) {
		t.Run(m.File, func(t *testing.T) {
			content, err := os.ReadFile(filepath.Join("testdata/messy", m.File))
			if err != nil {
				t.Fatal(err)
			}
			l, report := Read(m.File, content, Options{Kind: catalog.KindCount, Currency: m.Currency, Units: m.Units, SkipBad: true})
			for _, p := range append(report.Problems, l.Skipped...) {
				t.Log(p.Severity, p.Where, p.Summary)
			}
			if report.Err() != nil {
				t.Error("the list is refused")
			}
			want := wanted(t, m.File+".yaml")
			rows += len(want)
			got := map[string]*catalog.Part{}
			for _, p := range l.Parts {
				got[p.SKU] = p
			}
			for _, p := range want {
				diff := cmp.Diff(p, got[p.SKU], cmpopts.IgnoreFields(catalog.Part{}, "Where", "Keys", "Store", "Note"), cmpopts.EquateApprox(1e-9, 0))
				if diff == "" {
					right++
				} else {
					t.Errorf("%s:\n%s", p.SKU, diff)
				}
				delete(got, p.SKU)
			}
			for sku := range got {
				t.Errorf("%s is no part", sku)
			}
			if len(l.Sheets) > 0 && l.Sheets[0].Encoding != m.Encoding {
				t.Errorf("the encoding is %s, not %s", l.Sheets[0].Encoding, m.Encoding)
			}
			if l.Unsure != len(m.Unsure) {
				t.Errorf("%d rows are unsure, not %d", l.Unsure, len(m.Unsure))
			}
			for _, line := range m.Unsure {
				found := false
				for _, p := range report.Problems {
					found = found || p.Severity == catalog.Warning && p.Where.Line == line
				}
				if !found {
					t.Errorf("nothing is said of row %d", line)
				}
			}
		})
	}
	t.Logf("%d of %d rows are right", right, rows)
}

// wanted are the parts that a person sees in a list.
func wanted(t *testing.T, name string) []*catalog.Part {
	t.Helper()
	file, problem := document.ReadFile(os.DirFS("testdata/messy"), name, document.MostBytes)
	if problem != nil {
		t.Fatal(problem)
	}
	var root yaml.Node
	if err := yaml.Unmarshal(file.Text, &root); err != nil {
		t.Fatal(err)
	}
	items, found := catalog.ReadItems(file, catalog.ItemNodes{Parts: root.Content[0].Content[1].Content})
	for _, p := range found {
		t.Fatal(p.Where, p.Summary)
	}
	return items.Parts
}
