package workshop

import (
	"testing"

	"go.uber.org/goleak"
)

// Boxes that were designed on several cores leave nothing running.
func TestMain(m *testing.M) { goleak.VerifyTestMain(m) }
