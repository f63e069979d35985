package document

import (
	"bytes"

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
	text    []byte
	shift   int  // line of the file before the first of text
	Partial bool // not the whole file
}

// Entire is a file in one piece.
func Entire(f *File) Piece { return Piece{text: f.Text} }

// ParsePiece reads a piece; the root of a partial one is a mapping with the
// key of the list, as that of the whole file is.
func ParsePiece(f *File, p Piece) (*Reader, *yaml.Node) {
	r := &Reader{File: f}
	root, _ := r.parse(p.text, p.shift)
	return r, root
}

// Pieces cuts a file whose one key is that of a list.
func Pieces(f *File, key string) []Piece {
	whole := []Piece{Entire(f)}
	if len(f.Text) < 2*pieceBytes || !f.alike() {
		return whole
	}
	cuts := cuts(f, key)
	if len(cuts) < 2 {
		return whole
	}
	// Each piece starts with the key, on the line before its first item, so
	// that it is a file of its own kind.
	pieces := make([]Piece, len(cuts))
	s := f.lines()
	for i, line := range cuts {
		end := len(f.Text)
		if i+1 < len(cuts) {
			end = s[cuts[i+1]]
		}
		body := f.Text[s[line]:end]
		text := make([]byte, 0, len(key)+2+len(body))
		text = append(text, key...)
		text = append(text, ':', '\n')
		pieces[i] = Piece{text: append(text, body...), shift: line - 1, Partial: true}
	}
	return pieces
}

// cuts gives the lines (from 0) at which pieces start; nil if the file cannot
// be cut.
func cuts(f *File, key string) []int {
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
			next = at + pieceBytes
		}
	}
	return out
}
