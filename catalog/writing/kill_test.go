package writing_test

import (
	"bufio"
	"bytes"
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"loudfor/catalog/writing"
)

// The test program runs itself as another one, which replaces a file over and
// over until it is killed. Nobody can choose the moment better than chance
// does: among 200 kills some fall into the writing, the syncing and the renaming.

// Variables that tell the child what to do.
const childFile = "LOUDFOR_WRITING_FILE"

const (
	kills      = 200
	shortKills = 20
	// parts of one content, so that writing it takes several calls and more
	// than the buffer in front of the file.
	pieces = 400
)

func TestMain(m *testing.M) {
	if path := os.Getenv(childFile); path != "" {
		replaceForEver(path)
	}
	os.Exit(m.Run())
}

// whole is a content that shows by itself whether all of it is there: every
// line bears its number, and the first one how many there are.
func whole(n int) string {
	var b strings.Builder
	for i := range pieces {
		fmt.Fprintf(&b, "%d of content %d, %s\n", i, n, strings.Repeat("x", 50+n%40))
	}
	return b.String()
}

// number reads which content a text is; it is an error if it is none, whole.
func number(text string) (int, error) {
	var n int
	if _, err := fmt.Sscanf(text, "0 of content %d,", &n); err != nil {
		return 0, err
	}
	if text != whole(n) {
		return 0, fmt.Errorf("%d bytes of content %d, which has %d", len(text), n, len(whole(n)))
	}
	return n, nil
}

func replaceForEver(path string) {
	for n := 1; ; n++ {
		err := writing.Replace(path, func(w io.Writer) error {
			for line := range strings.Lines(whole(n)) {
				if _, err := io.WriteString(w, line); err != nil {
					return err
				}
			}
			return nil
		})
		if err != nil {
			fmt.Println("error", err)
			os.Exit(1)
		}
		fmt.Println(n)
	}
}

func TestKilled(t *testing.T) {
	turns := kills
	if testing.Short() {
		turns = shortKills
	}
	path := filepath.Join(t.TempDir(), "parts.yaml")
	unfinished := 0
	for turn := range turns {
		if err := os.WriteFile(path, []byte(whole(0)), 0o600); err != nil {
			t.Fatal(err)
		}
		confirmed := killed(t, path, time.Duration(turn%20)*500*time.Microsecond)
		content, err := os.ReadFile(path)
		if err != nil {
			t.Fatalf("turn %d: %v", turn, err)
		}
		got, err := number(string(content))
		// What was confirmed is there, or the one that was just being written.
		if err != nil || got != confirmed && got != confirmed+1 {
			t.Fatalf("turn %d: content %d after %d was confirmed: %v", turn, got, confirmed, err)
		}
		// A killed program cannot remove what it had begun beside the file; the
		// next one does.
		begun, err := filepath.Glob(filepath.Join(filepath.Dir(path), ".parts.yaml.*.unfinished"))
		if err != nil || len(begun) > 1 {
			t.Fatalf("turn %d: %v (%v) are left", turn, begun, err)
		}
		unfinished += len(begun)
		if err := writing.Replace(path, text("next")); err != nil {
			t.Fatal(err)
		}
		holds(t, path, "next", 1)
	}
	t.Logf("%d kills, %d of them in the middle of a content", turns, unfinished)
	if unfinished == 0 {
		t.Error("no kill fell into the writing: the test shows nothing")
	}
}

// killed runs the child, kills it a while after its first content, and gives
// the number of the last one it confirmed.
func killed(t *testing.T, path string, after time.Duration) (confirmed int) {
	t.Helper()
	child := exec.Command(os.Args[0])
	child.Env = append(os.Environ(), childFile+"="+path)
	out, err := child.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := child.Start(); err != nil {
		t.Fatal(err)
	}
	lines := bufio.NewScanner(out)
	if !lines.Scan() {
		t.Fatal("the child said nothing")
	}
	first := lines.Text()
	timer := time.AfterFunc(after, func() { _ = child.Process.Kill() })
	defer timer.Stop()
	last := first
	for lines.Scan() {
		last = lines.Text()
	}
	_ = child.Wait()
	if _, err := fmt.Sscan(last, &confirmed); err != nil {
		t.Fatalf("the child said %q", last)
	}
	return confirmed
}

// A writer that fails leaves the old file, wherever it fails: before the first
// byte, inside the buffer in front of the file, at its edges, far behind it.
func TestFailsAnywhere(t *testing.T) {
	const buffer = 4096 // of bufio.NewWriter
	path := filepath.Join(t.TempDir(), "parts.yaml")
	old := whole(0)
	if err := writing.Replace(path, text(old)); err != nil {
		t.Fatal(err)
	}
	full := errors.New("no space left")
	for _, at := range []int{0, 1, buffer - 1, buffer, buffer + 1, 3*buffer - 1, 3 * buffer, 3*buffer + 1, 1 << 20} {
		for _, step := range []int{1 << 30, 1000, 7} {
			err := writing.Replace(path, func(w io.Writer) error {
				rest := bytes.Repeat([]byte("n"), at)
				for len(rest) > 0 {
					n := min(step, len(rest))
					if _, err := w.Write(rest[:n]); err != nil {
						return err
					}
					rest = rest[n:]
				}
				return full
			})
			if !errors.Is(err, full) {
				t.Errorf("failing after %d bytes gave %v", at, err)
			}
			holds(t, path, old, 1)
		}
	}
}
