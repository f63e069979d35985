package counter

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"github.com/fsnotify/fsnotify"

	"loudfor/catalog/report"
)

// The files are watched by their folders: editors and this program's own
// writing replace a file by renaming another over it, after which a watch on
// the old one would see nothing more.

// settled is how long the folders must be quiet before they are read: a save
// is several events, and a copy of a folder is many.
const settled = 300 * time.Millisecond

// overdue is when they are read even though the writing goes on.
const overdue = 3 * time.Second

// watched are the files and folders of the command line.
func (c *Counter) watched() []string {
	r := c.options.Request
	paths := append(slices.Clone(r.Catalog), c.cars()...)
	for _, path := range []string{r.Brief, c.options.Shop} {
		if path != "" && path != "-" && !strings.HasPrefix(path, "demo:") {
			paths = append(paths, path)
		}
	}
	return append(paths, c.options.Watch...)
}

// cars are the files and folders of vehicles.
func (c *Counter) cars() []string {
	r := c.options.Request
	if r.Vehicles == "" {
		return r.Cars()
	}
	return append([]string{r.Vehicles}, r.Cars()...)
}

// watch begins to collect what happens to the files; it is called before they
// are read, so that no change falls between reading and watching. nil: there
// is nothing to watch, or it cannot be watched, which is said.
func (c *Counter) watch() *fsnotify.Watcher {
	paths := c.watched()
	if len(paths) == 0 {
		return nil // the demo is inside the program
	}
	w, err := fsnotify.NewWatcher()
	if err == nil {
		for _, path := range paths {
			err = errors.Join(err, follow(w, path))
		}
		if err != nil {
			_ = w.Close()
		}
	}
	if err != nil {
		fmt.Fprintf(c.options.Log, "the files are not watched: %v\n", err)
		return nil
	}
	return w
}

// follow watches a folder with all folders in it, or the folder of a file.
func follow(w *fsnotify.Watcher, path string) error {
	info, err := os.Stat(path)
	if err != nil {
		return err
	}
	if !info.IsDir() {
		return w.Add(filepath.Dir(path))
	}
	return filepath.WalkDir(path, func(at string, entry fs.DirEntry, err error) error {
		if err != nil || !entry.IsDir() {
			return nil // what cannot be looked into is told when it is read
		}
		return w.Add(at)
	})
}

// follow reads the files again after each change, until the context ends.
func (c *Counter) follow(ctx context.Context, w *fsnotify.Watcher) {
	quietly := time.NewTimer(time.Hour)
	quietly.Stop()
	var first time.Time
	for {
		select {
		case <-ctx.Done():
			return
		case event, open := <-w.Events:
			if !open {
				return
			}
			if event.Has(fsnotify.Create) {
				if info, err := os.Stat(event.Name); err == nil && info.IsDir() {
					_ = follow(w, event.Name) // a new folder; reading it will tell what is wrong
				}
			}
			if !c.relevant(event) || c.asWritten(event.Name) {
				continue
			}
			if first.IsZero() {
				first = time.Now()
			}
			quietly.Reset(min(settled, max(0, overdue-time.Since(first))))
		case <-quietly.C:
			first = time.Time{}
			c.Reload()
		case err, open := <-w.Errors:
			if !open {
				return
			}
			fmt.Fprintf(c.options.Log, "watching the files: %v\n", err)
		}
	}
}

// relevant leaves out what no reader reads: files that nobody named and that are
// in no folder that somebody named, locks and copies of editors, and times of
// reading.
func (c *Counter) relevant(e fsnotify.Event) bool {
	name := filepath.Base(e.Name)
	if e.Op == fsnotify.Chmod || strings.HasPrefix(name, ".") || strings.HasPrefix(name, "~") || strings.HasSuffix(name, "~") {
		return false
	}
	kind := strings.ToLower(filepath.Ext(name))
	yaml := kind == ".yaml" || kind == ".yml"
	list := slices.Contains([]string{".csv", ".tsv", ".xlsx"}, kind)
	for _, path := range c.watched() {
		if inside, folder := within(path, e.Name); inside && (!folder || yaml || kind == "" || list && slices.Contains(c.options.Watch, path)) {
			return true
		}
	}
	// A measured curve lies beside the file of its car, under any name.
	for _, path := range c.cars() {
		if inside, _ := within(filepath.Dir(path), e.Name); inside && !yaml {
			return true
		}
	}
	return false
}

// within tells whether a path is a file, or lies in a folder.
func within(path, name string) (inside, folder bool) {
	path, name = filepath.Clean(path), filepath.Clean(name)
	if path == name {
		return true, false
	}
	rel, err := filepath.Rel(path, name)
	return err == nil && rel != ".." && !strings.HasPrefix(rel, ".."+string(filepath.Separator)), true
}

// errorLines says why the files cannot be read, the first few mistakes.
func errorLines(err error) []string {
	lines := []string{"the files cannot be read now; what is shown is from before"}
	var failure *report.Failure
	if !errors.As(err, &failure) {
		return append(lines, err.Error())
	}
	return append(lines, problemLines(failure.Report, func(p *report.Problem) bool { return p.Severity == report.Error })...)
}

// leftOut names what is not in the catalogue because something is wrong with it.
func leftOut(r *report.Report) []string { return problemLines(r, (*report.Problem).LeavesOut) }

func problemLines(r *report.Report, of func(*report.Problem) bool) (lines []string) {
	for i := range r.Problems {
		p := &r.Problems[i]
		if !of(p) {
			continue
		}
		if len(lines) == mostLines {
			return append(lines, "and more")
		}
		line := fmt.Sprintf("%s: %s", p.Where, p.Summary)
		if p.LeavesOut() {
			line += "; " + p.Detail[strings.LastIndex(p.Detail, "\n")+1:]
		}
		lines = append(lines, line)
	}
	return lines
}
