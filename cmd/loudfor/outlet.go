package main

import (
	"bytes"
	"fmt"
	"io"
	"os"
	"unicode"
	"unicode/utf8"

	"github.com/mattn/go-isatty"

	"loudfor/catalog/report"
	"loudfor/cmd/internal/style"
)

// outlet is standard output. It remembers what cannot be seen from outside: that
// an answer has begun, which leaves no room for a document of an error, and that
// it did not get through, which is a failure whatever the command thinks.
type outlet struct {
	to    io.Writer
	begun bool
	fault error
}

func (o *outlet) Write(text []byte) (int, error) {
	n, err := o.to.Write(text)
	o.begun = o.begun || n > 0
	if o.fault == nil && err != nil {
		o.fault = fmt.Errorf("standard output does not take the answer: %w", err)
	}
	return n, err
}

// screen stands before a terminal and lets nothing act on it but the program's
// own marks. Readers refuse names that would; a job book, or a name on the
// command line, may still hold some.
type screen struct {
	to    io.Writer
	begun []byte // of a character or mark: buffered writers part them anywhere
}

// terminal is the terminal that an input or output is; nil: it is none.
func terminal(stream any) *os.File {
	if file, ok := stream.(*os.File); ok && isatty.IsTerminal(file.Fd()) {
		return file
	}
	return nil
}

// screened is an output as it is, or behind a screen where it is a terminal.
func screened(w io.Writer) io.Writer {
	if file := terminal(w); file != nil {
		return &screen{to: file}
	}
	return w
}

// Write shows a character that acts as U+FFFD.
func (s *screen) Write(text []byte) (int, error) {
	rest := append(s.begun, text...)
	var shown bytes.Buffer
	for len(rest) > 0 {
		mark, part := style.Mark(rest)
		if part || !utf8.FullRune(rest) {
			break
		}
		if mark != "" {
			shown.WriteString(mark)
			rest = rest[len(mark):]
			continue
		}
		r, n := utf8.DecodeRune(rest)
		if report.Acts(r) {
			r = unicode.ReplacementChar
		}
		shown.WriteRune(r)
		rest = rest[n:]
	}
	s.begun = rest
	if _, err := s.to.Write(shown.Bytes()); err != nil {
		return 0, err
	}
	return len(text), nil
}
