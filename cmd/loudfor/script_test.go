package main

import (
	"bytes"
	"io"
	"os"
	"regexp"
	"strconv"
	"strings"
	"sync"

	"github.com/rogpeppe/go-internal/testscript"

	"loudfor/cmd/internal/table"
)

// narrow checks that no line of the given outputs is wider than the page.
func narrow(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) == 0 {
		ts.Fatalf("usage: narrow FILE...")
	}
	most, err := strconv.Atoi(ts.Getenv("COLUMNS"))
	ts.Check(err)
	for _, name := range args {
		for i, line := range strings.Split(ts.ReadFile(name), "\n") {
			if cells := table.Cells(line); cells > most {
				ts.Fatalf("%s:%d is %d cells wide: %s", name, i+1, cells, line)
			}
		}
	}
}

// oneAtATime: the program opens files by their names as given, so the folder
// of the process is the script's while it runs.
var oneAtATime sync.Mutex

// status runs the program in this process, many times faster than as a process
// of its own, and checks the exit status; both outputs are kept for the script.
// (A few scripts use exec, so that the real process is tested too.)
func status(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) < 2 || args[1] != "loudfor" {
		ts.Fatalf("usage: status WANT loudfor ARGUMENTS...")
	}
	want, err := strconv.Atoi(args[0])
	ts.Check(err)
	oneAtATime.Lock()
	defer oneAtATime.Unlock()
	before, err := os.Getwd()
	ts.Check(err)
	ts.Check(os.Chdir(ts.MkAbs(".")))
	defer os.Chdir(before)
	columns := os.Getenv("COLUMNS")
	ts.Check(os.Setenv("COLUMNS", ts.Getenv("COLUMNS")))
	defer os.Setenv("COLUMNS", columns)
	var stdout, stderr bytes.Buffer
	got := run(args[2:], strings.NewReader(""), &stdout, &stderr)
	for _, out := range []struct {
		to   io.Writer
		text string
	}{{ts.Stdout(), counted(ts.Name(), stdout.String())}, {ts.Stderr(), stderr.String()}} {
		_, err := io.WriteString(out.to, out.text)
		ts.Check(err)
		for _, word := range []string{"goroutine ", "panic", ".go:"} {
			if strings.Contains(out.text, word) {
				ts.Fatalf("a stack trace: %s", out.text)
			}
		}
	}
	if got != want {
		ts.Fatalf("%s exits with %d, want %d\n%s", strings.Join(args[1:], " "), got, want, stderr.String())
	}
}

// How a proof divides what was covered is the search's own affair: it stands in
// one script, proof.txtar, so that a change of the search repaints no other.
var (
	covered = regexp.MustCompile(`(?m)^( *[0-9,]+ combinations of parts were covered: )[0-9,]+( of them computed, the others dropped because\n)\n?(?: *- .*\n(?: {4}\S.*\n)*)+`)
	dropped = regexp.MustCompile(`("evaluated": )\d+(,\s*"dropped": )\{[^}]*\}`)
)

// counted is what a script sees of an output: in that one nothing but proofs,
// elsewhere all but their counts.
func counted(script, text string) string {
	if script == "proof" {
		proofs := strings.Join(covered.FindAllString(text, -1), "")
		for _, drop := range dropped.FindAllString(text, -1) {
			proofs += drop + "\n"
		}
		return proofs
	}
	return dropped.ReplaceAllString(covered.ReplaceAllString(text, "${1}#${2}  - #\n"), "${1}0${2}{}")
}

// sparse makes a file of many bytes that take no room on the disk.
func sparse(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 2 {
		ts.Fatalf("usage: sparse FILE BYTES")
	}
	size, err := strconv.ParseInt(args[1], 10, 64)
	ts.Check(err)
	f, err := os.Create(ts.MkAbs(args[0]))
	ts.Check(err)
	ts.Check(f.Truncate(size))
	ts.Check(f.Close())
}
