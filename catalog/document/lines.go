package document

import (
	"bytes"
	"sort"
	"strings"
	"unicode/utf8"

	"loudfor/catalog/report"
)

// A line is what an editor shows as one: it ends with LF, CR LF or CR (YAML
// 1.2, 5.4). The YAML library follows YAML 1.1, in which NEL, LS and PS, which
// come in with text copied from elsewhere, end a line as well. Its positions
// in a file that holds one of them are turned into those of the editor;
// everything else in this program counts the editor's lines.

// ends tells how many bytes of a line's end stand at i; 0: none does.
func ends(text []byte, i int) int {
	switch {
	case text[i] == '\n':
		return 1
	case text[i] != '\r':
		return 0
	case i+1 < len(text) && text[i+1] == '\n':
		return 2
	}
	return 1
}

// further does the same for what ends a line in YAML 1.1 only.
func further(text []byte, i int) int {
	switch {
	case text[i] == 0xc2 && bytes.HasPrefix(text[i:], []byte("\u0085")):
		return 2
	case text[i] == 0xe2 && (bytes.HasPrefix(text[i:], []byte("\u2028")) || bytes.HasPrefix(text[i:], []byte("\u2029"))):
		return 3
	}
	return 0
}

// starts gives the byte offset of each line, and those of YAML 1.1 if they are
// others.
func starts(text []byte) (lines, more []int) {
	lines = make([]int, 1, 1+bytes.Count(text, []byte{'\n'}))
	if onlyFeeds(text) {
		for at := 0; ; {
			n := bytes.IndexByte(text[at:], '\n')
			if n < 0 {
				return lines, nil
			}
			at += n + 1
			lines = append(lines, at)
		}
	}
	for i := 0; i < len(text); {
		n := ends(text, i)
		if n > 0 {
			lines = append(lines, i+n)
			if more != nil {
				more = append(more, i+n)
			}
		} else if n = further(text, i); n > 0 {
			if more == nil {
				more = append(more, lines...)
			}
			more = append(more, i+n)
		}
		i += max(1, n)
	}
	return lines, more
}

// onlyFeeds tells whether nothing but LF ends a line: so it is in nearly every
// file, and then the lines are found many bytes at a time.
func onlyFeeds(text []byte) bool {
	for _, other := range [...]string{"\r", "\u0085", "\u2028", "\u2029"} {
		if bytes.Contains(text, []byte(other)) {
			return false
		}
	}
	return true
}

// lines finds where each line starts.
func (f *File) lines() []int {
	f.once.Do(func() { f.start, f.more = starts(f.Text) })
	return f.start
}

// Lines is how many lines the file has.
func (f *File) Lines() int { return len(f.lines()) }

// longestLine is the longest line that is shown: a file that is one line of
// megabytes would otherwise cost its length for every problem in it.
const longestLine = 16 << 10

// Line gives a line, counted from 1, without its end; empty beyond the file,
// and for lines that are too long to show.
func (f *File) Line(n int) string {
	s := f.lines()
	if n < 1 || n > len(s) {
		return ""
	}
	end := len(f.Text)
	if n < len(s) {
		end = s[n]
	}
	if end-s[n-1] > longestLine {
		return ""
	}
	f.sharing.Do(func() { f.shared = string(f.Text) })
	// A part of one string: problems keep it without a copy of their own.
	return strings.TrimRight(f.shared[s[n-1]:end], "\r\n")
}

// LineFeeds is the text with LF in place of each CR that ends a line alone, for
// readers that count only LF; every byte keeps its place.
func (f *File) LineFeeds() []byte {
	if !bytes.ContainsRune(f.Text, '\r') {
		return f.Text
	}
	text := bytes.Clone(f.Text)
	for i, c := range text {
		if c == '\r' && ends(f.Text, i) == 1 {
			text[i] = '\n'
		}
	}
	return text
}

// Character turns a column of a line in bytes, from 1, into one in characters.
func (f *File) Character(line, column int) int {
	text := f.Line(line)
	return 1 + utf8.RuneCountInString(text[:max(0, min(column-1, len(text)))])
}

// at is the position of a byte.
func (f *File) at(offset int) report.Position {
	s := f.lines()
	line := sort.SearchInts(s, offset+1)
	return report.Position{File: f.Name, Line: line, Column: 1 + utf8.RuneCount(f.Text[s[line-1]:offset])}
}

// alike tells whether the YAML library counts the lines as an editor does.
func (f *File) alike() bool {
	f.lines()
	return f.more == nil
}

// shown turns a position of the YAML library into that of an editor.
func (f *File) shown(line, column int) report.Position {
	if f.alike() {
		return report.Position{File: f.Name, Line: line, Column: column}
	}
	offset := len(f.Text)
	if line <= len(f.more) {
		offset = f.more[line-1]
	}
	for ; column > 1 && offset < len(f.Text); column-- {
		_, n := utf8.DecodeRune(f.Text[offset:])
		offset += n
	}
	return f.at(offset)
}
