package writing_test

import (
	"errors"
	"io"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"

	"loudfor/catalog/writing"
)

// A disk that fills: a file system in memory of a few pages, which only root
// can mount. The content that does not fit is tried in sizes around each page,
// so that the disk fills at the first write, at a later one, at the last, and
// in the middle of the buffer.
func TestDiskFull(t *testing.T) {
	const page, pages = 4096, 8
	disk := t.TempDir()
	if err := syscall.Mount("tmpfs", disk, "tmpfs", 0, "size=32k"); err != nil {
		t.Skipf("no small file system can be mounted here (%v): a disk that fills is not tried", err)
	}
	defer func() {
		if err := syscall.Unmount(disk, 0); err != nil {
			t.Errorf("%s stays mounted: %v", disk, err)
		}
	}()
	path := filepath.Join(disk, "parts.yaml")
	old := strings.Repeat("o", 2*page)
	if err := writing.Replace(path, text(old)); err != nil {
		t.Fatal(err)
	}
	fitted, refused := 0, 0
	for n := 1; n <= 2*pages; n++ {
		for _, size := range []int{n*page - 1, n * page, n*page + 1} {
			err := writing.Replace(path, text(strings.Repeat("n", size)))
			switch {
			case err == nil:
				fitted++
				holds(t, path, strings.Repeat("n", size), 1)
				if err := writing.Replace(path, text(old)); err != nil {
					// The disk cannot hold both: make room as a user would.
					if err := os.WriteFile(path, []byte(old), 0o600); err != nil {
						t.Fatal(err)
					}
				}
			case errors.Is(err, syscall.ENOSPC):
				refused++
			default:
				t.Errorf("%d bytes: %v", size, err)
			}
			holds(t, path, old, 1)
		}
	}
	if fitted == 0 || refused == 0 {
		t.Errorf("%d contents fitted and %d did not: the disk has the wrong size", fitted, refused)
	}
	// A disk without any room left still has the old file and can be read.
	rest := filepath.Join(disk, "rest")
	if err := os.WriteFile(rest, make([]byte, page*pages), 0o600); !errors.Is(err, syscall.ENOSPC) {
		t.Fatalf("the disk is not full: %v", err)
	}
	err := writing.Replace(path, func(w io.Writer) error { _, err := io.WriteString(w, "x"); return err })
	if !errors.Is(err, syscall.ENOSPC) {
		t.Errorf("one byte on a full disk: %v", err)
	}
	holds(t, path, old, 2)
}
