package counter

import (
	"os"
	"testing"
	"time"

	"go.uber.org/goleak"
)

// however long something takes on a machine that is busy with other work, it
// takes less; what really hangs ends with the limit of go test.
const however = time.Hour

// No limit of time decides what a test sees.
func TestMain(m *testing.M) {
	ladderTime, rankingTime, patience = however, however, however
	waitTime, replyTime, writeTime, readTime, formTime, largeTime = however, however, however, however, however, however
	os.Exit(m.Run())
}

// until waits for what happens on its own time.
func until(t testing.TB, what string, happened func() bool) {
	t.Helper()
	const watchdog = 5 * time.Minute
	for end := time.Now().Add(watchdog); !happened(); time.Sleep(10 * time.Millisecond) {
		if time.Now().After(end) {
			t.Fatalf("waited %v in vain: %s", watchdog, what)
		}
	}
}

// ends waits until no goroutine is left but those of before.
func ends(t testing.TB, before goleak.Option) {
	t.Helper()
	var left error
	until(t, "something runs on", func() bool {
		if left != nil {
			t.Log(left)
		}
		left = goleak.Find(before)
		return left == nil
	})
}
