package refresh

import (
	"context"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"
)

// A disk that fills ends a refresh, which says so; with room again the same command goes
// on to the same bytes.
func TestDiskFull(t *testing.T) {
	_, want := run(t, chain(t, 2, grid, nil), Options{})
	disk := t.TempDir()
	if err := syscall.Mount("tmpfs", disk, "tmpfs", 0, "size=8m"); err != nil {
		t.Skipf("no small file system can be mounted here (%v): a disk that fills is not tried", err)
	}
	defer func() {
		if err := syscall.Unmount(disk, 0); err != nil {
			t.Errorf("%s stays mounted: %v", disk, err)
		}
	}()
	sizes, failed := []int{0, 60, 80, 100, 140, 700}, 0
	if testing.Short() {
		sizes = []int{80, 140, 700}
	}
	for _, free := range sizes { // kB when it begins
		p := chain(t, 2, grid, nil)
		p.Kept, p.Results = filepath.Join(disk, "kept"), filepath.Join(disk, "night.csv")
		rest := filepath.Join(disk, "rest")
		if err := os.WriteFile(rest, make([]byte, 8<<20-free<<10), 0o600); err != nil && !errors.Is(err, syscall.ENOSPC) {
			t.Fatal(err)
		}
		ctx, stop := context.WithTimeout(context.Background(), time.Minute)
		err := func() error {
			r, err := Open(p)
			if err != nil {
				return err
			}
			defer r.Close()
			_, err = r.Run(ctx, Options{Workers: 1, Say: func(text string) { t.Log(text) }})
			return err
		}()
		t.Logf("%d kB free: %v", free, err)
		if ctx.Err() != nil {
			t.Error("it waits for ever")
		}
		stop()
		if err != nil {
			failed++
		}
		if err != nil && !strings.Contains(err.Error(), "room") {
			t.Errorf("%d kB free: %v", free, err)
		}
		if err := os.Remove(rest); err != nil {
			t.Fatal(err)
		}
		if _, got := run(t, p, Options{}); got != want {
			t.Errorf("after %d kB free\n%s\nwant\n%s", free, got, want)
		}
		for _, name := range []string{p.Kept, p.Results} {
			if err := os.RemoveAll(name); err != nil {
				t.Fatal(err)
			}
		}
	}
	if failed == 0 || failed == len(sizes) {
		t.Errorf("%d of %d ended with an error: the disk has the wrong size", failed, len(sizes))
	}
}
