package main

import (
	"context"
	"encoding/json"
	"fmt"
	"os"
	"os/exec"
	"os/signal"
	"path/filepath"
	"slices"
	"strings"
	"syscall"
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
	most     float64 // s
	slack    int     // s
	least    float64
	within   time.Duration
	equal    string
	log      string
	again    string
	memory   string
	patterns []string
}

// verdict is what became of a mutant.
type verdict string

const (
	equal    verdict = "equal" // in meaning, as listed
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

	// memory that a mutant gets which asks for ever more.
	memory = "8388608" // KiB
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
	packages []listed          // to be changed
	also     []listed          // asked besides
	suites   map[string]*suite // by import path
	kills    map[string]int    // by test
	until    context.Context   // ends when -within is over, or with an interrupt
	cancel   context.CancelFunc
	*checker
}

func newBench(o *options) (*bench, error) {
	b := &bench{o: o, suites: map[string]*suite{}, kills: map[string]int{}}
	b.until, b.cancel = signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	if o.within > 0 {
		time.AfterFunc(o.within, b.cancel)
	}
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
	if b.checker, err = newChecker(b.packages); err != nil {
		return nil, err
	}
	b.scratch, err = os.MkdirTemp("", "mutants-")
	return b, err
}

func (b *bench) close() {
	b.cancel()
	_ = os.RemoveAll(b.scratch)
}

func (b *bench) late() bool { return b.until.Err() != nil }

// command is a program that -within interrupts; what it leaves behind then goes with
// the bench.
func (b *bench) command(folder, name string, words ...string) *exec.Cmd {
	c := exec.CommandContext(b.until, name, words...)
	c.Cancel = func() error { return c.Process.Signal(os.Interrupt) } // go waits for its compilers
	c.Dir, c.Env, c.WaitDelay = folder, append(os.Environ(), "TMPDIR="+b.scratch), 20*time.Second
	return c
}

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

// draw takes the first changes that compile, and makes one program of them.
func (b *bench) draw(changes []change) (drawn []*change, err error) {
	for i := range changes {
		c := &changes[i]
		if len(drawn) == b.o.many || b.late() {
			break
		}
		if ok, err := b.compiles(*c); err != nil {
			return nil, err
		} else if ok {
			drawn = append(drawn, c)
			if c.head > 0 {
				c.number = len(drawn)
			}
		}
	}
	return drawn, b.combine(drawn)
}

// try asks the tests about a mutant, and says which of them killed it.
func (b *bench) try(c *change) (v verdict, by string, err error) {
	asked := slices.Clone(b.also)
	own := b.packages[slices.IndexFunc(b.packages, func(p listed) bool { return p.ImportPath == c.pkg })]
	if asked = slices.DeleteFunc(asked, func(p listed) bool { return p.ImportPath == c.pkg }); own.tested() {
		asked = slices.Insert(asked, 0, own)
	}
	for _, p := range asked {
		s, err := b.suiteOf(p)
		if err != nil {
			return "", "", err
		}
		program, tests := s.program, b.asked(s, c)
		if c.head == 0 {
			if err := b.alone(c); err != nil {
				return "", "", err
			}
			program = filepath.Join(b.scratch, "alone")
			if b.build(p, program, "-overlay", b.laid("alone")) != nil {
				return killed, "", nil // its tests, or who imports it, do not compile any more
			}
		}
		for most := 1.; len(tests) > 0; most *= 4 {
			n, cost := 0, 0.
			for ; n < len(tests) && (n == 0 || cost+s.Cost[tests[n]] <= most); n++ {
				cost += s.Cost[tests[n]]
			}
			limit := int(slower*cost) + b.o.slack
			if _, v, by, err := b.run(s, program, tests[:n], c.number, limit); err != nil || v != survived {
				b.kills[by]++
				return v, by, err
			}
			tests = tests[n:]
		}
	}
	return survived, "", nil
}

// build builds the tests of a package.
func (b *bench) build(p listed, program string, flags ...string) error {
	c := b.command(b.copied(b.root), "go", append([]string{"test", "-c", "-vet=off", "-o", program}, append(flags, p.ImportPath)...)...)
	if said, err := c.CombinedOutput(); err != nil {
		return fmt.Errorf("%w\n%s", err, said)
	}
	return nil
}
