package main

import (
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"time"
)

// The bench: where mutants are built and their tests run.

type options struct {
	many     int
	seed     uint64
	changed  string
	also     string
	run      string
	full     bool
	slack    int // s
	least    float64
	within   time.Duration
	equal    string
	patterns []string
}

// verdict is what became of a mutant.
type verdict string

const (
	broken   verdict = "broken" // it does not compile
	equal    verdict = "equal"  // in meaning, as listed
	killed   verdict = "killed"
	slow     verdict = "slow" // killed by the limit of processor time
	survived verdict = "SURVIVED"
)

const (
	// slower is how many times the processor time of the real code a mutant has,
	// besides -slack.
	slower = 4

	// hangs ends what waits for ever; a busy machine takes long for the rest.
	hangs = "40m"
)

// listed is a package as go list tells it.
type listed struct {
	Dir, ImportPath string
	GoFiles         []string
	TestGoFiles     []string
	XTestGoFiles    []string
}

func (p listed) tested() bool { return len(p.TestGoFiles)+len(p.XTestGoFiles) > 0 }

type bench struct {
	o        *options
	root     string
	scratch  string
	packages []listed       // to be changed
	also     []listed       // asked besides
	usual    map[string]int // s of processor time of the real code, by import path
	began    time.Time
}

func newBench(o *options) (*bench, error) {
	b := &bench{o: o, usual: map[string]int{}, began: time.Now()}
	root, err := exec.Command("go", "list", "-m", "-f", "{{.Dir}}").Output()
	if err != nil {
		return nil, err
	}
	b.root = strings.TrimSpace(string(root))
	if b.packages, err = list(o.patterns); err != nil {
		return nil, err
	}
	if o.also != "" {
		if b.also, err = list(strings.Split(o.also, ",")); err != nil {
			return nil, err
		}
	}
	b.scratch, err = os.MkdirTemp("", "mutants-")
	return b, err
}

func (b *bench) close() { _ = os.RemoveAll(b.scratch) }

func (b *bench) late() bool { return b.o.within > 0 && time.Since(b.began) > b.o.within }

func list(patterns []string) (all []listed, err error) {
	c := exec.Command("go", append([]string{"list", "-json=Dir,ImportPath,GoFiles,TestGoFiles,XTestGoFiles"}, patterns...)...)
	c.Stderr = os.Stderr
	out, err := c.Output()
	if err != nil {
		return nil, err
	}
	for d := json.NewDecoder(strings.NewReader(string(out))); d.More(); {
		var p listed
		if err := d.Decode(&p); err != nil {
			return nil, err
		}
		all = append(all, p)
	}
	return all, nil
}

// changes lists all that can be made in the packages.
func (b *bench) changes() (all []change, err error) {
	var differing []string
	if b.o.changed != "" {
		out, err := exec.Command("git", "-C", b.root, "-c", "safe.directory=*", "diff", "--name-only", b.o.changed).Output()
		if err != nil {
			return nil, fmt.Errorf("git diff %s: %w", b.o.changed, err)
		}
		differing = strings.Fields(string(out))
	}
	for _, p := range b.packages {
		if !p.tested() && len(b.also) == 0 {
			continue
		}
		for _, name := range p.GoFiles {
			file := filepath.Join(p.Dir, name)
			shown, err := filepath.Rel(b.root, file)
			if err != nil {
				return nil, err
			}
			if b.o.changed != "" && !slices.Contains(differing, filepath.ToSlash(shown)) {
				continue
			}
			text, err := os.ReadFile(file)
			if err != nil {
				return nil, err
			}
			found, err := changesOf(file, shown, p.ImportPath, text)
			if err != nil {
				return nil, err
			}
			all = append(all, found...)
		}
	}
	return all, nil
}

// try makes a change and asks the tests.
func (b *bench) try(c change) (verdict, error) {
	text, err := os.ReadFile(c.file)
	if err != nil {
		return "", err
	}
	mutant := filepath.Join(b.scratch, "mutant.go")
	changed := string(text[:c.start]) + c.text + string(text[c.end:])
	overlay, err := json.Marshal(map[string]any{"Replace": map[string]string{c.file: mutant}})
	if err := errors.Join(err, os.WriteFile(mutant, []byte(changed), 0o600), os.WriteFile(b.overlay(), overlay, 0o600)); err != nil {
		return "", err
	}
	asked := slices.Clone(b.also)
	if own := slices.IndexFunc(b.packages, func(p listed) bool { return p.ImportPath == c.pkg }); b.packages[own].tested() {
		asked = slices.Insert(asked, 0, b.packages[own])
	}
	for _, p := range asked {
		if _, known := b.usual[p.ImportPath]; !known {
			seconds, v, err := b.ask(p, "", 0)
			if err == nil && v != survived {
				err = errors.New("they fail")
			}
			if err != nil {
				return "", fmt.Errorf("the tests of %s without any change: %w", p.ImportPath, err)
			}
			b.usual[p.ImportPath] = seconds
		}
		_, v, err := b.ask(p, b.overlay(), slower*b.usual[p.ImportPath]+b.o.slack)
		if err != nil || v != survived {
			return v, err
		}
	}
	return survived, nil
}

func (b *bench) overlay() string { return filepath.Join(b.scratch, "overlay.json") }

// ask builds the tests of a package and runs them, with so many seconds of
// processor time at most; 0: as many as they take. It gives how many they took.
func (b *bench) ask(p listed, overlay string, most int) (seconds int, v verdict, err error) {
	program := filepath.Join(b.scratch, "test")
	args := []string{"test", "-c", "-vet=off", "-o", program}
	if overlay != "" {
		args = append(args, "-overlay", overlay)
	}
	build := exec.Command("go", append(args, p.ImportPath)...)
	if said, err := build.CombinedOutput(); err != nil {
		if overlay == "" {
			return 0, broken, fmt.Errorf("%w\n%s", err, said)
		}
		return 0, broken, nil
	}
	words := []string{program, "-test.failfast", "-test.timeout", hangs}
	if !b.o.full {
		words = append(words, "-test.short")
	}
	if b.o.run != "" {
		words = append(words, "-test.run", b.o.run)
	}
	limit := "unlimited"
	if most > 0 {
		limit = fmt.Sprint(most)
	}
	c := exec.Command("sh", append([]string{"-c", `ulimit -t "$0"; exec "$@"`, limit}, words...)...)
	c.Dir = p.Dir
	c.Env = slices.DeleteFunc(os.Environ(), func(s string) bool { return !b.o.full && strings.HasPrefix(s, "LOUDFOR_LONG=") })
	c.Env = append(c.Env, "GOTRACEBACK=none")
	err = c.Run()
	seconds = int((c.ProcessState.UserTime() + c.ProcessState.SystemTime()).Seconds()) + 1
	var failure *exec.ExitError
	switch {
	case err == nil:
		return seconds, survived, nil
	case !errors.As(err, &failure):
		return seconds, "", err
	case most > 0 && seconds >= most:
		return seconds, slow, nil
	}
	return seconds, killed, nil
}
