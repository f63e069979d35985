package main

import (
	"math"
	"testing"
)

// The documents of the meter commands have the promised shape, and their
// numbers agree with each other.
func TestMeterJSON(t *testing.T) {
	const rounding = 2e-3 // two levels, each rounded to a thousandth
	doc := decode(t, must(t, "meter", "compare", "--json"))
	sameKeys(t, "compare", doc, "schema", "vehicle", "demo", "builds", "readings", "curves", "findings", "causes")
	readings := doc["readings"].([]any)
	if len(readings) != 8 {
		t.Fatalf("%d readings", len(readings))
	}
	for _, r := range readings {
		m := r.(map[string]any)
		if off := number(t, m["db"]) - number(t, m["predicted_db"]); math.Abs(off-number(t, m["off_db"])) > rounding {
			t.Errorf("off by %v, not %v: %v", off, m["off_db"], m)
		}
		if outside := math.Abs(number(t, m["off_db"])) > number(t, m["band_db"]); outside != m["outside"] {
			t.Errorf("outside is %v: %v", m["outside"], m)
		}
	}
	last := math.Inf(1)
	for _, c := range doc["causes"].([]any) {
		sameKeys(t, "cause", c, "kind", "words", "check", "log_likelihood_gain", "told", "figures")
		gain := number(t, c.(map[string]any)["log_likelihood_gain"])
		if gain > last {
			t.Error("the causes are not in the order of their likelihood")
		}
		last = gain
	}

	doc = decode(t, must(t, "meter", "learn", "--json"))
	sameKeys(t, "learn", doc, "schema", "vehicle", "demo", "readings", "parameters", "leave_one_out_db", "widened", "each", "bands")
	if number(t, doc["widened"]) < 1 || number(t, doc["leave_one_out_db"]) <= 0 || len(doc["each"].([]any)) != 8 {
		t.Errorf("%v", doc)
	}
	for _, p := range doc["parameters"].([]any) {
		m := p.(map[string]any)
		if left := number(t, m["left"]); left < 0 || left > 1 || (m["verdict"] == "stays as assumed") != (m["by"] == nil) {
			t.Errorf("parameter %v", m)
		}
	}
	for _, b := range doc["bands"].([]any) {
		m := b.(map[string]any)
		if number(t, m["now_band_db"]) >= number(t, m["before_band_db"]) {
			t.Errorf("eight readings have not narrowed %v", m)
		}
	}

	doc = decode(t, must(t, "meter", "plan", "--steps", "3", "--vehicle", "wagon", "--build", "demo:value-12-sealed", "--json"))
	sameKeys(t, "plan", doc, "schema", "vehicle", "demo", "for", "band_db", "steps")
	last = number(t, doc["band_db"])
	for _, s := range doc["steps"].([]any) {
		sameKeys(t, "step", s, "place", "openings", "hz", "band_db")
		if band := number(t, s.(map[string]any)["band_db"]); band >= last {
			t.Errorf("a step takes the band from %g to %g dB", last, band)
		} else {
			last = band
		}
	}
}
