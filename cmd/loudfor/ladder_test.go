package main

import "testing"

// Every step is what pick ranks first for its price, and the last one what it
// ranks first for the cap.
func TestLadderAgreesWithPick(t *testing.T) {
	for _, brief := range []string{"demo:250-reading", "demo:800-music"} {
		steps := decode(t, must(t, "ladder", brief, "--json"))["steps"].([]any)
		if len(steps) < 5 {
			t.Fatalf("%s: %d steps", brief, len(steps))
		}
		for i := 0; i < len(steps); i += 1 + len(steps)/4 {
			step := steps[len(steps)-1-i].(map[string]any)
			price := step["price"].(interface{ String() string }).String()
			args := []string{"pick", brief, "--json", "--top", "1", "--cap", price}
			if i == 0 {
				args = args[:len(args)-2]
			}
			first := decode(t, must(t, args...))["builds"].([]any)[0].(map[string]any)
			build := step["build"].(map[string]any)
			if first["cost"] != build["cost"] || first["hookup"] != build["hookup"] ||
				first["reading"].(map[string]any)["db"] != build["reading"].(map[string]any)["db"] {
				t.Errorf("%s at %s: pick has %v for %v, the ladder %v", brief, price, first["reading"], first["cost"], build["reading"])
			}
		}
	}
}
