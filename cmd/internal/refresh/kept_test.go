package refresh

import (
	"encoding/csv"
	"encoding/json"
	"os"
	"path/filepath"
	"reflect"
	"strconv"
	"strings"
	"testing"

	"github.com/parquet-go/parquet-go"

	"loudfor/catalog"
)

// JSON lines and Parquet, read back, say in every column what the CSV file says.
func TestFormatsSayTheSame(t *testing.T) {
	p := chain(t, 2, "caps: [60 USD, 500 USD]\ngoals: [reading, music]\n", nil)
	_, text := run(t, p, Options{})
	want, err := csv.NewReader(strings.NewReader(text)).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	cell := func(v any) string {
		if f, ok := v.(float64); ok {
			return strconv.FormatFloat(f, 'f', -1, 64)
		}
		return v.(string)
	}
	same := func(format string, row int, got map[string]any) {
		t.Helper()
		if len(got) != len(want[0]) {
			t.Errorf("%s: %d columns, not %d", format, len(got), len(want[0]))
		}
		for i, column := range want[0] {
			w := want[row][i]
			if f, err := strconv.ParseFloat(w, 64); err == nil && strings.HasSuffix(column, "_db") {
				w = cell(f)
			} else if w == "" && strings.HasSuffix(column, "_db") {
				w = "0" // there is no build
			}
			if got[column] == nil || cell(got[column]) != w {
				t.Errorf("%s, row %d: %s is %v, not %q", format, row, column, got[column], w)
			}
		}
	}
	none := 0
	for _, row := range want[1:] {
		if row[7] == "infeasible" {
			none++
		}
	}
	if len(want) != 17 || none != 8 {
		t.Fatalf("%d rows, %d without a build", len(want), none)
	}

	p.Results = strings.TrimSuffix(p.Results, ".csv") + ".jsonl"
	_, text = run(t, p, Options{})
	n := 0
	for line := range strings.Lines(text) {
		var got map[string]any
		if err := json.Unmarshal([]byte(line), &got); err != nil {
			t.Fatal(err)
		}
		n++
		same("JSON lines", n, got)
	}
	if n != len(want)-1 {
		t.Errorf("%d rows of JSON lines", n)
	}

	// Read by the columns of the file itself, not by those of Row.
	p.Results = strings.TrimSuffix(p.Results, ".jsonl") + ".parquet"
	run(t, p, Options{})
	f, err := os.Open(p.Results)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	info, err := f.Stat()
	if err != nil {
		t.Fatal(err)
	}
	file, err := parquet.OpenFile(f, info.Size())
	if err != nil {
		t.Fatal(err)
	}
	r := parquet.NewReader(file)
	defer r.Close()
	if file.NumRows() != int64(len(want)-1) {
		t.Errorf("%d rows of Parquet", file.NumRows())
	}
	for n := range file.NumRows() {
		got := map[string]any{}
		if err := r.Read(&got); err != nil {
			t.Fatal(err)
		}
		for column, v := range got {
			if text, ok := v.([]byte); ok {
				got[column] = string(text)
			}
		}
		same("Parquet", int(n)+1, got)
	}
}

// What changes of one car, or where it stands in its file, is computed for that car
// alone; what is not asked any more is forgotten.
func TestWhatIsKept(t *testing.T) {
	p := chain(t, 2, "caps: [500 USD]\n", nil)
	dir := filepath.Dir(p.Results)
	cars := filepath.Join(dir, "cars.yaml")
	p.Cars, p.Vehicles = nil, []string{cars}
	write := func(text string) {
		t.Helper()
		if err := os.WriteFile(cars, []byte("vehicles:\n"+text), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	const red, blue, van = "  - {name: red, body: small sedan}\n", "  - {name: blue, body: SUV}\n", "  - {name: new, body: van}\n"
	for _, step := range []struct {
		cars           string
		jobs, computed int
	}{
		{red + blue, 4, 2}, // the shops sell the same
		{"# the same\n\n" + red + blue, 4, 0},
		{blue + red + van, 6, 1},
		{strings.Replace(red, "}", ", alternator: 70 A}", 1) + blue, 4, 1},
	} {
		write(step.cars)
		if sum, _ := run(t, p, Options{Workers: 1}); sum.Jobs != step.jobs || sum.Computed != step.computed {
			t.Errorf("%s%d jobs, %d computed", step.cars, sum.Jobs, sum.Computed)
		}
	}
	if err := os.Remove(filepath.Join(dir, "shops/shop-001.yaml")); err != nil {
		t.Fatal(err)
	}
	run(t, p, Options{})
	s, err := openStore(p.Kept)
	if err != nil {
		t.Fatal(err)
	}
	defer s.close()
	for table, want := range map[string]int{"slots": 2, "answers": 2, "bundles": 1} {
		var n int
		if err := s.db.QueryRow("SELECT count(*) FROM " + table).Scan(&n); err != nil || n != want {
			t.Errorf("%d %s kept, not %d: %v", n, table, want, err)
		}
	}
}

// Every figure of a car is in its hash: what is not exported would not be.
func TestCarHashSeesAll(t *testing.T) {
	seen := map[reflect.Type]bool{}
	var look func(at string, of reflect.Type)
	look = func(at string, of reflect.Type) {
		switch of.Kind() {
		case reflect.Pointer, reflect.Slice, reflect.Array:
			look(at, of.Elem())
		case reflect.Struct:
			if seen[of] {
				return
			}
			seen[of] = true
			for i := range of.NumField() {
				if f := of.Field(i); !f.IsExported() || f.Tag.Get("json") != "" {
					t.Errorf("%s.%s is not seen", at, f.Name)
				} else {
					look(at+"."+f.Name, f.Type)
				}
			}
		case reflect.Map, reflect.Func, reflect.Interface, reflect.Chan:
			t.Errorf("%s is a %s", at, of.Kind())
		}
	}
	look("Vehicle", reflect.TypeFor[catalog.Vehicle]())
	if len(seen) < 8 {
		t.Errorf("only %d types", len(seen))
	}
}

// Two of the shops cannot be read: the sample is taken from the others, which is where
// the time goes.
func TestEstimateOfShopsInTrouble(t *testing.T) {
	p := chain(t, 4, "caps: [500 USD]\n", func(shop int, text string) string {
		if shop%2 == 0 {
			return "parts: ["
		}
		return worse(uint64(shop), text)
	})
	r, err := Open(p)
	if err != nil {
		t.Fatal(err)
	}
	defer r.Close()
	e, err := r.Estimate(t.Context())
	if err != nil || e.Sampled == 0 || e.CPU <= 0 {
		t.Errorf("%+v %v", e, err)
	}
}
