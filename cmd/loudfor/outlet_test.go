package main

import (
	"bytes"
	"errors"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strings"
	"testing"

	"loudfor/cmd/internal/record"
)

// fullDisk takes so many bytes and then no more, like a disk that fills.
type fullDisk struct {
	left int
}

var errFull = errors.New("no space left")

func (n *fullDisk) Write(text []byte) (int, error) {
	if len(text) > n.left {
		taken := n.left
		n.left = 0
		return taken, errFull
	}
	n.left -= len(text)
	return len(text), nil
}

// Every command that cannot get its answer through says so and fails, whether
// nothing of it is taken or the end is missing.
func TestFullOutput(t *testing.T) {
	parts := filepath.Join(t.TempDir(), "parts.yaml")
	write(t, parts, tinyShop)
	book := filepath.Join(t.TempDir(), "book.db")
	must(t, "book", "add", "demo:250-reading", "--book", book)
	for _, args := range [][]string{
		{"version"}, {"help"}, {"help", "json"}, {"pick", "--help"}, {"schema", "parts"}, {"completion", "bash"}, {"__complete", "pick", "demo:"},
		{"check", "--catalog", parts}, {"export", "--catalog", parts}, {"pick"}, {"pick", "demo:500-no-room"}, {"ladder", "--csv", "-"}, {"box", "demo:twelve-built", "--csv", "-"},
		{"predict", "demo:value-12-sealed"}, {"predict", "demo:value-12-sealed", "--curve", "-"}, {"audit", "--lp", "-"},
		{"book", "list", "--book", book}, {"book", "show", "1", "--book", book}, {"meter", "plan"},
	} {
		for _, json := range []bool{false, true} {
			all := args
			if json {
				all = append([]string{"--json"}, args...)
			}
			var out, errs bytes.Buffer
			if status := run(all, strings.NewReader(""), &out, &errs); status == statusUsage {
				continue // both want standard output
			}
			for _, room := range []int{0, out.Len() / 2, out.Len() - 1} {
				errs.Reset()
				status := run(all, strings.NewReader(""), &fullDisk{room}, &errs)
				if status != statusBadInput || !strings.Contains(errs.String(), errFull.Error()) {
					t.Errorf("%v with room for %d of %d bytes: status %d, %q", all, room, out.Len(), status, errs.String())
				}
			}
		}
	}
}

// Where no build exists, every command answers with the document that says why.
func TestNoBuildIsADocument(t *testing.T) {
	for _, args := range [][]string{
		{"pick"}, {"ladder"}, {"grow"}, {"why"}, {"sheet"}, {"box"}, {"versus"}, {"reprice"}, {"audit"}, {"book", "add"},
	} {
		dir := t.TempDir()
		all := append(append([]string{"--json"}, args...), "demo:500-no-room")
		switch args[0] {
		case "versus":
			all = append(all, "rank:1", "rank:2")
		case "reprice":
			all = append(all, "--prices", "demo:clearance")
		case "grow":
			all = append(all, "--then", "100")
		case "audit":
			all = append(all, "--lp", filepath.Join(dir, "program.lp"))
		case "book":
			all = append(all, "--book", filepath.Join(dir, "book.db"))
		}
		got := call(all...)
		doc := decode(t, got.stdout)
		want := statusNoBuild
		if args[0] == "audit" {
			want = statusDone // that no build exists is what is audited
		}
		if got.status != want || want == statusNoBuild && got.stderr == "" {
			t.Errorf("%v: status %d, %q, %v", all, got.status, got.stderr, doc["schema"])
		}
		if schema := map[string]any{"versus": record.PickSchema, "box": record.ErrorSchema}[args[0]]; schema != nil && doc["schema"] != schema {
			t.Errorf("%v: %s", all, got.stdout)
		}
	}
}

// A reader that has gone ends the program with a word and a status.
func TestClosedPipe(t *testing.T) {
	if runtime.GOOS == "windows" {
		t.Skip("there is no such signal")
	}
	r, w, err := os.Pipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := r.Close(); err != nil {
		t.Fatal(err)
	}
	cmd := exec.Command(os.Args[0], "version")
	cmd.Env = append(os.Environ(), asProgram+"=1")
	var errs bytes.Buffer
	cmd.Stdout, cmd.Stderr = w, &errs
	if err := cmd.Run(); err == nil {
		t.Error("no failure")
	}
	if cmd.ProcessState.ExitCode() != statusBadInput || !strings.Contains(errs.String(), "pipe") {
		t.Errorf("status %d, %q", cmd.ProcessState.ExitCode(), errs.String())
	}
	if err := w.Close(); err != nil {
		t.Fatal(err)
	}
}
