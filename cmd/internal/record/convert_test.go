package record

import (
	"encoding/json"
	"strings"
	"testing"

	"loudfor/optimizer"
)

// Scripts know the reasons by these keys; each has its own.
func TestReasonKeys(t *testing.T) {
	seen := map[string]optimizer.Reason{}
	for r := optimizer.DropNotOffered; r <= optimizer.DropTime; r++ {
		key := reasonKeys[r]
		if other, twice := seen[key]; twice {
			t.Errorf("%v and %v are both %q", other, r, key)
		}
		seen[key] = r
		if key == "" {
			t.Errorf("%v has no key", r)
		}
		for _, c := range key {
			if c != '_' && (c < 'a' || c > 'z') {
				t.Errorf("the key %q of %v", key, r)
			}
		}
	}
}

// A gap of 0 says that no build is louder; who found none cannot say that.
func TestGapOnlyWhereThereIsSomething(t *testing.T) {
	for outcome, want := range map[optimizer.Outcome]bool{optimizer.Optimal: true, optimizer.Feasible: true, optimizer.Infeasible: true, optimizer.Unknown: false} {
		text, err := json.Marshal(ofProof(optimizer.Proof{}, outcome))
		if err != nil {
			t.Fatal(err)
		}
		if got := strings.Contains(string(text), `"gap_db":0`); got != want || strings.Contains(string(text), "gap_db") != want {
			t.Errorf("%v: %s", outcome, text)
		}
	}
}
