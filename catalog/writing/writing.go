// Package writing replaces files so that at every moment either the old or the
// new content is there, whole: a price list that is half written when the
// power fails is worth nothing.
//
//	err := writing.Replace("parts.yaml", func(w io.Writer) error {
//		_, err := w.Write(text)
//		return err
//	})
//
// The new content is written beside the file, brought to the disk, and renamed
// over it. Links are followed, and the permissions of the old file are kept.
// Limits: the folder must be writable, and have room for the new content beside
// the old one; two programs that replace one file at the same time leave the
// content of the later one. What one that is killed had begun stays as a hidden
// file until the next one replaces the same file.
package writing

import (
	"bufio"
	"errors"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
)

// newFile are the permissions of a file that was not there before.
const newFile = 0o644

// Replace calls write for the new content and puts it in place of the file. If
// write or anything else fails, the file is as it was.
func Replace(path string, write func(io.Writer) error) (err error) {
	if real, err := filepath.EvalSymlinks(path); err == nil {
		path = real
	}
	mode := fs.FileMode(newFile)
	switch info, err := os.Stat(path); {
	case err == nil && !info.Mode().IsRegular():
		return &fs.PathError{Op: "replace", Path: path, Err: errors.New("not a regular file")}
	case err == nil:
		mode = info.Mode().Perm()
	case !errors.Is(err, fs.ErrNotExist):
		return err
	}
	Sweep(path)
	defer func() { // what lies beside it is nobody's concern
		if at := (*fs.PathError)(nil); errors.As(err, &at) && strings.HasSuffix(at.Path, ending) {
			at.Path = path
		}
	}()
	beside, err := begin(path)
	if err != nil {
		return err
	}
	defer func() {
		if err != nil {
			beside.Close()
			os.Remove(beside.Name())
		}
	}()
	buffered := bufio.NewWriter(beside)
	if err := write(buffered); err != nil {
		return err
	}
	if err := buffered.Flush(); err != nil {
		return err
	}
	if err := beside.Chmod(mode); err != nil {
		return err
	}
	// Without the sync some file systems would bring the new name to the disk
	// before the content.
	if err := beside.Sync(); err != nil {
		return err
	}
	if removesOpen { // an open file can get another name as well: it stays locked
		defer beside.Close()
	} else if err := beside.Close(); err != nil {
		return err
	}
	if err := os.Rename(beside.Name(), path); err != nil {
		return err
	}
	syncFolder(filepath.Dir(path))
	return nil
}

// syncFolder brings the new name to the disk. The content is safe either way,
// and some systems cannot sync a folder, so a failure is no error.
func syncFolder(name string) {
	if d, err := os.Open(name); err == nil {
		_ = d.Sync()
		_ = d.Close()
	}
}
