// Package style marks words for a terminal: headings bold, warnings yellow.
//
//	s := style.For(os.Stdout, os.Getenv)
//	fmt.Println(s.Bold("Hookup"))
//
// Marks are an extra: every word that they touch says the same without them.
// They appear only where the output is a terminal, and never where NO_COLOR is
// set (no-color.org) or TERM is dumb. The zero Style marks nothing.
package style

import (
	"io"
	"os"

	"github.com/mattn/go-isatty"
)

// Style knows whether marks may be used.
type Style struct{ on bool }

// For decides for one output; env is os.Getenv or a stand-in.
func For(w io.Writer, env func(string) string) Style {
	file, ok := w.(*os.File)
	return Style{on: ok && isatty.IsTerminal(file.Fd()) && env("NO_COLOR") == "" && env("TERM") != "dumb"}
}

// The ANSI marks (ECMA-48).
const (
	bold   = "\x1b[1m"
	yellow = "\x1b[33m"
	red    = "\x1b[31m"
	reset  = "\x1b[0m"
)

func (s Style) mark(code, text string) string {
	if !s.on || text == "" {
		return text
	}
	return code + text + reset
}

// Bold is for headings.
func (s Style) Bold(text string) string { return s.mark(bold, text) }

// Warn is for warnings, which also begin with the word.
func (s Style) Warn(text string) string { return s.mark(yellow, text) }

// Error is for errors, which also begin with the word.
func (s Style) Error(text string) string { return s.mark(red, text) }

// On tells whether marks are used, for writers that have marks of their own.
func (s Style) On() bool { return s.on }
