package catalog

import (
	"strings"
	"unicode/utf8"

	"loudfor/catalog/document"
)

// problemIn points at a place of a file; f is nil where it is not at hand.
func problemIn(f *document.File, s Severity, at Position, summary, detail string) Problem {
	out := Problem{Severity: s, Summary: summary, Detail: detail, Where: at}
	if f != nil && f.Name == at.File {
		out.Context, out.Length, out.Text = mark(f, at)
	}
	return out
}

// problemAt points at a place of one of the catalogue's files.
func (c *Catalogue) problemAt(s Severity, at Position, summary, detail string) Problem {
	return problemIn(c.files[at.File], s, at, summary, detail)
}

// problem points at the value of a key of a part, such as "driver.fs"; an
// empty path points at the part.
func (c *Catalogue) problem(s Severity, p *Part, path, summary, detail string) Problem {
	return p.problem(c.files[p.Where.File], s, path, summary, detail)
}

// problem does the same with the file at hand; f may be nil.
func (p *Part) problem(f *document.File, s Severity, path, summary, detail string) Problem {
	out := problemIn(f, s, p.At(path), summary, detail)
	if out.Where == p.Where {
		out.Text = "" // the part as a whole
	}
	return out
}

// mark finds the text of the value that starts at a position: up to a comma or
// bracket in a {group}, or to a comment, or to the end of the line. Of a group
// only the first key is marked, and it is no text of its own.
func mark(f *document.File, at Position) (context string, length int, text string) {
	context = f.Line(at.Line)
	rest := context
	for n := 1; n < at.Column && rest != ""; n++ {
		_, w := utf8.DecodeRuneInString(rest)
		rest = rest[w:]
	}
	text = document.Scalar(rest, context[:len(context)-len(rest)])
	length = max(1, utf8.RuneCountInString(text))
	if strings.HasPrefix(text, "{") || strings.HasPrefix(text, "[") {
		return context, 1, ""
	}
	if i := strings.Index(text, ": "); i > 0 && text[0] != '"' && text[0] != '\'' {
		text = ""
	}
	return context, length, text
}
