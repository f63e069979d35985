package book

import (
	"bytes"
	"io/fs"
	"path"
	"time"
)

// files are the files of a job in memory, under the very names that they had:
// a brief finds its vehicles and curves as it did on the day it was booked.
type files map[string][]byte

// Open finds a file by its name; names may be absolute, unlike those of other
// file systems.
func (f files) Open(name string) (fs.File, error) {
	content, ok := f[name]
	if !ok {
		content, ok = f[path.Clean(name)]
	}
	if !ok {
		return nil, &fs.PathError{Op: "open", Path: name, Err: fs.ErrNotExist}
	}
	return &file{Reader: bytes.NewReader(content), name: name, size: int64(len(content))}, nil
}

type file struct {
	*bytes.Reader
	name string
	size int64
}

func (f *file) Stat() (fs.FileInfo, error) { return info{f}, nil }
func (f *file) Close() error               { return nil }

type info struct{ f *file }

func (i info) Name() string       { return path.Base(i.f.name) }
func (i info) Size() int64        { return i.f.size }
func (i info) Mode() fs.FileMode  { return 0o444 }
func (i info) ModTime() time.Time { return time.Time{} }
func (i info) IsDir() bool        { return false }
func (i info) Sys() any           { return nil }
