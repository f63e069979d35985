package refresh

import (
	"bytes"
	"context"
	"fmt"
	"os"
	"path/filepath"
	"testing"

	"loudfor/catalog"
	"loudfor/catalog/demo"
	"loudfor/catalog/plan"
)

// chain writes a plan of some shops, which sell the demo's parts, and reads it.
func chain(t testing.TB, shops int, more string, change func(shop int, text string) string) plan.Plan {
	t.Helper()
	dir := t.TempDir()
	write := func(name, text string) {
		t.Helper()
		name = filepath.Join(dir, name)
		if err := os.MkdirAll(filepath.Dir(name), 0o700); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(name, []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	text := demoParts(t)
	write("centre.yaml", text)
	for i := range shops {
		shop := text
		if change != nil {
			shop = change(i, text)
		}
		write(fmt.Sprintf("shops/shop-%03d.yaml", i), shop)
	}
	write("plan.yaml", "catalogues: [shops/*]\ncars: [small sedan, van]\n"+more)
	p, report := plan.Load(filepath.Join(dir, "plan.yaml"))
	if err := report.Err(); err != nil {
		t.Fatal(err)
	}
	return p
}

// demoParts is the demo's catalogue as one file.
func demoParts(t testing.TB) string {
	t.Helper()
	c, report := catalog.LoadFS(demo.FS, []string{demo.Parts})
	if err := report.Err(); err != nil {
		t.Fatal(err)
	}
	c.Deals = nil
	var b bytes.Buffer
	if err := catalog.WriteParts(&b, c); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

// run refreshes a plan and gives the results.
func run(t testing.TB, p plan.Plan, o Options) (*Summary, string) {
	t.Helper()
	r, err := Open(p)
	if err != nil {
		t.Fatal(err)
	}
	defer r.Close()
	sum, err := r.Run(context.Background(), o)
	if err != nil {
		t.Fatal(err)
	}
	text, err := os.ReadFile(p.Results)
	if err != nil {
		t.Fatal(err)
	}
	return sum, string(text)
}

const grid = "caps: [250 USD, 500 USD]\ngoals: [reading, music]\nopenings: [shut, doors open]\n"

// One worker or two write the same; a second refresh computes nothing.
func TestRun(t *testing.T) {
	p := chain(t, 3, grid, nil)
	sum, want := run(t, p, Options{Workers: 1})
	if sum.Jobs != 48 || sum.Computed != 16 {
		t.Errorf("%+v", sum)
	}
	sum, again := run(t, p, Options{Workers: 2})
	if sum.Computed != 0 || again != want {
		t.Errorf("%+v\n%s", sum, again)
	}
}
