package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"os/signal"

	"loudfor/cmd/internal/record"
	"loudfor/cmd/internal/style"
	"loudfor/model/parallel"
)

// console is the outside world as one command sees it. Everything goes through
// it, so that a test runs the whole program with buffers.
type console struct {
	in       io.Reader
	out      *outlet
	err      io.Writer
	terminal *os.File      // that err is, for progress; nil: it is none
	keys     io.Reader     // somebody at a terminal, who turns the pages of long answers; nil: nobody
	style    style.Style   // of out
	errStyle style.Style   // of err
	json     bool          // the answer, and errors with it, are wanted as JSON
	markdown bool          // the answer is wanted as Markdown
	quiet    bool          // nothing but the answer and errors
	origin   record.Origin // of the parts of the answer
	// interrupted ends at the first interrupt; the commands have it as their
	// context, and what is worked out while files are loaded has it from here.
	interrupted context.Context
}

// guard turns a fault of the program into a plain message. Tests of the
// program switch it off: there a fault must stay visible.
var guard = true

// run is the whole program: it answers args and returns the exit status.
func run(args []string, stdin io.Reader, stdout, stderr io.Writer) int {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt)
	defer stop()
	// The first interrupt stops a search, which then tells what it has; from
	// then on they kill, as for any program.
	context.AfterFunc(ctx, stop)
	return runUntil(ctx, args, stdin, stdout, stderr)
}

// runUntil is run with a context that ends at the first interrupt.
func runUntil(ctx context.Context, args []string, stdin io.Reader, stdout, stderr io.Writer) (status int) {
	c := &console{in: stdin, out: &outlet{to: screened(stdout)}, err: screened(stderr), terminal: terminal(stderr), interrupted: ctx,
		style: style.For(stdout, os.Getenv), errStyle: style.For(stderr, os.Getenv)}
	if keys := terminal(stdin); keys != nil && c.terminal != nil && terminal(stdout) != nil {
		c.keys = keys // what is asked stands on stderr
	}
	if guard {
		defer func() {
			if fault := recover(); fault != nil {
				status = c.fail(faultError{parallel.FaultOf(fault)})
			}
		}()
	}
	root := rootCommand(c)
	root.SetArgs(args)
	root.SetIn(stdin)
	root.SetOut(c.out)
	root.SetErr(c.err)
	err := root.ExecuteContext(ctx)
	if c.out.fault != nil {
		err = c.out.fault
	}
	if err != nil {
		// A command line that cobra refused never reached the flag's variable.
		c.json = c.json || asksForJSON(args)
		return c.fail(err)
	}
	return statusDone
}

func asksForJSON(args []string) bool {
	for _, arg := range args {
		if arg == "--" {
			return false
		}
		if arg == "--json" || arg == "--json=true" {
			return true
		}
	}
	return false
}

// faultError is a programmer's mistake that reached the top. It names the line: enough
// for a report, where a stack would only frighten.
type faultError struct{ *parallel.Fault }

func (e faultError) Error() string {
	return fmt.Sprintf("this is a fault of the program, not of your files: %v (%s).\n"+
		"Please report it together with the command line and the files that led to it.", e.Value, e.Place)
}

// errorIs is errors.As without a variable at the call.
func errorIs[T error](err error) (T, bool) {
	var target T
	ok := errors.As(err, &target)
	return target, ok
}
