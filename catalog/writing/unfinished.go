package writing

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
)

// What is not finished lies beside its file under a name of its own,
// .parts.yaml.123.unfinished, and its writer holds a lock on it. A writer that
// is killed leaves it, but the system takes the lock away: what bears such a
// name and is not locked is nobody's, and whoever writes the file next removes
// it. Where the system has no such locks (locks_other.go) it must be old.

const ending = ".unfinished"

// unfinished is the pattern of the names for os.CreateTemp.
func unfinished(path string) string { return "." + filepath.Base(path) + ".*" + ending }

// tries bounds how often a name that was swept away is made again.
const tries = 100

// begin makes an empty file beside path and locks it.
func begin(path string) (*os.File, error) {
	return locked(func() (*os.File, error) { return os.CreateTemp(filepath.Dir(path), unfinished(path)) })
}

// locked makes something and locks it; between the two somebody else's Sweep may
// come, which then has the lock, or has removed it. make gives nothing if it saw
// that itself.
func locked(make func() (*os.File, error)) (*os.File, error) {
	for try := 1; ; try++ {
		f, err := make()
		if err != nil {
			return nil, err
		}
		if f != nil {
			if lock(f) && still(f) || try == tries {
				return f, nil
			}
			f.Close()
			os.RemoveAll(f.Name())
		}
	}
}

// still tells whether a file has the name under which it was opened.
func still(f *os.File) bool {
	is, err := f.Stat()
	if err != nil {
		return false
	}
	named, err := os.Lstat(f.Name())
	return err == nil && os.SameFile(is, named)
}

// Folder makes a folder beside path for what takes several files until it is
// finished, and gives it with what removes it again.
func Folder(path string) (name string, remove func(), err error) {
	f, err := locked(func() (*os.File, error) {
		name, err := os.MkdirTemp(filepath.Dir(path), unfinished(path))
		if err != nil {
			return nil, err
		}
		f, err := os.Open(name)
		if errors.Is(err, fs.ErrNotExist) {
			return nil, nil
		}
		return f, err
	})
	if err != nil {
		return "", nil, err
	}
	return f.Name(), func() { f.Close(); os.RemoveAll(f.Name()) }, nil
}

// Trial tells whether files can be made beside path.
func Trial(path string) error {
	f, err := os.CreateTemp(filepath.Dir(path), unfinished(path))
	if err != nil {
		return err
	}
	f.Close()
	if err = os.Remove(f.Name()); errors.Is(err, fs.ErrNotExist) { // somebody swept
		return nil
	}
	return err
}

// Sweep removes what writers of a file that were killed have left beside it.
// What another one is working on stays, and what cannot be removed is no
// failure.
func Sweep(path string) {
	folder, base := filepath.Dir(path), filepath.Base(path)
	entries, err := os.ReadDir(folder)
	if err != nil {
		return
	}
	for _, e := range entries {
		middle, begins := strings.CutPrefix(e.Name(), "."+base+".")
		middle, ends := strings.CutSuffix(middle, ending)
		if begins && ends && middle != "" && strings.Trim(middle, "0123456789") == "" && (e.IsDir() || e.Type().IsRegular()) {
			sweep(filepath.Join(folder, e.Name()))
		}
	}
}

func sweep(name string) {
	f, err := os.Open(name)
	if err != nil {
		return
	}
	nobodys := abandoned(f) && still(f)
	if !removesOpen {
		f.Close()
	}
	if nobodys {
		os.RemoveAll(name)
	}
	f.Close()
}
