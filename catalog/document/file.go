// Package document reads YAML files with the position of every value, and
// turns their mappings into Go values by a table of keys.
//
//	type size struct{ width float64 }
//	schema := document.NewSchema("a box", []document.Field[size]{{
//		Spec: document.Spec{Key: "width", Shape: document.Quantity, Dim: units.Length, Range: "1 cm..2 m", Required: true},
//		Set:  func(s *size, v *document.Value) { s.width = v.SI },
//	}})
//	file, problem := document.ReadFile(os.DirFS("."), "box.yaml", document.MostBytes)
//	reader, root := document.Parse(file)
//	var s size
//	schema.Decode(reader, root, &s, nil)
//	reader.Problems() // everything that is wrong, not only the first thing
//
// One table per kind of mapping says which keys there are, what their values
// look like, in which range they must lie and what they are for. Reading,
// messages, the reference of keys and a JSON Schema all come from it.
//
// Files from outside are not trusted: size, depth, aliases, encoding and
// repeated keys are checked. Limits: one document a file, and the keys of a
// mapping are plain words.
package document

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"sync"
	"unicode/utf8"

	"loudfor/catalog/report"
)

// MostBytes is the largest file that is read. A catalogue of ten thousand
// parts takes about 3 MB.
const MostBytes = 64 << 20

// File is the text of one file, UTF-8 without a byte order mark.
type File struct {
	Name string // as the user knows it
	Text []byte

	once  sync.Once
	start []int // byte offset of each line
	more  []int // the same with the lines of YAML 1.1, where they differ

	sharing sync.Once
	shared  string // the text, for lines that are shown
}

// NewFile is a file with a text that is already in memory; its encoding is
// checked as ReadFile does.
func NewFile(name string, text []byte) (*File, *report.Problem) {
	f := &File{Name: name, Text: bytes.TrimPrefix(text, []byte("\ufeff"))}
	return f, f.checkEncoding()
}

// ReadFile reads a file that is no larger than most bytes.
func ReadFile(fsys fs.FS, name string, most int64) (*File, *report.Problem) {
	text, problem := ReadBytes(fsys, name, most)
	if problem != nil {
		return nil, problem
	}
	return NewFile(name, text)
}

// ReadBytes reads a file of any content that is no larger than most bytes. The
// size is asked for first, so that a huge file or an endless one is never
// opened.
func ReadBytes(fsys fs.FS, name string, most int64) ([]byte, *report.Problem) {
	info, err := fs.Stat(fsys, name)
	if err != nil {
		return nil, cannot(name, err)
	}
	if !info.Mode().IsRegular() {
		return nil, whole(name, "not a regular file", "name a YAML file or a folder that holds some")
	}
	if info.Size() > most {
		return nil, tooLarge(name, info.Size(), most)
	}
	h, err := fsys.Open(name)
	if err != nil {
		return nil, cannot(name, err)
	}
	defer h.Close()
	// The buffer wants room for one more read after the last byte: without it, it
	// would copy the whole file into one of twice the size.
	buf := bytes.NewBuffer(make([]byte, 0, info.Size()+bytes.MinRead))
	n, err := buf.ReadFrom(io.LimitReader(h, most+1))
	if err != nil {
		return nil, cannot(name, err)
	}
	if n > most { // it grew, or its size was not known
		return nil, tooLarge(name, n, most)
	}
	return buf.Bytes(), nil
}

func whole(name, summary, detail string) *report.Problem {
	return &report.Problem{Summary: summary, Detail: detail, Where: report.Position{File: name}}
}

func cannot(name string, err error) *report.Problem {
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return whole(name, "there is no such file", "check the name and the folder")
	case errors.Is(err, fs.ErrPermission):
		return whole(name, "the file may not be read", "give yourself the right to read it")
	}
	var path *fs.PathError
	if errors.As(err, &path) {
		err = path.Err
	}
	return whole(name, "the file cannot be read: "+err.Error(), "check that it is a readable file")
}

func tooLarge(name string, size, most int64) *report.Problem {
	return whole(name, fmt.Sprintf("the file has %.1f MB, more than the %.0f MB that are read", float64(size)/(1<<20), float64(most)/(1<<20)),
		"split it into several files, or check that it is the right one")
}

// checkEncoding refuses what is not plain UTF-8 text.
func (f *File) checkEncoding() *report.Problem {
	t := f.Text
	if bytes.HasPrefix(t, []byte{0xff, 0xfe}) || bytes.HasPrefix(t, []byte{0xfe, 0xff}) {
		return whole(f.Name, "the file is written in UTF-16", "save it as UTF-8")
	}
	if i := bytes.IndexByte(t, 0); i >= 0 {
		p := f.at(i)
		return &report.Problem{Summary: "the file is binary, not text", Detail: "name a YAML file saved as UTF-8", Where: p}
	}
	if utf8.Valid(t) {
		return nil
	}
	i := 0
	for i < len(t) {
		r, n := utf8.DecodeRune(t[i:])
		if r == utf8.RuneError && n <= 1 {
			break
		}
		i += n
	}
	p := f.at(i)
	return &report.Problem{
		Summary: fmt.Sprintf("the byte %#02x is not UTF-8 text", t[i]),
		Detail:  "save the file as UTF-8 (it may be in a Windows code page)",
		Where:   p, Context: f.Line(p.Line), Length: 1,
	}
}
