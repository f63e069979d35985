package catalog

import (
	"math"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"loudfor/model/cabin"
)

// What was learned is written into the car's file and read back the same, and
// the rest of the file stays.
func TestLearnedVehicle(t *testing.T) {
	const file = "# The cars.\nvehicles:\n  - name: blue sedan # the worn one\n    body: sedan\n    places:\n      second row: 245 40 100 cm\n  - {name: other, body: van}\n"
	v, report := LoadVehiclesFS(inFile("vehicles.yaml", file), "vehicles.yaml")
	if err := report.Err(); err != nil {
		t.Fatal(err)
	}
	car := v[0]
	n := len(car.Body.Unknowns())
	shift, along := make([]float64, n), make([]float64, n)
	shift[0], shift[n-1], along[0], along[8] = 0.81234, -1.5, 0.6, -0.8
	car.Body.Learned = &cabin.Learned{Shift: cabin.DeviationOf(shift), Widened: 1.25, LeaveOneOut: 0.71, Readings: 8,
		Determined: []cabin.Direction{{Spread: 0.2, Along: along}}}
	text, err := LearnedVehicle([]byte(file), car, "8 readings, 2026-03-09: a \"test\"", []string{"length 2.9 m"})
	if err != nil {
		t.Fatal(err)
	}
	for _, kept := range []string{"# The cars.", "# the worn one", "# length 2.9 m", "second row: 245 40 100 cm", "name: other"} {
		if !strings.Contains(string(text), kept) {
			t.Errorf("%q is not in\n%s", kept, text)
		}
	}
	again := func(text []byte) []Vehicle {
		v, report := LoadVehiclesFS(fstest.MapFS{"vehicles.yaml": {Data: text}}, "vehicles.yaml")
		if err := report.Err(); err != nil {
			t.Fatalf("%v in\n%s", err, text)
		}
		return v
	}
	back := again(text)
	l := back[0].Body.Learned
	if len(back) != 2 || l == nil || back[1].Body.Learned != nil {
		t.Fatalf("read back as %+v", back)
	}
	got := l.Shift.Vector()
	for i := range shift {
		if math.Abs(got[i]-shift[i]) > 1e-4 || math.Abs(l.Determined[0].Along[i]-along[i]) > 1e-4 {
			t.Errorf("unknown %d: shift %g, want %g; along %g, want %g", i, got[i], shift[i], l.Determined[0].Along[i], along[i])
		}
	}
	if l.Widened != 1.25 || l.LeaveOneOut != 0.71 || l.Readings != 8 || l.Determined[0].Spread != 0.2 {
		t.Errorf("%+v", l)
	}
	if said := strings.Join(back[0].Assumed, "\n"); strings.Contains(said, "Q of the first mode") || !strings.Contains(said, "8 readings") {
		t.Errorf("assumed:\n%s", said)
	}
	// Learned once more, the key is replaced; a body style gets a file of its own.
	twice, err := LearnedVehicle(text, back[0], "again", nil)
	if err != nil || strings.Count(string(twice), "learned:") != 1 {
		t.Errorf("%v\n%s", err, twice)
	}
	style, _ := cabin.BodyNamed("van")
	van := FromBody(style)
	n = len(style.Unknowns())
	van.Body.Learned = &cabin.Learned{Shift: cabin.DeviationOf(make([]float64, n)), Widened: 1, Readings: 1}
	alone, err := LearnedVehicle(nil, van, "one", nil)
	if err != nil || again(alone)[0].Body.Learned == nil {
		t.Errorf("%v\n%s", err, alone)
	}
}

// What cannot be is refused at its place.
func TestLearnedMistakes(t *testing.T) {
	const head = "vehicles:\n  - name: blue\n    body: sedan\n    learned:\n      from: test\n      equations: 2\n      readings: 8\n"
	for _, c := range []struct{ text, where, words string }{
		{"      shift: {lenght: 1}\n", "vehicles.yaml:8:15", "did you mean \"length\""},
		{"      shift: {length: 100}\n", "vehicles.yaml:8:23", "between -6 and 6"},
		{"      shift: {}\n      determined: [{left: 0.5, along: {length: 0.5}}]\n", "vehicles.yaml:9:20", "length 0.5, not 1"},
		{"      shift: {}\n      widened: 0.5\n", "vehicles.yaml:9:16", "between 1 and 20"},
		{"      leave_one_out: 1 dB\n", "vehicles.yaml:5:7", "\"shift\""},
	} {
		_, report := LoadVehiclesFS(inFile("vehicles.yaml", head+c.text), "vehicles.yaml")
		if !slices.ContainsFunc(report.Problems, func(p Problem) bool {
			return p.Where.String() == c.where && strings.Contains(p.Summary+p.Detail, c.words)
		}) {
			t.Errorf("%s: %v, want %q at %s", c.text, report.Err(), c.words, c.where)
		}
	}
}

// What was learned with other equations of a car is left out, whatever it is about,
// and that is said: silently it would move the car to where it never was.
func TestLearnedWithOtherEquations(t *testing.T) {
	const head = "vehicles:\n  - name: blue\n    body: sedan\n    learned:\n      from: test\n      readings: 8\n      shift: {length: 2, elsewhere: 1}\n"
	for _, c := range []struct{ key, where string }{{"", "vehicles.yaml:5:7"}, {"      equations: 1\n", "vehicles.yaml:8:18"}, {"      equations: 3\n", "vehicles.yaml:8:18"}} {
		v, report := LoadVehiclesFS(inFile("vehicles.yaml", head+c.key), "vehicles.yaml")
		if err := report.Err(); err != nil {
			t.Fatal(err)
		}
		if len(report.Problems) != 1 || report.Problems[0].Where.String() != c.where || !strings.Contains(report.Problems[0].Detail, "meter learn") {
			t.Errorf("%q: %+v", c.key, report.Problems)
		}
		style, _ := cabin.BodyNamed("sedan")
		if v[0].Body.Learned != nil || !slices.Equal(v[0].Body.Assumed, style.Assumed) || !strings.Contains(v[0].Outdated, "meter learn") {
			t.Errorf("%q: %+v, assumed %q, said %q", c.key, v[0].Body.Learned, v[0].Body.Assumed, v[0].Outdated)
		}
	}
	_, report := LoadVehiclesFS(inFile("vehicles.yaml", head+"      equations: newest\n"), "vehicles.yaml")
	if err := report.Err(); err == nil || len(report.Problems) != 1 || report.Problems[0].Where.String() != "vehicles.yaml:8:18" {
		t.Errorf("equations that are no number: %+v", report.Problems)
	}
	good, _ := LoadVehiclesFS(inFile("vehicles.yaml", "vehicles:\n  - name: blue\n    body: sedan\n    learned: {from: test, equations: 2, readings: 8, shift: {length: 2}}\n"), "vehicles.yaml")
	if good[0].Body.Learned == nil || good[0].Outdated != "" {
		t.Errorf("what was learned with these equations is not used: %q", good[0].Outdated)
	}
}

// What is known along one direction is known once: a direction that stands twice,
// or is not at right angles to another, is refused where it stands. Directions
// that only rounding has bent are straightened.
func TestLearnedDirections(t *testing.T) {
	file := func(determined string) string {
		return "vehicles:\n  - name: blue sedan\n    body: sedan\n    learned:\n      from: a test\n      equations: 2\n      readings: 2\n      shift: {length: 0.5}\n      determined:\n" + determined
	}
	for _, c := range []struct {
		determined string
		column     int
		want       string // empty: good
	}{
		{"        - {left: 0.2, along: {length: 0.6, damping: 0.8}}\n        - {left: 0.3, along: {length: 0.8001, damping: -0.6001}}\n", 0, ""},
		{"        - {left: 0, along: {length: 1}}\n        - {left: 0, along: {length: 1}}\n", 11, "not at right angles to number 1"},
		{"        - {left: 0.2, along: {length: 0.6, damping: 0.8}}\n        - {left: 0.3, along: {length: -0.6, damping: -0.8}}\n", 11, "not at right angles to number 1"},
		{"        - {left: 0.2, along: {length: 0.6, damping: 0.8}}\n        - {left: 0.3, along: {length: 1}}\n", 11, "not at right angles to number 1"},
	} {
		v, report := LoadVehiclesFS(inFile("vehicles.yaml", file(c.determined)), "vehicles.yaml")
		if c.want == "" {
			if err := report.Err(); err != nil {
				t.Fatal(err)
			}
			d := v[0].Body.Learned.Determined
			if dot := product(d[0].Along, d[1].Along); math.Abs(dot) > 1e-12 {
				t.Errorf("a cosine of %g is left", dot)
			}
			continue
		}
		if len(report.Problems) != 1 || report.Problems[0].Where.Line != 11 || report.Problems[0].Where.Column != c.column || !strings.Contains(report.Problems[0].Summary, c.want) {
			t.Errorf("%s: %+v", c.determined, report.Problems)
		}
	}
}
