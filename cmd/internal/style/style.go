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
	"bytes"
	"cmp"
	"io"
	"os"
	"strconv"
	"strings"

	"loudfor/catalog/report"

	"github.com/mattn/go-isatty"
	"golang.org/x/term"
)

// Style knows whether marks may be used, and which.
type Style struct {
	on       bool
	markdown bool
	width    int
}

// How wide a page is, in cells: as the terminal, within reason; usual where that
// is not known; printed where it is not written for a terminal.
const (
	narrowest, widest = 60, 120
	usual             = 80
	printed           = 100
)

// Width is how many cells a line may have.
func (s Style) Width() int { return cmp.Or(s.width, printed) }

// widthOf asks COLUMNS first (POSIX), then the terminal.
func widthOf(file *os.File, env func(string) string) int {
	width, err := strconv.Atoi(env("COLUMNS"))
	if (err != nil || width <= 0) && file != nil {
		width, _, err = term.GetSize(int(file.Fd()))
	}
	if err != nil || width <= 0 {
		return usual
	}
	return min(max(width, narrowest), widest)
}

// Markdown is the style of pages that are to be pasted into a message or a
// document (CommonMark): what is bold on a terminal is bold there.
func Markdown() Style { return Style{markdown: true} }

// IsMarkdown tells whether the page shall be Markdown.
func (s Style) IsMarkdown() bool { return s.markdown }

// For decides for one output; env is os.Getenv or a stand-in.
func For(w io.Writer, env func(string) string) Style {
	file, ok := w.(*os.File)
	return Style{on: ok && isatty.IsTerminal(file.Fd()) && env("NO_COLOR") == "" && env("TERM") != "dumb", width: widthOf(file, env)}
}

// The ANSI marks (ECMA-48).
const (
	bold   = "\x1b[1m"
	yellow = "\x1b[33m"
	red    = "\x1b[31m"
	reset  = "\x1b[0m"
)

var marks = append(report.Marks(), bold, yellow, red, reset)

// Mark is the mark of this program that a text begins with, if it does. part is
// true where the text ends within one.
func Mark(text []byte) (mark string, part bool) {
	for _, m := range marks {
		if bytes.HasPrefix(text, []byte(m)) {
			return m, false
		}
		part = part || bytes.HasPrefix([]byte(m), text)
	}
	return "", part
}

func (s Style) mark(code, text string) string {
	switch {
	case text == "":
	case s.on:
		return code + text + reset
	case s.markdown && code != yellow:
		return "**" + EscapeMarkdown(text) + "**"
	}
	return text
}

// Bold is for headings.
func (s Style) Bold(text string) string { return s.mark(bold, text) }

// Warn is for warnings, which also begin with the word.
func (s Style) Warn(text string) string { return s.mark(yellow, text) }

// Error is for errors, which also begin with the word.
func (s Style) Error(text string) string { return s.mark(red, text) }

// On tells whether marks are used, for writers that have marks of their own.
func (s Style) On() bool { return s.on }

// markdownMarks are the characters that CommonMark gives a meaning to inside a
// line, and < and &, which could begin HTML.
var markdownMarks = strings.NewReplacer("\\", "\\\\", "`", "\\`", "*", "\\*", "_", "\\_", "[", "\\[", "]", "\\]",
	"<", "&lt;", "&", "&amp;", "|", "\\|", "~", "\\~")

// EscapeMarkdown makes a text stand in Markdown as it is, whatever a part is
// called.
func EscapeMarkdown(text string) string { return markdownMarks.Replace(text) }
