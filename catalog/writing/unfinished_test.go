package writing_test

import (
	"io"
	"os"
	"path/filepath"
	"runtime"
	"sync"
	"testing"
	"time"

	"loudfor/catalog/writing"
)

// What was left behind goes at the next write of the same file; what is somebody's
// stays: a hidden file of the user's, another file's, a live writer's.
func TestSweep(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "parts.yaml")
	for name, stays := range map[string]bool{
		".parts.yaml.123.unfinished": false, ".parts.yaml.1.unfinished": false,
		".parts.yaml.2024": true, ".parts.yaml.x.unfinished": true, ".parts.yaml.unfinished": true, ".parts.yaml..unfinished": true, "parts.yaml.1.unfinished": true,
		".other.yaml.5.unfinished": true, ".parts.yaml.bak": true,
	} {
		full := filepath.Join(dir, name)
		if err := os.WriteFile(full, []byte("left"), 0o600); err != nil {
			t.Fatal(err)
		}
		old := time.Now().Add(-time.Hour) // for systems without locks
		if err := os.Chtimes(full, old, old); err != nil {
			t.Fatal(err)
		}
		if err := writing.Replace(path, text(name)); err != nil {
			t.Fatal(err)
		}
		if _, err := os.Stat(full); (err == nil) != stays {
			t.Errorf("%s stays: %v, want %v", name, err == nil, stays)
		}
	}
	full := filepath.Join(dir, ".book.db.7.unfinished")
	if err := os.MkdirAll(filepath.Join(full, "inside"), 0o700); err != nil {
		t.Fatal(err)
	}
	old := time.Now().Add(-time.Hour)
	if err := os.Chtimes(full, old, old); err != nil {
		t.Fatal(err)
	}
	held, remove, err := writing.Folder(filepath.Join(dir, "book.db"))
	if err != nil {
		t.Fatal(err)
	}
	writing.Sweep(filepath.Join(dir, "book.db"))
	if _, err := os.Stat(full); err == nil {
		t.Error("a folder of nobody's stays")
	}
	if _, err := os.Stat(held); err != nil {
		t.Errorf("a folder in use is gone: %v", err)
	}
	remove()
	if _, err := os.Stat(held); err == nil {
		t.Error("a finished folder stays")
	}
}

// Writers of one file, each of which sweeps while the others write, take nothing
// from each other.
func TestManyWriters(t *testing.T) {
	path := filepath.Join(t.TempDir(), "parts.yaml")
	const writers, each = 4, 50
	var wg sync.WaitGroup
	for w := range writers {
		wg.Go(func() {
			for n := range each {
				err := writing.Replace(path, func(out io.Writer) error {
					runtime.Gosched()
					_, err := io.WriteString(out, whole(w*each+n))
					return err
				})
				if err != nil {
					t.Error(err)
				}
			}
		})
	}
	wg.Wait()
	content, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := number(string(content)); err != nil {
		t.Error(err)
	}
	holds(t, path, string(content), 1)
}

// A folder that is swept away before its maker has its lock is made again.
func TestManyFolders(t *testing.T) {
	path := filepath.Join(t.TempDir(), "book.db")
	var wg sync.WaitGroup
	for range 4 {
		wg.Go(func() {
			for range 200 {
				writing.Sweep(path)
				name, remove, err := writing.Folder(path)
				if err != nil {
					t.Error(err)
					return
				}
				if err := os.WriteFile(filepath.Join(name, "inside"), nil, 0o600); err != nil {
					t.Error(err)
				}
				remove()
			}
		})
	}
	wg.Wait()
}
