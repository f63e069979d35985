package record

import (
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
