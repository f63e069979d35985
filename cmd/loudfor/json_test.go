package main

import (
	"bytes"
	"encoding/json"
	"maps"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// decode reads exactly one JSON document.
func decode(t *testing.T, text string) map[string]any {
	t.Helper()
	d := json.NewDecoder(strings.NewReader(text))
	d.UseNumber()
	var document map[string]any
	if err := d.Decode(&document); err != nil {
		t.Fatalf("%v in\n%s", err, text)
	}
	if d.More() {
		t.Fatalf("more than one document in\n%s", text)
	}
	return document
}

func keys(v any) []string {
	m, _ := v.(map[string]any)
	return slices.Sorted(maps.Keys(m))
}

func sameKeys(t *testing.T, what string, v any, want ...string) {
	t.Helper()
	if diff := cmp.Diff(slices.Sorted(slices.Values(want)), keys(v)); diff != "" {
		t.Errorf("keys of %s (-want +got):\n%s", what, diff)
	}
}

func number(t *testing.T, v any) float64 {
	t.Helper()
	n, ok := v.(json.Number)
	if !ok {
		t.Fatalf("%v (%T) is not a number", v, v)
	}
	value, err := n.Float64()
	if err != nil {
		t.Fatal(err)
	}
	return value
}

var buildKeys = []string{"rank", "cost", "reading", "music", "limit", "clamp", "hookup", "load_ohm", "parts", "taxes", "tie", "assumed", "warnings"}

// withExtras are the keys of a build, with those that are there only when the
// cost has such lines.
func withExtras(build map[string]any) []string {
	keys := slices.Clone(buildKeys)
	for _, key := range []string{"deals", "labour"} {
		if build[key] != nil {
			keys = append(keys, key)
		}
	}
	return keys
}

// lines are those of a list that may be left out.
func lines(list any) []any {
	all, _ := list.([]any)
	return all
}

// billShape checks the lines of the bill, and that they add up to the cost.
func billShape(t *testing.T, build map[string]any) {
	t.Helper()
	sum, due := 0.0, 0.0
	for _, deal := range lines(build["deals"]) {
		sameKeys(t, "deal", deal, "name", "times", "saving")
		sum -= number(t, deal.(map[string]any)["saving"])
	}
	for _, work := range lines(build["labour"]) {
		sameKeys(t, "labour", work, "name", "count", "price")
		sum += number(t, work.(map[string]any)["count"]) * number(t, work.(map[string]any)["price"])
	}
	for _, part := range lines(build["parts"]) {
		sum += number(t, part.(map[string]any)["count"]) * number(t, part.(map[string]any)["price"])
	}
	for _, tax := range lines(build["taxes"]) {
		sameKeys(t, "tax", tax, "rate_percent", "sum", "tax")
		sum -= number(t, tax.(map[string]any)["sum"])
		due += number(t, tax.(map[string]any)["sum"]) + number(t, tax.(map[string]any)["tax"])
	}
	const rounding = 1e-6 // of adding decimals as floats
	if cost := number(t, build["cost"]); math.Abs(sum) > rounding || math.Abs(due-cost) > rounding {
		t.Errorf("the bill is %g off its sums, and makes %g of a cost of %g", sum, due, cost)
	}
}

func buildShape(t *testing.T, build map[string]any) {
	t.Helper()
	sameKeys(t, "reading", build["reading"], "db", "band_db", "hz", "place", "openings")
	sameKeys(t, "music", build["music"], "db", "band_db", "bass_db", "bass_band_db", "front_db", "front_band_db")
	billShape(t, build)
	sameKeys(t, "clamp", build["clamp"], "volts", "amps", "ohms", "watts")
	clamp := build["clamp"].(map[string]any)
	// Ohm's law of magnitudes holds between the three that a meter shows.
	volts, amps, ohms := number(t, clamp["volts"]), number(t, clamp["amps"]), number(t, clamp["ohms"])
	if amps > 0 && (volts/amps)/ohms > 1.001 || amps > 0 && (volts/amps)/ohms < 0.999 {
		t.Errorf("%g V / %g A is not %g ohm", volts, amps, ohms)
	}
	for _, part := range build["parts"].([]any) {
		want := []string{"sku", "count", "price"}
		if part.(map[string]any)["owned"] == true {
			want = append(want, "owned")
		}
		sameKeys(t, "part", part, want...)
	}
}

// The document of pick has the promised shape, and its numbers agree with each
// other.
func TestPickJSON(t *testing.T) {
	got := call("pick", "--json", "--top", "4")
	if got.status != statusDone || got.stderr != "" {
		t.Fatalf("status %d, %s", got.status, got.stderr)
	}
	doc := decode(t, got.stdout)
	sameKeys(t, "pick", doc, "schema", "currency", "cap", "outcome", "stop", "goal", "vehicle", "demo", "proof", "answers", "builds")
	sameKeys(t, "proof", doc["proof"], "combinations", "evaluated", "dropped", "gap_db")
	if doc["schema"] != "loudfor/pick/1" || doc["currency"] != "USD" || doc["outcome"] != "optimal" {
		t.Errorf("schema %v, currency %v, outcome %v", doc["schema"], doc["currency"], doc["outcome"])
	}
	proof := doc["proof"].(map[string]any)
	sum := number(t, proof["evaluated"])
	for _, count := range proof["dropped"].(map[string]any) {
		sum += number(t, count)
	}
	if total := number(t, proof["combinations"]); sum != total {
		t.Errorf("evaluated and dropped are %g, combinations %g", sum, total)
	}
	builds := doc["builds"].([]any)
	if len(builds) != 4 {
		t.Fatalf("%d builds", len(builds))
	}
	last := 1e9
	for i, b := range builds {
		build := b.(map[string]any)
		want := withExtras(build)
		if i > 0 {
			want = append(want, "difference")
		}
		sameKeys(t, "build", build, want...)
		buildShape(t, build)
		if number(t, build["rank"]) != float64(i+1) {
			t.Errorf("build %d has rank %v", i+1, build["rank"])
		}
		if cost := number(t, build["cost"]); cost > number(t, doc["cap"]) {
			t.Errorf("build %d costs %g", i+1, cost)
		}
		level := number(t, build["reading"].(map[string]any)["db"])
		if level > last {
			t.Errorf("build %d is louder than the one above it", i+1)
		}
		last = level
	}
}

// Without a build the document says what blocks, and the status is 3.
func TestInfeasibleJSON(t *testing.T) {
	got := call("pick", "demo:500-no-room", "--json")
	if got.status != statusNoBuild {
		t.Fatalf("status %d: %s", got.status, got.stderr)
	}
	doc := decode(t, got.stdout)
	if doc["outcome"] != "infeasible" || len(doc["builds"].([]any)) != 0 {
		t.Errorf("outcome %v, builds %v", doc["outcome"], doc["builds"])
	}
	conflicts, _ := doc["conflicts"].([]any)
	if len(conflicts) == 0 {
		t.Fatal("no conflict is told")
	}
	for _, conflict := range conflicts {
		sameKeys(t, "conflict", conflict, "requirements", "unblock")
	}
}

// The document of predict is a build with its curve; CSV and JSON agree.
func TestPredictJSON(t *testing.T) {
	doc := decode(t, must(t, "predict", "demo:value-12-sealed", "--json"))
	sameKeys(t, "predict", doc, append([]string{"schema", "currency", "vehicle", "curve", "asked"}, withExtras(doc)...)...)
	sameKeys(t, "asked", doc["asked"], "lights", "room", "how_low", "windows", "before")
	if doc["schema"] != "loudfor/predict/1" {
		t.Errorf("schema %v", doc["schema"])
	}
	buildShape(t, doc)
	csv := strings.Split(strings.TrimSpace(must(t, "predict", "demo:value-12-sealed", "--curve", "-")), "\n")
	points := doc["curve"].([]any)
	if len(points) != len(csv)-1 || len(points) < 60 {
		t.Fatalf("%d points in JSON, %d in CSV", len(points), len(csv)-1)
	}
	columns := strings.Split(csv[0], ",")
	for i, p := range points {
		sameKeys(t, "point", p, columns...)
		for k, cell := range strings.Split(csv[i+1], ",") {
			value := p.(map[string]any)[columns[k]]
			if n, ok := value.(json.Number); ok {
				value = n.String()
			}
			if value != cell {
				t.Errorf("point %d, %s: JSON %v, CSV %s", i, columns[k], value, cell)
			}
		}
	}
}

func TestOtherJSON(t *testing.T) {
	sameKeys(t, "check", decode(t, must(t, "check", "--json")), "schema", "parts", "problems")
	version := decode(t, must(t, "version", "--json"))
	if version["schema"] != "loudfor/version/1" || version["go"] == "" {
		t.Errorf("%v", version)
	}
}

// Errors are documents too: on standard output the JSON, on standard error the
// words, and the exit status inside and outside.
func TestErrorJSON(t *testing.T) {
	for _, c := range []struct {
		args     []string
		status   int
		problems bool
	}{
		{[]string{"pick", "no-such-file.yaml", "--json"}, statusBadInput, true},
		{[]string{"pick", "--json", "--place", "roof rack"}, statusBadInput, true},
		{[]string{"pick", "--json", "--cap", "lots"}, statusUsage, false},
		{[]string{"pick", "--json", "--no-such-flag"}, statusUsage, false},
		{[]string{"pikc", "--json"}, statusUsage, false},
	} {
		got := call(c.args...)
		doc := decode(t, got.stdout)
		if got.status != c.status || number(t, doc["status"]) != float64(c.status) || doc["schema"] != "loudfor/error/1" || doc["error"] == "" {
			t.Errorf("%v: status %d, %s", c.args, got.status, got.stdout)
		}
		if (doc["problems"] != nil) != c.problems {
			t.Errorf("%v: problems %v", c.args, doc["problems"])
		}
		if len(bytes.TrimSpace([]byte(got.stderr))) == 0 {
			t.Errorf("%v: nothing on standard error", c.args)
		}
	}
}
