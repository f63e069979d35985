package catalog

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// Each line is bad by itself, and what hangs on it goes with it; the rest is a
// catalogue, in which nothing is wrong.
const unsound = `parts:
  - {sku: GOOD, kind: bass blocker, price: 1 USD, capacitance: 100 uF, store: Yard}
  - {sku: PORT, kind: enclosure, price: 30 USD, type: vented, holes: 1 x 10 in, volume: 5 L, port: {diameter: 20 cm, length: 60 cm}}
  - {sku: KEYS, kind: bass blocker, price: 1 USD, capacity: 100 uF}
  - {sku: GOOD, kind: bass blocker, price: 2 USD, capacitance: 200 uF}
  - {sku: EURO, kind: bass blocker, price: 2 EUR, capacitance: 200 uF}
  - {sku: SHOP, kind: bass blocker, price: 2 USD, capacitance: 200 uF, store: Yard, offers: [{store: yard, price: 1 USD}]}
  - {kind: bass blocker, price: 2 USD, capacitance: 200 uF}
  - {sku: FINE, kind: bass blocker, price: 2 USD, capacitance: 200 uF}
deals:
  - {name: of what is left out, parts: [GOOD, PORT], price: 3 USD}
  - {name: fine, parts: [GOOD, FINE], price: 2 USD}
  - {name: for nothing}
stores:
  - {name: Yard, trip: 3 USD}
  - {name: yard, trip: 4 USD}
`

func TestWhatIsBadIsLeftOut(t *testing.T) {
	name := filepath.Join(t.TempDir(), "parts.yaml")
	if err := os.WriteFile(name, []byte(unsound), 0o600); err != nil {
		t.Fatal(err)
	}
	if c, report := Load([]string{name}); c != nil || report.Count(Error) < 9 {
		t.Fatalf("%d errors", report.Count(Error))
	}
	c, report := LoadSound([]string{name})
	if report.Err() != nil {
		t.Fatal(report.Err())
	}
	var left []string
	for _, p := range c.Parts {
		left = append(left, p.SKU)
	}
	if strings.Join(left, " ") != "FINE GOOD" || c.Part("GOOD").Price.Minor != 100 || len(c.Deals) != 1 || c.Deals[0].Name != "fine" || len(c.Shops) != 1 || c.Trip("Yard").Minor != 300 {
		t.Errorf("left are %v, %d deals, %d stores", left, len(c.Deals), len(c.Shops))
	}
	lines := map[int]bool{}
	for _, p := range report.Problems {
		if p.Severity != Warning || !strings.HasSuffix(p.Detail, " is left out") {
			t.Errorf("%v: %s: %q", p.Where, p.Summary, p.Detail)
		}
		lines[p.Where.Line] = true
		if name := map[int]string{3: "PORT", 4: "KEYS", 5: "GOOD", 6: "EURO", 7: "SHOP", 8: "it", 11: "of what is left out", 13: "for nothing", 16: "yard"}[p.Where.Line]; !strings.HasSuffix("\n"+p.Detail, "\n"+name+" is left out") {
			t.Errorf("line %d: %q", p.Where.Line, p.Detail)
		}
	}
	for line := range strings.Split(unsound, "\n") {
		if bad := line >= 3 && line <= 8 || line == 11 || line == 13 || line == 16; bad != lines[line] {
			t.Errorf("line %d: named %v", line, lines[line])
		}
	}
}

// What is wrong with a file as a whole is still an error.
func TestAFileThatIsNoneIsNotSound(t *testing.T) {
	name := filepath.Join(t.TempDir(), "parts.yaml")
	for _, text := range []string{"parts: [", "parts:\n  - {sku: A, kind: bass blocker}\nwhat: 1\n", "- 1", "parts: []\n", "parts: [{sku: A}]\n"} {
		if err := os.WriteFile(name, []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
		if c, report := LoadSound([]string{name}); c != nil || report.Err() == nil {
			t.Errorf("%q: %v", text, report.Problems)
		}
	}
}
