package document

import (
	"bytes"
	"io/fs"
	"os"
	"path"
	"time"
)

// System opens files of the operating system by their ordinary names. It is
// not limited to slash-separated relative names as io/fs asks of a general
// file system, since these names come from the user.
type System struct{}

func (System) Open(name string) (fs.File, error)          { return os.Open(name) }
func (System) Stat(name string) (fs.FileInfo, error)      { return os.Stat(name) }
func (System) ReadDir(name string) ([]fs.DirEntry, error) { return os.ReadDir(name) }

// Memory are files in memory by their names, so that one reader, with the same
// checks and messages, serves what was booked, uploaded or given to standard
// input as well.
type Memory map[string][]byte

// Open finds a file by its name; names may be absolute, unlike those of other
// file systems.
func (m Memory) Open(name string) (fs.File, error) {
	content, ok := m[name]
	if !ok {
		content, ok = m[path.Clean(name)]
	}
	if !ok {
		return nil, &fs.PathError{Op: "open", Path: name, Err: fs.ErrNotExist}
	}
	return held{bytes.NewReader(content), name}, nil
}

// held is an opened file of Memory, and what is told of it.
type held struct {
	*bytes.Reader
	name string
}

func (f held) Stat() (fs.FileInfo, error) { return f, nil }
func (f held) Close() error               { return nil }
func (f held) Name() string               { return path.Base(f.name) }
func (f held) Mode() fs.FileMode          { return 0o444 }
func (f held) ModTime() time.Time         { return time.Time{} }
func (f held) IsDir() bool                { return false }
func (f held) Sys() any                   { return nil }
