package report

import (
	"fmt"
	"io"
	"strconv"
	"strings"
	"unicode"
)

// How a problem looks:
//
//	error  parts.yaml:12:10  "58 kg" is a mass, not a volume
//	  line 12 is  vas: >>58 kg<<
//	  write a volume in L, m3, cm3, ft3 or in3, such as 58 L
//	  see parts.yaml:3:5: first stated here
//
// The head line alone can be searched and clicked; the rest shows the exact
// characters, between arrows in the line itself, so that they stay marked when
// the message is sent on in any font, and the way out.

// widestContext is how many columns of a source line are shown; a longer line
// is cut around the marked part.
const widestContext = 100

func itoa(n int) string { return strconv.Itoa(n) }

type style struct{ err, warn, info, dim, bold, off string }

var (
	plain   = style{}
	colours = style{err: "\x1b[1;31m", warn: "\x1b[1;33m", info: "\x1b[1;36m", dim: "\x1b[2m", bold: "\x1b[1m", off: "\x1b[0m"}
)

// Marks are the escapes that Write uses.
func Marks() []string {
	c := colours
	return []string{c.err, c.warn, c.info, c.dim, c.bold, c.off}
}

func (s style) of(v Severity) string { return [...]string{s.err, s.warn, s.info}[v] }

// Write prints every problem and a closing count; with colour it uses ANSI
// escapes. It prints nothing for an empty report.
func (r *Report) Write(w io.Writer, colour bool) error {
	if r == nil || len(r.Problems) == 0 {
		return nil
	}
	s := plain
	if colour {
		s = colours
	}
	var b strings.Builder
	for i := range r.Problems {
		if i > 0 {
			b.WriteByte('\n')
		}
		r.Problems[i].write(&b, s)
	}
	if line := r.Summary(); line != "" && len(r.Problems) > 1 {
		fmt.Fprintf(&b, "\n%s\n", line)
	}
	_, err := io.WriteString(w, b.String())
	return err
}

// Summary counts the problems in words, such as "2 errors, 1 warning".
func (r *Report) Summary() string {
	var parts []string
	for _, s := range []struct {
		Severity
		one, many string
	}{{Error, "error", "errors"}, {Warning, "warning", "warnings"}, {Info, "remark", "remarks"}} {
		switch n := r.Count(s.Severity); n {
		case 0:
		case 1:
			parts = append(parts, "1 "+s.one)
		default:
			parts = append(parts, itoa(n)+" "+s.many)
		}
	}
	if r != nil && r.More > 0 {
		parts = append(parts, itoa(r.More)+" more not shown")
	}
	return strings.Join(parts, ", ")
}

func (p *Problem) write(b *strings.Builder, s style) {
	fmt.Fprintf(b, "%s%s%s", s.of(p.Severity), p.Severity, s.off)
	if p.Where != (Position{}) {
		fmt.Fprintf(b, "  %s%s%s", s.bold, Printable(p.Where.String()), s.off)
	}
	fmt.Fprintf(b, "  %s\n", Printable(PlainQuotes(p.Summary)))
	if p.Context != "" && p.Where.Line > 0 {
		before, marked, after := p.marked()
		fmt.Fprintf(b, "  %sline %d is%s  %s%s>>%s<<%s%s\n", s.dim, p.Where.Line, s.off, before, s.of(p.Severity), marked, s.off, after)
	}
	for line := range strings.SplitSeq(p.Detail, "\n") {
		if line != "" {
			fmt.Fprintf(b, "  %s\n", Printable(PlainQuotes(line)))
		}
	}
	if p.Related != nil {
		note := p.RelatedNote
		if note == "" {
			note = "it is about this too"
		}
		fmt.Fprintf(b, "  see %s: %s\n", Printable(p.Related.String()), Printable(PlainQuotes(note)))
	}
}

// PlainQuotes undoes what quoting in Go does to an inch mark: whoever wrote 12"
// reads 12" again.
func PlainQuotes(s string) string { return strings.ReplaceAll(s, `\"`, `"`) }

// marked gives the source line in three pieces, made safe for a terminal: what
// stands before the marked place, the place, and what follows. Blanks at its
// start mean nothing here.
func (p *Problem) marked() (before, marked, after string) {
	line := []rune(Printable(strings.ReplaceAll(strings.ToValidUTF8(p.Context, "\ufffd"), "\t", " ")))
	from := min(max(p.Where.Column-1, 0), len(line))
	to := min(from+max(p.Length, 1), len(line))
	first, last := 0, len(line)
	for first < from && line[first] == ' ' {
		first++
	}
	head, tail := "", ""
	if last-first > widestContext {
		if start := max(first, min(from-widestContext/4, len(line)-widestContext)); start > first {
			first, head = start, "..."
		}
		if end := first + widestContext; end < last {
			last, tail = end, "..."
		}
	}
	to = min(to, last)
	return head + string(line[first:from]), string(line[from:to]), strings.TrimRight(string(line[to:last])+tail, " ")
}

// Printable replaces characters that could move the cursor of a terminal or
// turn the direction of writing, one for one.
func Printable(s string) string {
	return strings.Map(func(r rune) rune {
		if r == unicode.ReplacementChar || unicode.IsPrint(r) {
			return r
		}
		if unicode.IsSpace(r) {
			return ' '
		}
		return unicode.ReplacementChar
	}, s)
}
