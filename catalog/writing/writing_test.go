package writing_test

import (
	"errors"
	"io"
	"os"
	"path/filepath"
	"testing"

	"loudfor/catalog/writing"
)

func text(s string) func(io.Writer) error {
	return func(w io.Writer) error {
		_, err := io.WriteString(w, s)
		return err
	}
}

// holds asserts the content of the file, and that nothing else lies beside it.
func holds(t *testing.T, path, want string, beside int) {
	t.Helper()
	got, err := os.ReadFile(path)
	if err != nil || string(got) != want {
		t.Errorf("file holds %q (%v), want %q", got, err, want)
	}
	entries, err := os.ReadDir(filepath.Dir(path))
	if err != nil || len(entries) != beside {
		t.Errorf("%d entries in the folder (%v), want %d", len(entries), err, beside)
	}
}

func TestReplace(t *testing.T) {
	path := filepath.Join(t.TempDir(), "parts.yaml")
	if err := writing.Replace(path, text("old")); err != nil {
		t.Fatal(err)
	}
	holds(t, path, "old", 1)
	if err := os.Chmod(path, 0o600); err != nil {
		t.Fatal(err)
	}
	if err := writing.Replace(path, text("new")); err != nil {
		t.Fatal(err)
	}
	holds(t, path, "new", 1)
	if info, err := os.Stat(path); err != nil || info.Mode().Perm() != 0o600 {
		t.Errorf("permissions became %v (%v)", info.Mode(), err)
	}
}

func TestReplaceFails(t *testing.T) {
	path := filepath.Join(t.TempDir(), "parts.yaml")
	if err := writing.Replace(path, text("old")); err != nil {
		t.Fatal(err)
	}
	full := errors.New("disk full")
	err := writing.Replace(path, func(w io.Writer) error {
		if _, err := io.WriteString(w, "half of the n"); err != nil {
			return err
		}
		return full
	})
	if !errors.Is(err, full) {
		t.Errorf("error %v, want %v", err, full)
	}
	holds(t, path, "old", 1)
	if err := writing.Replace(filepath.Join(path, "x"), text("new")); err == nil {
		t.Error("a file below a file was written")
	}
	if err := writing.Replace(filepath.Dir(path), text("new")); err == nil {
		t.Error("a folder was replaced")
	}
	holds(t, path, "old", 1)
}

func TestReplaceFollowsLinks(t *testing.T) {
	dir := t.TempDir()
	path, link := filepath.Join(dir, "parts.yaml"), filepath.Join(dir, "link.yaml")
	if err := writing.Replace(path, text("old")); err != nil {
		t.Fatal(err)
	}
	if err := os.Symlink(path, link); err != nil {
		t.Skipf("no symbolic links here: %v", err)
	}
	if err := writing.Replace(link, text("new")); err != nil {
		t.Fatal(err)
	}
	holds(t, path, "new", 2)
	if info, err := os.Lstat(link); err != nil || info.Mode()&os.ModeSymlink == 0 {
		t.Error("the link was replaced by a file")
	}
}
