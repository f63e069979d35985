package document

import (
	"fmt"
	"io/fs"
	"strings"
	"testing"
	"unicode/utf8"

	"pgregory.net/rapid"

	"loudfor/catalog/demo"
)

// Where a value stands is what an editor says, whatever ends lines elsewhere.
func TestPositionsAreThoseOfAnEditor(t *testing.T) {
	for _, c := range []struct {
		text         string
		line, column int
	}{
		{"a: x", 1, 4},
		{"# one\n# two\r\n# three\ra: x", 4, 4},
		{"# one \u2028a: x", 1, 11},
		{"# one \u0085a: x\nb: y", 1, 11},
		{"\u2029\u2029a: x", 1, 6},
		{"b: 'one\u2028 two'\r\na: x", 2, 4},
		{"b: |\n  one\u2029  two\na: x", 3, 4},
	} {
		r, root := parseText(c.text)
		if root == nil {
			t.Errorf("%q: %+v", c.text, r.found)
			continue
		}
		if at := r.Where(r.Lookup(root, "a")); at.Line != c.line || at.Column != c.column {
			t.Errorf("%q: %d:%d, want %d:%d", c.text, at.Line, at.Column, c.line, c.column)
		}
	}
	// So does the place of what cannot be read at all.
	r, _ := parseText("a: x # \u2028\nb: [\u2029\nc: y")
	if len(r.found) != 1 || r.found[0].Where.Line < 2 || r.found[0].Where.Line > 3 {
		t.Errorf("%+v", r.found)
	}
}

// Positions lie in the file, and a reader of LF alone sees the same lines.
func TestEveryByteHasAPlace(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := strings.Join(rapid.SliceOfN(rapid.SampledFrom([]string{"a", "é", " ", "\n", "\r", "\u0085", "\u2028", "\u2029"}), 0, 12).Draw(t, "text"), "")
		f := &File{Name: "a", Text: []byte(text)}
		for i := range text {
			at := f.at(i)
			line := f.Line(at.Line)
			if r, _ := utf8.DecodeRuneInString(text[i:]); r != '\n' && r != '\r' {
				if got := []rune(line)[at.Column-1]; got != r {
					t.Fatalf("%q: byte %d is %q, its place %v shows %q", text, i, r, at, got)
				}
			}
		}
		line, column := rapid.IntRange(1, 20).Draw(t, "line"), rapid.IntRange(1, 20).Draw(t, "column")
		if at := f.shown(line, column); !f.alike() && (at.Line > f.Lines() || at.Column > utf8.RuneCountInString(f.Line(at.Line))+2) {
			t.Fatalf("%q: %d:%d is shown at %v", text, line, column, at)
		}
		g := &File{Name: "a", Text: f.LineFeeds()}
		if g.Lines() != f.Lines() || len(g.Text) != len(f.Text) {
			t.Fatalf("%q: %d lines, with LF alone %d", text, f.Lines(), g.Lines())
		}
	})
}

// A line of the demo that is indented by one space too many or too few is
// found: on that line, or on one beside it.
func TestIndentationIsFound(t *testing.T) {
	if testing.Short() {
		t.Skip("long, and about the text alone")
	}
	names, err := fs.Glob(demo.FS, "*/*.yaml")
	if err != nil || len(names) < 10 {
		t.Fatalf("%v, %v", names, err)
	}
	tried, refused := 0, 0
	for _, name := range names {
		text, err := fs.ReadFile(demo.FS, name)
		if err != nil {
			t.Fatal(err)
		}
		lines := strings.SplitAfter(string(text[:min(len(text), 1200)]), "\n")
		lines = lines[:len(lines)-1]
		for i, line := range lines {
			if trimmed := strings.TrimSpace(line); trimmed == "" || trimmed[0] == '#' {
				continue
			}
			for _, wrong := range []string{" " + line, strings.TrimPrefix(line, " ")} {
				tried++
				r, root := parseText(strings.Join(lines[:i], "") + wrong + strings.Join(lines[i+1:], ""))
				if root != nil {
					continue // valid YAML all the same; the keys will tell
				}
				refused++
				if at := r.found[0].Where; at.Line < i+1 || at.Line > i+2 {
					t.Errorf("%s: line %d is mended at %s", name, i+1, fmt.Sprint(at, " ", r.found[0].Summary))
				}
			}
		}
	}
	if refused < tried/4 {
		t.Errorf("%d of %d refused", refused, tried)
	}
}
