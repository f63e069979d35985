package optimizer

import (
	"testing"

	"go.uber.org/goleak"
)

// A search that ended, was cut short or was cancelled leaves nothing running.
func TestMain(m *testing.M) { goleak.VerifyTestMain(m) }
