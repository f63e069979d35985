package hookup

import (
	"testing"

	"loudfor/model/amplifier"
)

// TestThousandCoils: up to the thousand coils that Enumerate documents have a wiring,
// however they are shared out; a few more have none.
func TestThousandCoils(t *testing.T) {
	for _, c := range []struct {
		drivers, coils int
		wired          bool
	}{{1000, 1, true}, {500, 2, true}, {250, 4, true}, {1, 1000, true}, {1025, 1, false}, {513, 2, false}, {257, 4, false}} {
		if plans := Silent(c.drivers, c.coils, 4, amplifier.Mono, 1, 0); (len(plans) > 0) != c.wired {
			t.Errorf("%d drivers of %d coils: %d wirings", c.drivers, c.coils, len(plans))
		}
	}
}
