package main

import (
	"bytes"
	"context"
	"errors"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strings"
	"testing"

	"loudfor/cmd/internal/reprice"
	"loudfor/model/parallel"
)

// What is read may never end: an interrupt does.
func TestInterruptedReading(t *testing.T) {
	if runtime.GOOS == "windows" {
		t.Skip("a process cannot be sent an interrupt there")
	}
	book := filepath.Join(t.TempDir(), "book.db")
	for _, args := range [][]string{
		{"import", "-", "--kind", "amplifier"},
		{"pick", "-"},
		{"box", "-"},
		{"book", "add", "-", "--book", book},
		{"meter", "compare", "-"},
		{"meter", "list", "-"},
	} {
		cmd := exec.Command(os.Args[0], args...)
		cmd.Env = append(os.Environ(), asProgram+"=1")
		var said bytes.Buffer
		cmd.Stdout, cmd.Stderr = &said, &said
		in, err := cmd.StdinPipe()
		if err != nil {
			t.Fatal(err)
		}
		if err := cmd.Start(); err != nil {
			t.Fatal(err)
		}
		// More than a pipe holds: when it is taken the program is reading.
		if _, err := in.Write(bytes.Repeat([]byte("# nothing yet\n"), 1<<16)); err != nil {
			t.Errorf("%v does not read: %v", args, err)
		}
		if err := cmd.Process.Signal(os.Interrupt); err != nil {
			t.Fatal(err)
		}
		err = cmd.Wait() // for ever, if it does not hear
		in.Close()
		var exit *exec.ExitError
		if !errors.As(err, &exit) || exit.ExitCode() != statusBadInput || said.Len() == 0 {
			t.Errorf("%v ends with %v: %s", args, err, said.String())
		}
	}
	if _, err := os.Stat(book); err == nil {
		t.Error("a book was made")
	}
}

// A watch ends at once, whatever the lists are that it is reading.
func TestInterruptedWatch(t *testing.T) {
	ctx, interrupt := context.WithCancel(context.Background())
	never := make(chan bool)
	defer close(never)
	c := &console{quiet: true, out: &outlet{to: io.Discard}, err: io.Discard}
	err := c.watch(ctx, t.TempDir(), func(ctx context.Context) ([]reprice.Result, error) {
		return heard(ctx, func() ([]reprice.Result, error) { interrupt(); <-never; return nil, nil })
	})
	if err != nil {
		t.Error(err)
	}
}

func TestHeard(t *testing.T) {
	ctx, interrupt := context.WithCancel(context.Background())
	if v, err := heard(ctx, func() (int, error) { return 7, nil }); v != 7 || err != nil {
		t.Error(v, err)
	}
	begun, never := make(chan bool), make(chan bool)
	defer close(never)
	go func() {
		<-begun
		interrupt()
	}()
	if _, err := heard(ctx, func() (int, error) { close(begun); <-never; return 7, nil }); !errors.Is(err, context.Canceled) {
		t.Error(err)
	}
	// A fault comes through with the place where it arose.
	guard = true
	defer func() {
		guard = false
		if f, ok := recover().(*parallel.Fault); !ok || f.Value != "broken" || !strings.HasPrefix(f.Place, "heard_test.go:") {
			t.Errorf("%+v", f)
		}
	}()
	_, _ = heard(context.Background(), func() (int, error) { panic("broken") })
}
