package main

import (
	"errors"
	"os"
	"os/exec"
	"strconv"
	"strings"

	"github.com/rogpeppe/go-internal/testscript"

	"loudfor/cmd/internal/table"
)

// narrow checks that no line of the given outputs is wider than the page.
func narrow(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) == 0 {
		ts.Fatalf("usage: narrow FILE...")
	}
	for _, name := range args {
		for i, line := range strings.Split(ts.ReadFile(name), "\n") {
			if cells := table.Cells(line); cells > table.Most {
				ts.Fatalf("%s:%d is %d cells wide: %s", name, i+1, cells, line)
			}
		}
	}
}

// status runs a command and checks its exit status, keeping both outputs.
func status(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) < 2 {
		ts.Fatalf("usage: status WANT COMMAND ARGUMENTS...")
	}
	want, err := strconv.Atoi(args[0])
	ts.Check(err)
	got := 0
	if err := ts.Exec(args[1], args[2:]...); err != nil {
		var exit *exec.ExitError
		if !errors.As(err, &exit) {
			ts.Fatalf("%v", err)
		}
		got = exit.ExitCode()
	}
	if got != want {
		ts.Fatalf("%s exits with %d, want %d", strings.Join(args[1:], " "), got, want)
	}
	for _, word := range []string{"goroutine ", "panic:", ".go:"} {
		if strings.Contains(ts.ReadFile("stderr"), word) || strings.Contains(ts.ReadFile("stdout"), word) {
			ts.Fatalf("a stack trace: %q", word)
		}
	}
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
