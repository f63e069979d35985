// Command mutants tests the tests: it draws changes of the code at random, makes
// one after the other, and runs the tests of the package. A change that no test
// notices survives, and is listed with its place.
//
//	go run ./cmd/internal/mutants -n 50 -seed 1 ./model/supply ./catalog/prices
//	go run ./cmd/internal/mutants -n 20 -also ./optimizer/advice ./optimizer
//	go run ./cmd/internal/mutants -n 8 -changed HEAD~5 ./model/... ./optimizer/...
//
// Tests run with -short and without LOUDFOR_LONG unless -full is given. No file of
// the project is touched: the mutants are built in a copy of it. A change that does
// not compile is no mutant; another is drawn for it. The same seed draws the same
// changes from the same code.
//
// All mutants drawn are built together, once for the tests of each package, and one
// of them is chosen as the tests start (schemata.go); each test runs alone first, to
// see what it reaches, and a mutant is shown to those that reach it, first those that
// are quick or have killed many (reach.go). So most take less than a second. A run
// that was ended, by -within or an interrupt, goes on from what it printed, given with
// -log, and with -memory asks no test again what it costs and reaches.
//
// A mutant is killed by a test that fails, or by tests that take several times the
// processor time of the real code and -slack seconds more: time on the clock, which
// other work on the machine stretches, kills nothing but what waits for ever.
//
// testdata/equal.txt lists mutants that mean the same as the real code, each with
// the reason; they count neither as killed nor as survivors.
//
// Limits: only what a package's own tests notice counts, and those of -also; what a
// test reaches only now and then, by a draw of its own, may be missed; the changes are
// small ones, one at a time (see change.go); Unix only, for the limit of processor time.
package main

import (
	"flag"
	"fmt"
	"io"
	"maps"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strings"
)

func main() {
	var o options
	flags := flag.NewFlagSet("mutants", flag.ExitOnError)
	flags.IntVar(&o.many, "n", 20, "mutants to draw")
	flags.Uint64Var(&o.seed, "seed", 1, "of the draw")
	flags.StringVar(&o.changed, "changed", "", "draw from files that differ from this revision only")
	flags.StringVar(&o.also, "also", "", "packages, with commas, whose tests are asked as well, where its own kill none")
	flags.StringVar(&o.run, "run", "", "ask only tests that match, as go test -run")
	flags.BoolVar(&o.full, "full", false, "run the tests in full")
	flags.Float64Var(&o.most, "most", 0, "seconds of processor time that the tests asked of a mutant take together on the code as it is; 0: all that reach it")
	flags.IntVar(&o.slack, "slack", 20, "seconds of processor time that the tests of a mutant may take longer than four times those of the code")
	flags.Float64Var(&o.least, "least", 0, "fail if a smaller share is killed")
	flags.DurationVar(&o.within, "within", 0, "end after this time, with what is known by then")
	flags.StringVar(&o.log, "log", "", "output of a run before: what it says of a mutant is not asked again")
	flags.StringVar(&o.again, "again", "", "output of a run before, or a list: draw from the survivors that it names, wherever they stand by now")
	flags.StringVar(&o.memory, "memory", "", "folder that keeps what each test costs and reaches, for the next run")
	flags.StringVar(&o.equal, "equal", "cmd/internal/mutants/testdata/equal.txt", "mutants equal in meaning")
	_ = flags.Parse(os.Args[1:]) // exits by itself
	o.patterns = flags.Args()
	if len(o.patterns) == 0 || o.many < 1 {
		fmt.Fprintln(os.Stderr, "usage: mutants [-n 20] [-seed 1] [-changed REVISION] PACKAGE...")
		os.Exit(2)
	}
	if err := o.test(os.Stdout); err != nil {
		fmt.Fprintln(os.Stderr, "mutants:", err)
		os.Exit(1)
	}
}

// test draws, runs and tells.
func (o *options) test(w io.Writer) error {
	reasons, err := readEqual(o.equal)
	if err != nil {
		return err
	}
	known, err := readLog(o.log)
	if err != nil {
		return err
	}
	b, err := newBench(o)
	if err != nil {
		return err
	}
	defer b.close()
	for _, j := range known {
		b.kills[j.by]++
	}
	changes, err := b.changes()
	if err != nil {
		return err
	}
	if o.again != "" {
		text, err := os.ReadFile(o.again)
		if err != nil {
			return err
		}
		changes = amongSurvivors(changes, string(text))
	}
	fmt.Fprintf(w, "%d changes can be made in %d packages; %d are drawn with seed %d\n", len(changes), len(b.packages), o.many, o.seed)
	shuffle(changes, o.seed)
	drawn, err := b.draw(changes)
	if err != nil {
		return err
	}
	count, parts := map[verdict]int{}, map[string]map[verdict]int{}
	for _, c := range drawn {
		if b.late() {
			break
		}
		v, why := known[c.String()].verdict, ""
		if by := known[c.String()].by; by != "" {
			why = byWhom + by
		}
		if reason := reasons[c.key()]; reason != "" {
			v, why = equal, " ("+reason+")"
		} else if v == "" {
			by := ""
			if v, by, err = b.try(c); b.late() {
				break
			} else if err != nil {
				return err
			}
			if by != "" {
				why = byWhom + by
			}
		}
		if count[v]++; parts[c.pkg] == nil {
			parts[c.pkg] = map[verdict]int{}
		}
		parts[c.pkg][v]++
		fmt.Fprintf(w, "%-9s %s%s\n", v, c, why)
	}
	asked := count[equal] + count[killed] + count[slow] + count[survived]
	for _, pkg := range slices.Sorted(maps.Keys(b.suites)) {
		for _, test := range b.suites[pkg].Broken {
			fmt.Fprintf(w, "%s of %s fails without any change, and was not asked\n", test, pkg)
		}
	}
	for _, pkg := range slices.Sorted(maps.Keys(parts)) {
		n := parts[pkg]
		fmt.Fprintf(w, "%4d killed %4d survived %4d equal  %s\n", n[killed]+n[slow], n[survived], n[equal], pkg)
	}
	if left := len(drawn) - asked; left > 0 {
		fmt.Fprintf(w, "the time is over: %d were drawn and not asked\n", left)
	}
	dead, share := count[killed]+count[slow], 1.0
	if others := asked - count[equal]; others > 0 {
		share = float64(dead) / float64(others)
	}
	fmt.Fprintf(w, "%d drawn: %d killed (%d of them by their time), %d equal in meaning, %d survived; %.0f %% of those with another meaning killed\n",
		asked, dead, count[slow], count[equal], count[survived], 100*share)
	if share < o.least {
		return fmt.Errorf("fewer than %.0f %% were killed", 100*o.least)
	}
	return nil
}

// readEqual reads the list of mutants equal in meaning: blocks of a key, as
// change.key writes it, and on the lines that follow, indented, the reason.
func readEqual(name string) (map[string]string, error) {
	text, err := os.ReadFile(filepath.FromSlash(name))
	if err != nil {
		return nil, err
	}
	equal, key := map[string]string{}, ""
	for line := range strings.Lines(string(text)) {
		switch trimmed := strings.TrimSpace(line); {
		case trimmed == "" || strings.HasPrefix(trimmed, "#"):
		case line[0] != '\t':
			file, rest, _ := strings.Cut(trimmed, " | ")
			key = path.Base(file) + " | " + rest
		case key == "":
			return nil, fmt.Errorf("%s: a reason without a mutant: %s", name, trimmed)
		default:
			equal[key] = strings.TrimSpace(equal[key] + " " + trimmed)
		}
	}
	return equal, nil
}

// amongSurvivors are the changes that a text lists as survivors, or without a verdict.
// Files may have moved since, and lines.
func amongSurvivors(changes []change, text string) []change {
	listed := map[string]bool{}
	for line := range strings.Lines(text) {
		line = strings.TrimSpace(line)
		switch v, c, _ := strings.Cut(line, " "); verdict(v) {
		case killed, slow, equal:
			continue
		case survived:
			line = strings.TrimSpace(c)
		}
		file, rest, _ := strings.Cut(line, ":")
		_, rest, _ = strings.Cut(rest, ":")
		listed[path.Base(file)+rest] = true
	}
	return slices.DeleteFunc(changes, func(c change) bool {
		_, rest, _ := strings.Cut(c.String()[len(c.shown)+1:], ":")
		return !listed[path.Base(c.shown)+rest]
	})
}

// byWhom stands between a mutant and the test that killed it.
const byWhom = "  by "

// judged is what a run before said of a mutant.
type judged struct {
	verdict
	by string // the test
}

// readLog reads what a run said of its mutants; the last line of one counts.
func readLog(name string) (map[string]judged, error) {
	known := map[string]judged{}
	if name == "" {
		return known, nil
	}
	text, err := os.ReadFile(name)
	for line := range strings.Lines(string(text)) {
		v, c, _ := strings.Cut(strings.TrimSpace(line), " ")
		switch v := verdict(v); v {
		case killed, slow, survived:
			c, by, _ := strings.Cut(strings.TrimSpace(c), byWhom)
			known[c] = judged{v, by}
		}
	}
	return known, err
}
