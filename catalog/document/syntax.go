package document

import (
	"bytes"
	"errors"
	"io"
	"sort"
	"strconv"
	"strings"
	"unicode/utf8"

	"go.yaml.in/yaml/v3"

	"loudfor/catalog/expression"
	"loudfor/catalog/report"
)

// mends says in the user's words what the YAML library's messages mean.
var mends = []struct{ message, summary, detail string }{
	{"mapping values are not allowed", "a colon stands where no key can be", "put quotes around a text that contains \": \", and indent keys that belong together alike"},
	{"did not find expected key", "the indentation does not fit, or a quote or bracket is not closed", "indent the keys of one entry alike, with spaces"},
	{"did not find expected '-' indicator", "the indentation of a list does not fit", "indent the items of a list alike, each starting with \"- \""},
	{"did not find expected ',' or", "a bracket or brace is not closed, or a comma is missing", "close it with ] or }, with commas between the entries"},
	{"found unexpected end of stream", "a quote is not closed", "close the quoted text with the same quote"},
	{"could not find expected ':'", "a line has no colon after its key", "write key: value"},
	{"found character that cannot start any token", "a value starts with a character that has a meaning in YAML", "put the value in quotes"},
	{"found unknown escape character", "an unknown escape in double quotes", "double the backslash, or use single quotes"},
	{"did not find expected alphabetic", "a * or & starts a value", "put the value in quotes"},
	{"block sequence entries are not allowed", "a list item stands where none can be", "put the list on the lines below its key"},
	{"did not find expected <document start>", "the text after the first entry fits nowhere", "indent it alike, with spaces, or remove it"},
	{"control characters are not allowed", "the file holds control characters", "remove them"},
	{"exceeded max depth", "the file is nested too deeply", "nest no deeper than the keys of a part need"},
}

// syntax turns an error of the YAML library, which knows a line at best, and
// often that of the list or group around the mistake, into a problem with the
// line and column of the mistake.
func (r *Reader) syntax(err error, text []byte) report.Problem {
	message, line := cutLine(err)
	p := report.Problem{Summary: "the file is not valid YAML: " + message, Detail: "mend the line, or the one before it"}
	for _, m := range mends {
		if strings.Contains(message, m.message) {
			p.Summary, p.Detail = m.summary, m.detail
		}
	}
	p.Where = report.Position{File: r.File.Name}
	if name, ok := strings.CutPrefix(message, "unknown anchor '"); ok {
		name, _, _ = strings.Cut(name, "'")
		p.Summary, p.Detail = "the alias *"+name+" has no anchor &"+name+" before it", "define &"+name+" above, or put the value in quotes"
		if i := bytes.Index(r.File.Text, []byte("*"+name)); i >= 0 {
			p.Where = r.File.at(i)
			p.Text, p.Context, p.Length = "*"+name, r.File.Line(p.Where.Line), len([]rune(name))+1
			return p
		}
	}
	if exact := firstBad(text, err.Error()); exact > 0 {
		line = exact + r.shift
	} else {
		line = r.File.shown(max(1, line+r.shift), 1).Line
	}
	line = max(1, min(line, r.File.Lines()))
	// A tab in the indentation is the usual reason, on the line itself or one
	// beside it, and the message of the library does not tell.
	for _, n := range [...]int{line, line + 1, line - 1} {
		source := r.File.Line(n)
		indent := source[:len(source)-len(strings.TrimLeft(source, " \t"))]
		if i := strings.IndexByte(indent, '\t'); i >= 0 && strings.TrimSpace(source) != "" {
			p.Summary, p.Detail = "a tab in the indentation", "indent with spaces: YAML allows no tabs there"
			p.Where.Line, p.Where.Column, p.Context = n, i+1, source
			p.Length, p.Text = len(indent)-i, "\t"
			return p
		}
	}
	source := r.File.Line(line)
	from := len(source) - len(strings.TrimLeft(source, " "))
	if strings.Contains(message, "cannot start any token") {
		if m := reserved().FindStringIndex(source); m != nil {
			from = m[1] - 1
		}
	}
	p.Where.Line, p.Context = line, source
	p.Where.Column = 1 + utf8.RuneCountInString(source[:from])
	p.Text = strings.TrimSpace(source[from:])
	p.Length = max(1, utf8.RuneCountInString(p.Text))
	return p
}

// reserved finds a character with which no plain value can start.
var reserved = expression.Late("(?:^|[:\\-,\\[{] ?) *[@`%]")

// cutLine takes the line number out of an error of the YAML library.
func cutLine(err error) (message string, line int) {
	message = strings.TrimPrefix(err.Error(), "yaml: ")
	if rest, ok := strings.CutPrefix(message, "line "); ok {
		if number, text, ok := strings.Cut(rest, ": "); ok {
			line, _ = strconv.Atoi(number)
			message = text
		}
	}
	return message, line
}

// mostSearched bounds the work of firstBad. Longer files are read in pieces,
// which are shorter.
const mostSearched = 2 * pieceBytes

// firstBad finds the line, counted from 1, up to which the text must be read
// for the error to come up: that is where the mistake is. Halving the text
// costs as much as reading it a few times; 0 means that it was not found.
func firstBad(text []byte, message string) int {
	if len(text) > mostSearched {
		return 0
	}
	begin, _ := starts(text)
	stops := append(begin[1:], len(text))
	bad := sort.Search(len(stops), func(i int) bool {
		err := fault(text[:stops[i]])
		return err != nil && err.Error() == message
	})
	if bad == len(stops) {
		return 0
	}
	return bad + 1
}

// fault is the first error of the YAML library in a text, up to the start of a
// second document: the first one may have ended where it should not.
func fault(text []byte) error {
	d := yaml.NewDecoder(bytes.NewReader(text))
	for range 2 {
		var n yaml.Node
		if err := d.Decode(&n); errors.Is(err, io.EOF) {
			return nil
		} else if err != nil {
			return err
		}
	}
	return nil
}
