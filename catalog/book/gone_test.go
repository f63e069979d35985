package book

import (
	"errors"
	"os"
	"testing"
)

// What is written to a file that has lost its name nobody will read: it is refused,
// and so is a file that was put in its place.
func TestAFileThatIsGone(t *testing.T) {
	b := fresh(t)
	path := b.Path()
	add := func() error { _, err := b.AddJob(ctx, Job{Brief: brief}); return err }
	if err := add(); err != nil {
		t.Fatal(err)
	}
	if err := os.Rename(path, path+".kept"); err != nil {
		t.Skip(err) // a system that keeps open files
	}
	for range 2 {
		var gone *Error
		if err := add(); !errors.As(err, &gone) || gone.Kind != Missing {
			t.Errorf("%v", err)
		}
		if err := os.WriteFile(path, nil, 0o600); err != nil {
			t.Fatal(err)
		}
	}
	if err := errors.Join(os.Remove(path), os.Rename(path+".kept", path), add()); err != nil {
		t.Errorf("the file is back: %v", err)
	}
}
