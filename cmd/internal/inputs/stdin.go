package inputs

import (
	"bytes"
	"io"
	"io/fs"
	"time"

	"loudfor/catalog/document"
)

// stdinName is how messages name what came from standard input.
const stdinName = "standard input"

// one is a file system with one file in memory: standard input is read by the
// same code as a file, with the same checks and messages.
type one struct {
	name string
	text []byte
}

// fromStdin reads all of standard input, or just too much of it, so that the
// reader's own limit speaks.
func fromStdin(r io.Reader) (fs.FS, error) {
	text, err := io.ReadAll(io.LimitReader(r, document.MostBytes+1))
	return one{stdinName, text}, err
}

// Open implements fs.FS.
func (o one) Open(name string) (fs.File, error) {
	if name != o.name {
		return nil, &fs.PathError{Op: "open", Path: name, Err: fs.ErrNotExist}
	}
	return &opened{one: o, Reader: bytes.NewReader(o.text)}, nil
}

type opened struct {
	one
	*bytes.Reader
}

// Stat implements fs.File; opened is its own fs.FileInfo.
func (f *opened) Stat() (fs.FileInfo, error) { return f, nil }

// Close implements fs.File.
func (f *opened) Close() error { return nil }

func (f *opened) Name() string       { return f.name }
func (f *opened) Size() int64        { return int64(len(f.text)) }
func (f *opened) Mode() fs.FileMode  { return 0o444 }
func (f *opened) ModTime() time.Time { return time.Time{} }
func (f *opened) IsDir() bool        { return false }
func (f *opened) Sys() any           { return nil }
