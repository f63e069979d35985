package main

import (
	"bytes"
	"strconv"
	"strings"
	"testing"

	"loudfor/cmd/internal/table"
)

// outcome is what one run of the program left behind.
type outcome struct {
	status         int
	stdout, stderr string
}

// call runs the whole program in this process.
func call(args ...string) outcome { return callWith("", args...) }

// callWith gives it something to read on standard input.
func callWith(stdin string, args ...string) outcome {
	var stdout, stderr bytes.Buffer
	status := run(args, strings.NewReader(stdin), &stdout, &stderr)
	return outcome{status, stdout.String(), stderr.String()}
}

// must runs the program and wants an answer.
func must(t *testing.T, args ...string) string {
	t.Helper()
	got := call(args...)
	if got.status != statusDone {
		t.Fatalf("loudfor %s exits with %d\n%s", strings.Join(args, " "), got.status, got.stderr)
	}
	return got.stdout
}

// answers are commands that print tables, for tests that look at all of them.
var answers = [][]string{
	{"pick"},
	{"pick", "demo:500-no-room"},
	{"pick", "demo:800-music", "--top", "12"},
	{"pick", "demo:1500-one-shop"},
	{"pick", "--alike"},
	{"ladder", "--worth", "25"},
	{"ladder", "demo:800-music"},
	{"ladder", "demo:500-no-room"},
	{"grow", "demo:210-grow"},
	{"predict", "demo:value-12-sealed"},
	{"predict", "demo:two-tens-vented"},
	{"predict", "demo:music-hatch"},
	{"predict", "demo:two-tens-vented", "--volts", "2.83"},
	{"help", "json"},
	{"help", "formats"},
	{"help", "pick"},
	{"help", "ladder"},
	{"help", "predict"},
	{"help", "check"},
	{"help"},
}

// No answer is wider than the page, and none holds a mark of colour: the
// output of a test is no terminal. (check is not among them: it quotes lines
// and names of the user's files as they are.)
func TestAnswersAreNarrowAndPlain(t *testing.T) {
	if testing.Short() {
		t.Skip("the scripts run the same commands")
	}
	for _, args := range answers {
		got := call(args...)
		if got.status != statusDone && got.status != statusNoBuild {
			t.Errorf("%v exits with %d: %s", args, got.status, got.stderr)
		}
		for i, line := range strings.Split(got.stdout, "\n") {
			if cells := table.Cells(line); cells > table.Most {
				t.Errorf("%v: line %d is %d cells wide: %s", args, i+1, cells, line)
			}
			if strings.HasSuffix(line, " ") {
				t.Errorf("%v: line %d ends in a space: %q", args, i+1, line)
			}
		}
		if strings.Contains(got.stdout, "\x1b") {
			t.Errorf("%v: marks where there is no terminal", args)
		}
	}
}

// Pages follow the terminal: no line is wider than it, and no word that a wide
// page shows is broken on a narrow one.
func TestAnswersFitTheTerminal(t *testing.T) {
	if testing.Short() {
		t.Skip("whole commands, four times")
	}
	words := func(text string) map[string]bool {
		all := map[string]bool{}
		for word := range strings.FieldsSeq(text) {
			if word = strings.Trim(word, ",;:.()"); strings.ContainsAny(word, "abcdefghijklmnopqrstuvwxyz0123456789") && !strings.ContainsAny(word, "|+") {
				all[word] = true
			}
		}
		return all
	}
	for _, args := range [][]string{{"pick"}, {"pick", "--full"}, {"pick", "demo:800-music", "--list"}, {"pick", "demo:500-no-room"}, {"ladder", "demo:800-music"},
		{"why"}, {"why", "--part", "OR-4C-B"}, {"versus", "demo:250-reading", "rank:1", "rank:2"},
		{"grow", "demo:210-grow"}} {
		t.Setenv("COLUMNS", "120")
		wide := call(args...)
		known := words(wide.stdout)
		for _, columns := range []int{60, 80, 100} {
			t.Setenv("COLUMNS", strconv.Itoa(columns))
			got := call(args...)
			if got.status != wide.status {
				t.Errorf("%v at %d columns exits with %d: %s", args, columns, got.status, got.stderr)
			}
			for i, line := range strings.Split(got.stdout, "\n") {
				if cells := table.Cells(line); cells > columns {
					t.Errorf("%v at %d columns: line %d is %d wide: %s", args, columns, i+1, cells, line)
				}
			}
			text := got.stdout
			if at := strings.Index(text, "level, dB, against price"); at >= 0 {
				text = text[:at] // the figures of an axis follow its length
			}
			for word := range words(text) {
				if !known[word] {
					t.Errorf("%v at %d columns: %q is no word of the wide page", args, columns, word)
				}
			}
		}
	}
}

// What is said across the counter fits a screen.
func TestShortAnswerIsShort(t *testing.T) {
	t.Setenv("COLUMNS", "80")
	for _, brief := range []string{"demo:250-reading", "demo:800-music", "demo:350-built"} {
		got := must(t, "pick", brief)
		if lines := strings.Count(got, "\n"); lines > 30 {
			t.Errorf("%s: %d lines\n%s", brief, lines, got)
		}
		for _, word := range []string{"loudest", "best value", "best for music", "Proven", "assumption", "--full"} {
			if !strings.Contains(strings.ToLower(got), strings.ToLower(word)) {
				t.Errorf("%s: nothing of %q\n%s", brief, word, got)
			}
		}
	}
}

// The number of cores never shows in a single byte.
func TestSameBytesWhateverTheCores(t *testing.T) {
	asked := [][]string{{"pick"}, {"pick", "demo:800-music", "--json"}, {"ladder", "demo:800-music", "--json"}, {"pick", "demo:500-no-room"}, {"grow", "demo:210-grow", "--json"}}
	if testing.Short() {
		asked = asked[:1]
	}
	for _, args := range asked {
		want := call(append(args, "--workers", "1")...)
		for _, workers := range []string{"2", "8"} {
			if got := call(append(args, "--workers", workers)...); got != want {
				t.Errorf("%v with %s workers differs:\n%s\nwith 1:\n%s", args, workers, got.stdout, want.stdout)
			}
		}
	}
}

// A fault of the program reaches the user as a plain message, never as a
// stack, and sets the status.
func TestFaultsAreToldPlainly(t *testing.T) {
	guard = true
	defer func() { guard = false }()
	var stderr bytes.Buffer
	// A writer that panics stands for any fault below the commands.
	status := run([]string{"version"}, strings.NewReader(""), faulty{}, &stderr)
	if status != statusBadInput {
		t.Errorf("status %d", status)
	}
	text := stderr.String()
	for _, want := range []string{"fault of the program", "something broke", "report"} {
		if !strings.Contains(text, want) {
			t.Errorf("the message does not say %q: %s", want, text)
		}
	}
	for _, never := range []string{"goroutine", "panic"} {
		if strings.Contains(text, never) {
			t.Errorf("the message says %q: %s", never, text)
		}
	}
}

type faulty struct{}

func (faulty) Write([]byte) (int, error) { panic("something broke") }
