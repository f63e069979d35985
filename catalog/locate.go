package catalog

import (
	"strings"
	"unicode/utf8"

	"loudfor/catalog/document"
)

// located is a problem at a value of a part, made from the source line that
// the catalogue still holds.
type located struct{ Problem }

func (l located) related(at Position, note string) Problem {
	l.Related, l.RelatedNote = &at, note
	return l.Problem
}

// problem points at the value of a key of a part, such as "driver.fs"; an
// empty path points at the part.
func (c *Catalogue) problem(s Severity, p *Part, path, summary, detail string) located {
	return p.problem(c.files[p.Where.File], s, path, summary, detail)
}

// problem does the same with the file at hand; f may be nil.
func (p *Part) problem(f *document.File, s Severity, path, summary, detail string) located {
	at := p.Where
	if path != "" {
		at = p.At(path)
	}
	out := Problem{Severity: s, Summary: summary, Detail: detail, Where: at}
	if f != nil {
		out.Context, out.Length, out.Text = mark(f, at)
		if at == p.Where {
			out.Text = "" // the part as a whole
		}
	}
	return located{out}
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
