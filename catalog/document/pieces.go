package document

import (
	"bytes"
	"io"
	"slices"
	"strings"

	"go.yaml.in/yaml/v3"
)

// A long list can be read in pieces, on several cores and with less memory at
// a time: the YAML library takes most of the time of loading.
//
// A file is cut only if its first line with content is the key of the list,
// and no later line starts in the first column except as an item of the list
// or a comment. Then a line that starts with the indentation of the first item
// and "- " is an item: within an item everything that YAML allows stands
// further in, except the inside of quotes and brackets over several lines. If a
// cut falls into one of those, the piece before it has an open quote or
// bracket and cannot be parsed; an alias whose anchor is in another piece
// cannot either. The caller then reads the file as a whole, so that the result
// is the same in every case. A file whose lines the YAML library counts in its
// own way (lines.go) stays whole from the start.

// pieceBytes is the least length of a piece: long enough that starting the
// parser does not matter. It is fixed, so that the pieces do not depend on the
// machine.
const pieceBytes = 128 << 10

// Piece is some consecutive items of a file's list, or the file as a whole.
type Piece struct {
	head    string // what stands before the body: the key of the list
	body    []byte // of the file's text
	tail    string // the start of the item after it; empty: there is none
	shift   int    // line of the file before the first of head and body
	Partial bool   // not the whole file
}

// Entire is a file in one piece.
func Entire(f *File) Piece { return Piece{body: f.Text} }

// reader reads head and body; the body, of which a long list has megabytes, is
// not copied.
func (p Piece) reader() io.Reader {
	if !p.Partial {
		return bytes.NewReader(p.body)
	}
	return io.MultiReader(strings.NewReader(p.head), bytes.NewReader(p.body), strings.NewReader(p.tail))
}

// text is all of that in one.
func (p Piece) text() []byte {
	if !p.Partial {
		return p.body
	}
	return slices.Concat([]byte(p.head), p.body, []byte(p.tail))
}

// ParsePiece reads a piece; the root of a partial one is a mapping with the
// key of the list, as that of the whole file is.
func ParsePiece(f *File, p Piece) (*Reader, *yaml.Node) {
	r := &Reader{File: f}
	root, _ := r.parse(p)
	if root != nil && p.tail != "" && !dropTail(root) {
		return r, nil
	}
	return r, root
}

// dropTail takes the item that the tail began off the list; false if the list
// does not end with it.
func dropTail(root *yaml.Node) bool {
	if root.Kind != yaml.MappingNode || len(root.Content) != 2 || root.Content[1].Kind != yaml.SequenceNode {
		return false
	}
	list := root.Content[1]
	last := len(list.Content) - 1
	if last < 0 || list.Content[last].Tag != "!!null" || list.Content[last].Value != "" {
		return false
	}
	list.Content = list.Content[:last]
	return true
}

// Pieces cuts a file whose one key is that of a list.
func Pieces(f *File, key string) []Piece { return pieces(f, key, pieceBytes) }

// pieces has pieces of a least length.
func pieces(f *File, key string, least int) []Piece {
	whole := []Piece{Entire(f)}
	if len(f.Text) < 2*least || !f.alike() {
		return whole
	}
	cuts := cuts(f, key, least)
	if len(cuts) < 2 {
		return whole
	}
	// Each piece starts with the key, on the line before its first item, so
	// that it is a file of its own kind, and ends with the start of the next
	// item: where a value is missing, the YAML library gives it the place of
	// what comes next.
	pieces := make([]Piece, len(cuts))
	s := f.lines()
	for i, line := range cuts {
		end, tail := len(f.Text), ""
		if i+1 < len(cuts) {
			end = s[cuts[i+1]]
			indent := bytes.IndexByte(f.Text[end:], '-')
			tail = strings.Repeat(" ", indent) + "-\n"
		}
		pieces[i] = Piece{head: key + ":\n", body: f.Text[s[line]:end], tail: tail, shift: line - 1, Partial: true}
	}
	return pieces
}

// cuts gives the lines (from 0) at which pieces start; nil if the file cannot
// be cut.
func cuts(f *File, key string, least int) []int {
	s := f.lines()
	indent, next := -1, 0
	var out []int
	inList := false
	for i, at := range s {
		end := len(f.Text)
		if i+1 < len(s) {
			end = s[i+1]
		}
		line := f.Text[at:end]
		if indent >= 0 && furtherIn(line, indent) {
			continue
		}
		body := bytes.TrimLeft(line, " ")
		if len(bytes.TrimSpace(body)) == 0 || body[0] == '#' {
			continue
		}
		spaces := len(line) - len(body)
		if !inList {
			if spaces != 0 || !bytes.HasPrefix(body, []byte(key)) ||
				string(bytes.TrimSpace(body[len(key):])) != ":" {
				return nil
			}
			inList = true
			continue
		}
		item := len(body) > 1 && body[0] == '-' && body[1] == ' '
		if indent < 0 {
			if !item {
				return nil
			}
			indent = spaces
		}
		if spaces == 0 && !(item && indent == 0) || spaces < indent {
			return nil
		}
		if item && spaces == indent && at >= next {
			out = append(out, i)
			next = at + least
		}
	}
	return out
}

// furtherIn tells whether a line starts with more spaces than the items of the
// list: then it belongs to one, which is so of nearly all lines.
func furtherIn(line []byte, indent int) bool {
	if len(line) <= indent {
		return false
	}
	for _, c := range line[:indent+1] {
		if c != ' ' {
			return false
		}
	}
	return true
}
