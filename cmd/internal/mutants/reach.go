package main

import (
	"bytes"
	"cmp"
	"crypto/sha256"
	"encoding/gob"
	"errors"
	"fmt"
	"go/token"
	"maps"
	"os"
	"os/exec"
	"path"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"syscall"
)

// Which tests reach which code: every test runs alone once, on the code as it is,
// and leaves what it reached. A mutant is shown only to tests that reach its place,
// first those that have killed most for what they cost; where no test comes, it
// survives without any.

// place is a line and a column, from 1.
type place struct{ Line, Column int }

func placeOf(p token.Position) place { return place{p.Line, p.Column} }

func (p place) less(q place) bool {
	return p.Line < q.Line || p.Line == q.Line && p.Column < q.Column
}

// block is a stretch of code that runs as a whole.
type block struct {
	File     string // import path and name
	From, To place
}

// suite is the tests of a package.
type suite struct {
	folder  string
	program string // with all mutants
	learnt
}

// learnt is what is known of tests from running them on the code as it is.
type learnt struct {
	Tests   []string
	Broken  []string           // those that fail, and are not asked
	Cost    map[string]float64 // s of processor time
	Reached map[block]map[string]bool
}

var profiled = regexp.MustCompile(`^(.*):(\d+)\.(\d+),(\d+)\.(\d+) \d+ (\d+)$`)

var failed = regexp.MustCompile(`(?m)^--- FAIL: (\w+)`)

// starts is about what a test costs beside its own time, s.
const starts = 0.05

// suiteOf builds the tests of a package, and learns what they reach.
func (b *bench) suiteOf(p listed) (*suite, error) {
	if s := b.suites[p.ImportPath]; s != nil {
		return s, nil
	}
	s := &suite{folder: b.copied(p.Dir), program: filepath.Join(b.scratch, fmt.Sprintf("suite%d", len(b.suites)))}
	b.suites[p.ImportPath] = s
	if err := b.build(p, s.program, "-overlay", b.laid("all")); err != nil {
		return nil, err
	}
	covered := p.ImportPath
	if slices.ContainsFunc(b.also, func(q listed) bool { return q.ImportPath == p.ImportPath }) {
		for _, q := range b.packages {
			covered += "," + q.ImportPath
		}
	}
	if b.o.memory == "" {
		return s, b.learn(s, p, covered)
	}
	name, err := b.kept(p, covered)
	if err != nil {
		return nil, err
	}
	if old, err := os.Open(name); err == nil {
		defer old.Close()
		return s, gob.NewDecoder(old).Decode(&s.learnt)
	}
	if err := b.learn(s, p, covered); err != nil {
		return nil, err
	}
	var all bytes.Buffer
	return s, errors.Join(gob.NewEncoder(&all).Encode(s.learnt), os.MkdirAll(b.o.memory, 0o700), os.WriteFile(name, all.Bytes(), 0o600))
}

// kept is the file that keeps what is learnt of the tests of a package, by the files of
// all packages that are in them.
func (b *bench) kept(p listed, covered string) (string, error) {
	out, err := b.command(b.copied(b.root), "go", "list", "-deps", "-test", "-f", "{{with .Module}}{{if .Main}}{{$.Dir}}{{end}}{{end}}", p.ImportPath).Output()
	if err != nil {
		return "", err
	}
	sum := sha256.New()
	fmt.Fprintln(sum, p.ImportPath, covered, b.o.run, b.o.full)
	for _, folder := range slices.Compact(slices.Sorted(slices.Values(strings.Fields(string(out))))) {
		files, err := os.ReadDir(folder)
		if err != nil {
			return "", err
		}
		for _, file := range files {
			if file.Type().IsRegular() {
				text, err := os.ReadFile(filepath.Join(folder, file.Name()))
				if err != nil {
					return "", err
				}
				fmt.Fprintf(sum, "%s %x\n", file.Name(), sha256.Sum256(text))
			}
		}
	}
	return filepath.Join(b.o.memory, fmt.Sprintf("%x", sum.Sum(nil)[:16])), nil
}

// learn runs each test of a package on the code as it is.
func (b *bench) learn(s *suite, p listed, covered string) error {
	s.Cost, s.Reached = map[string]float64{}, map[block]map[string]bool{}
	program := filepath.Join(b.scratch, "plain")
	if err := b.build(p, program, "-coverpkg="+covered); err != nil {
		return err
	}
	out, err := b.command(s.folder, program, "-test.list", cmp.Or(b.o.run, ".")).Output()
	if err != nil {
		return err
	}
	for _, test := range strings.Fields(string(out)) {
		if strings.HasPrefix(test, "Benchmark") {
			continue
		}
		profile := filepath.Join(b.scratch, "profile")
		seconds, v, _, err := b.run(s, program, []string{test}, 0, 0, "-test.coverprofile="+profile)
		if err != nil {
			return fmt.Errorf("the tests of %s without any change: %w", p.ImportPath, err)
		}
		if v != survived {
			s.Broken = append(s.Broken, test)
			continue
		}
		s.Tests = append(s.Tests, test)
		s.Cost[test] = seconds
		text, err := os.ReadFile(profile)
		if err != nil {
			return err
		}
		s.note(test, string(text))
	}
	return nil
}

// asked are the tests to show a mutant to, no more than there is time for.
func (b *bench) asked(s *suite, c *change) []string {
	tests := s.reaching(c)
	share := func(test string) float64 { return (s.Cost[test] + starts) / float64(1+b.kills[test]) }
	slices.SortStableFunc(tests, func(x, y string) int { return cmp.Compare(share(x), share(y)) })
	sum := 0.
	for i, test := range tests {
		if sum += s.Cost[test]; b.o.most > 0 && sum > b.o.most && i > 0 {
			return tests[:i]
		}
	}
	return tests
}

// note keeps what a test reached.
func (s *suite) note(test, profile string) {
	for line := range strings.Lines(profile) {
		m := profiled.FindStringSubmatch(strings.TrimSpace(line))
		if m == nil {
			continue
		}
		var n [4]int
		for i := range n {
			n[i], _ = strconv.Atoi(m[2+i]) // digits
		}
		where := block{m[1], place{n[0], n[1]}, place{n[2], n[3]}}
		if s.Reached[where] == nil {
			s.Reached[where] = map[string]bool{}
		}
		if m[6] != "0" {
			s.Reached[where][test] = true
		}
	}
}

// reaching lists the tests that come to a change: all, if it
// stands outside functions. What is in no block, as the cases of a switch, counts as
// reached with any of its function.
func (s *suite) reaching(c *change) []string {
	if c.head == 0 {
		return slices.Clone(s.Tests)
	}
	file, exact := path.Join(c.pkg, filepath.Base(c.file)), map[string]bool(nil)
	near := map[string]bool{}
	for where, tests := range s.Reached {
		if where.File != file || where.From.less(c.first) || c.last.less(where.From) {
			continue
		}
		if !c.at.less(where.From) && c.at.less(where.To) {
			exact = tests
		}
		maps.Copy(near, tests)
	}
	if exact != nil {
		near = exact
	}
	return slices.DeleteFunc(slices.Clone(s.Tests), func(t string) bool { return !near[t] })
}

// run runs tests on a mutant, 0: on the code as it is, with so many seconds of
// processor time at most, 0: as many as they take. It gives how many they took, and
// which test failed.
func (b *bench) run(s *suite, program string, tests []string, mutant, most int, flags ...string) (seconds float64, v verdict, by string, err error) {
	words := append([]string{"-c", `ulimit -t "$0" && ulimit -v ` + memory + ` && exec "$@"`, cmp.Or(strings.TrimPrefix(strconv.Itoa(most), "0"), "unlimited"), program,
		"-test.failfast", "-test.timeout", hangs, "-test.run", "^(" + strings.Join(tests, "|") + ")$"}, flags...)
	if !b.o.full {
		words = append(words, "-test.short")
	}
	c := b.command(s.folder, "sh", words...)
	c.Env = slices.DeleteFunc(c.Env, func(s string) bool { return !b.o.full && strings.HasPrefix(s, "LOUDFOR_LONG=") })
	c.Env = append(c.Env, "GOTRACEBACK=none", fmt.Sprintf("%s=%d", asked, mutant))
	var said bytes.Buffer
	c.Stdout = &said
	err = c.Run()
	if m := failed.FindSubmatch(said.Bytes()); m != nil {
		by = string(m[1])
	}
	seconds = (c.ProcessState.UserTime() + c.ProcessState.SystemTime()).Seconds()
	var failure *exec.ExitError
	switch {
	case err == nil || !errors.As(err, &failure):
		return seconds, survived, "", err
	case failure.Sys().(syscall.WaitStatus).Signal() == syscall.SIGKILL: // as the limit does
		v = slow
	default:
		v = killed
	}
	return seconds, v, by, b.until.Err() // what was ended has not failed
}
