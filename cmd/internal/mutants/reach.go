package main

import (
	"bytes"
	"cmp"
	"errors"
	"fmt"
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
type place struct{ line, column int }

func (p place) less(q place) bool {
	return p.line < q.line || p.line == q.line && p.column < q.column
}

// block is a stretch of code that runs as a whole.
type block struct {
	file     string // import path and name
	from, to place
}

// suite is the tests of a package, built with all mutants.
type suite struct {
	folder  string
	program string
	tests   []string
	cost    map[string]float64 // s of processor time
	reached map[block]map[string]bool
}

var profiled = regexp.MustCompile(`^(.*):(\d+)\.(\d+),(\d+)\.(\d+) \d+ (\d+)$`)

var failed = regexp.MustCompile(`(?m)^--- FAIL: (\w+)`)

// starts is about what a test costs beside its own time, s.
const starts = 0.05

// suiteOf builds the tests of a package and runs each on the code as it is.
func (b *bench) suiteOf(p listed) (*suite, error) {
	if s := b.suites[p.ImportPath]; s != nil {
		return s, nil
	}
	s := &suite{folder: b.copied(p.Dir), cost: map[string]float64{}, reached: map[block]map[string]bool{}}
	s.program = filepath.Join(b.scratch, fmt.Sprintf("suite%d", len(b.suites)))
	b.suites[p.ImportPath] = s
	covered := p.ImportPath
	if slices.ContainsFunc(b.also, func(q listed) bool { return q.ImportPath == p.ImportPath }) {
		for _, q := range b.packages {
			covered += "," + q.ImportPath
		}
	}
	if err := b.build(p, s.program, "-coverpkg="+covered); err != nil {
		return nil, err
	}
	out, err := b.command(s.folder, s.program, "-test.list", cmp.Or(b.o.run, ".")).Output()
	if err != nil {
		return nil, err
	}
	for _, test := range strings.Fields(string(out)) {
		if strings.HasPrefix(test, "Benchmark") {
			continue
		}
		profile := filepath.Join(b.scratch, "profile")
		seconds, v, _, err := b.run(s, s.program, []string{test}, 0, 0, "-test.coverprofile="+profile)
		if err != nil {
			return nil, fmt.Errorf("the tests of %s without any change: %w", p.ImportPath, err)
		}
		if v != survived { // one that reads the code it tests, in which all mutants stand, or that is broken
			fmt.Fprintf(b.told, "%s of %s fails without any change, and is not asked\n", test, p.ImportPath)
			continue
		}
		s.tests = append(s.tests, test)
		s.cost[test] = seconds
		text, err := os.ReadFile(profile)
		if err != nil {
			return nil, err
		}
		s.note(test, string(text))
	}
	return s, nil
}

// asked are the tests to show a mutant to, no more than there is time for.
func (b *bench) asked(s *suite, c *change) []string {
	tests := s.reaching(c)
	share := func(test string) float64 { return (s.cost[test] + starts) / float64(1+b.kills[test]) }
	slices.SortStableFunc(tests, func(x, y string) int { return cmp.Compare(share(x), share(y)) })
	sum := 0.
	for i, test := range tests {
		if sum += s.cost[test]; b.o.most > 0 && sum > b.o.most && i > 0 {
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
		if s.reached[where] == nil {
			s.reached[where] = map[string]bool{}
		}
		if m[6] != "0" {
			s.reached[where][test] = true
		}
	}
}

// reaching lists the tests that come to a change: all, if it
// stands outside functions. What is in no block, as the cases of a switch, counts as
// reached with any of its function.
func (s *suite) reaching(c *change) []string {
	if c.head == 0 {
		return slices.Clone(s.tests)
	}
	file, exact := path.Join(c.pkg, filepath.Base(c.file)), map[string]bool(nil)
	near := map[string]bool{}
	for where, tests := range s.reached {
		if where.file != file || where.from.less(c.first) || c.last.less(where.from) {
			continue
		}
		if !c.at.less(where.from) && c.at.less(where.to) {
			exact = tests
		}
		maps.Copy(near, tests)
	}
	if exact != nil {
		near = exact
	}
	return slices.DeleteFunc(slices.Clone(s.tests), func(t string) bool { return !near[t] })
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

func placeOf(text string, offset int) place {
	return place{strings.Count(text[:offset], "\n") + 1, offset - strings.LastIndexByte(text[:offset], '\n')}
}
