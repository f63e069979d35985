package document

import (
	"strings"
	"unicode/utf8"

	"go.yaml.in/yaml/v3"

	"loudfor/catalog/report"
	"loudfor/catalog/units"
)

// Reader collects the problems of one file, or of a piece of it.
type Reader struct {
	File *File
	// SkipBad leaves out the items of a list in which something is wrong, and warns
	// of it; else nothing of the file counts.
	SkipBad bool

	shift int // lines of the file before the piece
	found []report.Problem
	more  int
}

// MostProblems is how many problems are kept for one file: enough for every
// file that a person will mend, and a bound for one that is not a catalogue.
const MostProblems = 10_000

// Add keeps a problem.
func (r *Reader) Add(p report.Problem) {
	if len(r.found) >= MostProblems {
		r.more++
		return
	}
	r.found = append(r.found, p)
}

// Problems gives what was found, in the order of finding, and how many
// problems more there were.
func (r *Reader) Problems() (found []report.Problem, more int) { return r.found, r.more }

// Tell adds to a report what was found.
func (r *Reader) Tell(to *report.Report) {
	to.Add(r.found...)
	to.More += r.more
}

// Failed tells whether an error was found.
func (r *Reader) Failed() bool {
	for i := range r.found {
		if r.found[i].Severity == report.Error {
			return true
		}
	}
	return false
}

// Leaves says that the item of a name, which was read since there were so many
// problems, has to be left out, and makes warnings of its errors; false where errors
// stay errors.
func (r *Reader) Leaves(since int, name string) (bad bool) {
	if !r.SkipBad {
		return false
	}
	for i := min(since, len(r.found)); i < len(r.found); i++ {
		bad = r.found[i].Excuse(name) || bad
	}
	return bad || r.Count() > since && len(r.found) == MostProblems // which of them is not known
}

// Count is how many problems were found so far.
func (r *Reader) Count() int { return len(r.found) + r.more }

// Where is the position of a node in the file.
func (r *Reader) Where(n *yaml.Node) report.Position {
	if n == nil || n.Line == 0 {
		return report.Position{File: r.File.Name}
	}
	return r.File.shown(n.Line+r.shift, n.Column)
}

// Complain adds an error about a node as a whole.
func (r *Reader) Complain(n *yaml.Node, summary, detail string) {
	r.Add(r.problem(report.Error, n, summary, detail))
}

// Warn adds a warning about a node as a whole.
func (r *Reader) Warn(n *yaml.Node, summary, detail string) {
	r.Add(r.problem(report.Warning, n, summary, detail))
}

// Twice adds an error about a thing that may stand once, and cites both places.
func (r *Reader) Twice(n *yaml.Node, summary, detail string, first report.Position) {
	r.Add(r.problem(report.Error, n, summary, detail).Citing(first, "first given here"))
}

// Bad adds an error about a value with the mistake that package units found.
func (r *Reader) Bad(n *yaml.Node, e *units.Error) {
	p := r.problem(report.Error, n, e.Summary, e.Remedy)
	if e.Start > 0 || e.End < len(n.Value) {
		r.narrow(&p, n, e.Start, e.End)
	}
	r.Add(p)
}

// problem marks the whole node: a scalar on its first line, a mapping or list
// by its first character.
func (r *Reader) problem(s report.Severity, n *yaml.Node, summary, detail string) report.Problem {
	p := report.Problem{Severity: s, Summary: summary, Detail: detail, Where: r.Where(n)}
	if p.Where.Line == 0 {
		return p
	}
	p.Context, p.Length = r.File.Line(p.Where.Line), 1
	if n.Kind == yaml.ScalarNode || n.Kind == yaml.AliasNode {
		p.Text = n.Value
		p.Length = max(1, markedLength(after(p.Context, p.Where.Column), n))
	}
	return p
}

// after is the rest of a line from a column on.
func after(line string, column int) string {
	for ; column > 1 && line != ""; column-- {
		_, w := utf8.DecodeRuneInString(line)
		line = line[w:]
	}
	return line
}

// markedLength is how many characters of the line the scalar takes.
func markedLength(rest string, n *yaml.Node) int {
	switch n.Style &^ yaml.TaggedStyle {
	case yaml.SingleQuotedStyle, yaml.DoubleQuotedStyle:
		if rest == "" {
			return 1
		}
		if i := strings.IndexByte(rest[1:], rest[0]); i >= 0 {
			return utf8.RuneCountInString(rest[:i+2])
		}
		return utf8.RuneCountInString(rest)
	case yaml.LiteralStyle, yaml.FoldedStyle:
		return 1
	}
	if n.Kind == yaml.AliasNode {
		return utf8.RuneCountInString(n.Value) + 1
	}
	if strings.HasPrefix(rest, n.Value) {
		return utf8.RuneCountInString(n.Value)
	}
	return utf8.RuneCountInString(strings.TrimRight(rest, " "))
}

// narrow marks only the bytes from start to end of a scalar's value, where the
// source shows the value as it is.
func (r *Reader) narrow(p *report.Problem, n *yaml.Node, start, end int) {
	if n.Kind != yaml.ScalarNode || start < 0 || end > len(n.Value) || start > end {
		return
	}
	rest := after(p.Context, p.Where.Column)
	skip := 0
	if s := n.Style &^ yaml.TaggedStyle; s == yaml.SingleQuotedStyle || s == yaml.DoubleQuotedStyle {
		skip = 1
	}
	if len(rest) < skip || !strings.HasPrefix(rest[skip:], n.Value) {
		return // escapes or several lines: the whole value stays marked
	}
	p.Where.Column += skip + utf8.RuneCountInString(n.Value[:start])
	p.Length = max(1, utf8.RuneCountInString(n.Value[start:end]))
	p.Text = n.Value[start:end]
	if p.Text == "" {
		p.Text = n.Value
	}
}

// Resolve follows an alias.
func Resolve(n *yaml.Node) *yaml.Node {
	for n != nil && n.Kind == yaml.AliasNode {
		n = n.Alias
	}
	return n
}

// Scalar is the text of the value that starts rest, the end of a line of which
// before is the beginning: a quoted text with its quotes, or a plain one up to
// a comment, or in braces and brackets up to the next comma or end.
func Scalar(rest, before string) string {
	if rest == "" {
		return ""
	}
	if q := rest[0]; q == '"' || q == '\'' {
		if i := strings.IndexByte(rest[1:], q); i >= 0 {
			return rest[:i+2]
		}
		return rest
	}
	if i := strings.Index(rest, " #"); i >= 0 {
		rest = rest[:i]
	}
	if strings.Count(before, "{")+strings.Count(before, "[") > strings.Count(before, "}")+strings.Count(before, "]") {
		if i := strings.IndexAny(rest, ",}]"); i >= 0 {
			rest = rest[:i]
		}
	}
	return strings.TrimRight(rest, " ")
}
