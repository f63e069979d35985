package main

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"reflect"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"loudfor/catalog"
	"loudfor/optimizer/testing/generate"
)

// An interrupt at any moment: what is then printed is what the whole run prints, or
// says that it is what was found so far; a figure that was not computed is left out;
// the status is the one that belongs to the answer; and who gets no answer gets a
// word. Each command that computes is run whole, and then stopped at random moments.

// interrupts is how many moments an ordinary run tries, with the demo alone; one with
// LOUDFOR_LONG tries each command once, with a large catalogue as well,
// LOUDFOR_INTERRUPTS=200 so many, and LOUDFOR_INTERRUPT_SEED=3 other moments.
const interrupts = 6

// stoppable is a command with what it needs.
type stoppable struct {
	args  string // FOLDER stands for that of the files, BOOK for a job book of its own
	large bool   // with a catalogue for which it takes long, or a list made of that
}

// Shops that are kept in their own ways, each asked by one goal and with one rule for
// the front, so that all come up; the file of a style lies in the folder.
func ofStyles() (all []stoppable) {
	for style := range generate.StyleCount {
		goal, front := []string{"reading", "music"}[style%2], []string{"keep", "replace", "either"}[style%3]
		for _, command := range []string{"pick", "ladder", "why"} {
			all = append(all, stoppable{fmt.Sprintf("%s FOLDER/%v-brief.yaml --goal %s --front %s --catalog FOLDER/%v.yaml", command, style, goal, front, style), false})
		}
	}
	return all
}

// styleParts is how many parts such a shop has.
const styleParts = 800

// stylish writes the shops of ofStyles.
func (y *yard) stylish(t *testing.T) {
	t.Helper()
	for style := range generate.StyleCount {
		c, owned := generate.Styled(styleParts, 1, generate.Tight, style)
		var text bytes.Buffer
		if err := catalog.WriteParts(&text, c); err != nil {
			t.Fatal(err)
		}
		write(t, filepath.Join(y.folder, style.String()+".yaml"), text.String())
		var skus []string
		for _, m := range owned {
			skus = append(skus, m.SKU)
		}
		write(t, filepath.Join(y.folder, style.String()+"-brief.yaml"), "cap: 800 USD\nvehicle: small sedan\nowned: ["+strings.Join(skus, ", ")+"]\n")
	}
}

var stoppables = []stoppable{
	{"pick", false}, {"pick demo:800-music", false}, {"pick demo:500-no-room", false}, {"pick --cap 3000 --vehicle sedan", true},
	{"ladder", false}, {"ladder --cap 3000 --vehicle sedan", true},
	{"why", false}, {"why --part OR-4C-B", false}, {"why --cap 1500 --vehicle sedan", true},
	{"versus demo:250-reading rank:1 rank:2", false}, {"versus FOLDER/brief.yaml rank:1 rank:2", true},
	{"box", false}, {"pick demo:350-built", false}, {"box demo:twelve-built", false},
	{"predict demo:value-12-sealed", false}, {"sheet", false}, {"sheet demo:two-tens-vented", false},
	{"check", false}, {"check", true}, {"import demo:amps --dry-run", false}, {"import FOLDER/parts.csv --dry-run", true},
	{"export --format csv -o FOLDER/out.csv", true}, {"reprice demo:250-reading --prices demo:clearance", false},
	{"reprice FOLDER/brief.yaml --prices FOLDER/prices.csv", true}, {"audit", false}, {"audit --lp FOLDER/program.lp", false},
	{"meter compare", false}, {"meter learn", false}, {"meter plan", false}, {"meter list --book BOOK", false},
	{"meter add FOLDER/readings.yaml --book BOOK", false},
	{"book list --book BOOK", false}, {"book show 1 --book BOOK", false}, {"book quote 1 --book BOOK", false},
	{"book add demo:250-reading --customer Rosa --book BOOK", false}, {"book prices demo:clearance --book BOOK", false},
	{"book reprice --book BOOK", false},
}

// yard is where the commands run.
type yard struct {
	folder, large, book string
	wholes              map[string]*wholeRun
}

func newYard(t *testing.T, large bool) *yard {
	t.Helper()
	y := &yard{folder: t.TempDir(), wholes: map[string]*wholeRun{}}
	y.book = filepath.Join(y.folder, "sound.db")
	must(t, "book", "add", "demo:250-reading", "--book", y.book)
	must(t, "book", "add", "demo:800-music", "--book", y.book)
	for name, text := range map[string]string{
		"brief.yaml":    "cap: 900 USD\nvehicle: sedan\nfront: keep\n",
		"prices.csv":    "SKU,price,date\nD001,30.00 USD,2025-03-07\nA010,10.00 USD,2025-03-07\n",
		"readings.yaml": "vehicle: small sedan\nbuild: demo:value-12-sealed\nreadings:\n  - {place: dash, frequency: 40 Hz, level: 120.5 dB}\n",
	} {
		if err := os.WriteFile(filepath.Join(y.folder, name), []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	if large {
		y.large = largeCatalogue(t)
		must(t, "export", "--catalog", y.large, "--format", "csv", "-o", filepath.Join(y.folder, "parts.csv"))
	}
	return y
}

// run runs a command as a process, stopped after a while (0: not). It took so long
// altogether, and worked so long after the interrupt.
func (y *yard) run(t *testing.T, s *stoppable, asJSON bool, after time.Duration) (got outcome, took, late time.Duration) {
	t.Helper()
	book := filepath.Join(t.TempDir(), "book.db")
	content, err := os.ReadFile(y.book)
	if err == nil {
		err = os.WriteFile(book, content, 0o600)
	}
	if err != nil {
		t.Fatal(err)
	}
	args := strings.Fields(strings.NewReplacer("FOLDER", y.folder, "BOOK", book).Replace(s.args))
	if s.large && args[0] != "import" {
		args = append(args, "--catalog", y.large)
	}
	if asJSON {
		args = append(args, "--json")
	}
	cmd := exec.Command(os.Args[0], args...)
	cmd.Env = append(os.Environ(), asProgram+"=1")
	var stdout, stderr bytes.Buffer
	cmd.Stdout, cmd.Stderr = &stdout, &stderr
	began := time.Now()
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	if after > 0 {
		time.Sleep(after)
		late = worked(cmd.Process.Pid)
		_ = cmd.Process.Signal(os.Interrupt) // it may be over
	}
	var exit *exec.ExitError
	if err := cmd.Wait(); err != nil && !errors.As(err, &exit) {
		t.Fatal(err)
	}
	if late > 0 {
		late = max(0, cmd.ProcessState.UserTime()+cmd.ProcessState.SystemTime()-late)
	}
	clean := func(b bytes.Buffer) string { return strings.ReplaceAll(b.String(), book, "BOOK") }
	return outcome{cmd.ProcessState.ExitCode(), clean(stdout), clean(stderr)}, time.Since(began), late
}

// worked is the time that a process has spent on processors, where the system tells;
// else, and of one that is over, 0.
func worked(pid int) time.Duration {
	text, err := os.ReadFile(fmt.Sprintf("/proc/%d/stat", pid))
	_, rest, named := strings.Cut(string(text), ") ") // behind the name, which may hold anything
	fields := strings.Fields(rest)
	if err != nil || !named || len(fields) < 13 || fields[0] == "Z" {
		return 0
	}
	user, _ := strconv.Atoi(fields[11])
	system, _ := strconv.Atoi(fields[12])
	return time.Duration(user+system) * 10 * time.Millisecond // a tick is a hundredth of a second
}

func TestInterruptAnywhere(t *testing.T) {
	many, commands := interrupts, slices.DeleteFunc(slices.Clone(stoppables), func(s stoppable) bool { return s.large })
	if os.Getenv("LOUDFOR_LONG") != "" {
		many, commands = len(stoppables), stoppables
	}
	styles := ofStyles()
	if n, err := strconv.Atoi(os.Getenv("LOUDFOR_INTERRUPTS")); err == nil {
		many, commands = n, append(slices.Clone(stoppables), styles...)
	} else {
		commands = append(slices.Clone(commands), styles[0]) // one of them, always
	}
	seed, _ := strconv.ParseUint(os.Getenv("LOUDFOR_INTERRUPT_SEED"), 10, 64)
	g := rand.New(rand.NewPCG(seed, 0x73746f70))
	y := newYard(t, len(commands) >= len(stoppables))
	y.stylish(t)
	endings, slowest := map[string]int{}, []time.Duration(nil)
	order := g.Perm(len(commands))
	for i := range many {
		s := &commands[order[i%len(order)]]
		asJSON := g.IntN(3) > 0
		whole := y.whole(t, s, asJSON)
		after := time.Duration((0.02 + g.Float64()) * float64(whole.took))
		got, _, late := y.run(t, s, asJSON, after)
		how, fault := whole.judge(&got, asJSON)
		endings[how]++
		if slowest = append(slowest, late); late > time.Second/2 {
			t.Logf("%s (large: %v, JSON: %v), stopped after %v of %v: %s after %v of CPU", s.args, s.large, asJSON, after, whole.took, how, late)
		}
		if fault != "" {
			t.Errorf("%s (large: %v, JSON: %v), stopped after %v: %s; status %d\n%s\n%s", s.args, s.large, asJSON, after, fault, got.status, cut(got.stdout), cut(got.stderr))
		}
	}
	// How long it takes is reported, not tested: a busy machine is no fault.
	slices.Sort(slowest)
	t.Logf("%d interrupts: %v; CPU after the interrupt: half took %v, nine in ten %v, all %v", many, endings, slowest[many/2], slowest[many*9/10], slowest[many-1])
}

// wholeRun is an answer without an interrupt.
type wholeRun struct {
	outcome
	took time.Duration
}

// whole runs a command to its end, once.
func (y *yard) whole(t *testing.T, s *stoppable, asJSON bool) *wholeRun {
	t.Helper()
	key := fmt.Sprint(s.args, s.large, asJSON)
	if w := y.wholes[key]; w != nil {
		return w
	}
	got, took, _ := y.run(t, s, asJSON, 0)
	if got.status != statusDone && got.status != statusNoBuild && got.status != statusChanged {
		t.Fatalf("%s ends with %d: %s", s.args, got.status, got.stderr)
	}
	y.wholes[key] = &wholeRun{got, took}
	return y.wholes[key]
}

// judge says how a stopped run ended, and what is wrong with that.
func (w *wholeRun) judge(got *outcome, asJSON bool) (how, fault string) {
	switch {
	case got.status < 0:
		if got.stdout != "" {
			return "killed", "killed by the signal with half an answer on standard output"
		}
		return "killed", "" // before the program was ready for it, or by the second
	case got.status == w.status && got.stdout == w.stdout:
		return "whole", ""
	case got.status == statusBadInput:
		return "no answer", w.refused(got, asJSON)
	case got.status != w.status && got.status != statusDone && got.status != statusChanged:
		return "another status", "the whole run ends with " + fmt.Sprint(w.status)
	}
	if !asJSON {
		for _, word := range []string{"stopped", "interrupt", "cancelled"} {
			if strings.Contains(got.stdout+got.stderr, word) {
				return "so far", ""
			}
		}
		return "unmarked", "the answer differs from that of the whole run, and nothing says that it was stopped"
	}
	var a, b map[string]any
	if json.Unmarshal([]byte(got.stdout), &a) != nil || json.Unmarshal([]byte(w.stdout), &b) != nil {
		return "broken", "no document"
	}
	answers, _ := a["answers"].(map[string]any) // of which one search may end and another not
	if a["stop"] == "cancelled" || a["stopped"] == true || a["rough_bands"] == true || answers["whole"] == false {
		return "so far", dishonest(a, b)
	}
	if got.status != w.status {
		return "another status", "the whole run ends with " + fmt.Sprint(w.status)
	}
	if d := unlike(a, b, ""); d != "" {
		return "unmarked", "not marked as stopped, and " + d
	}
	return "without bands", ""
}

// dishonest finds a build of the whole answer that is louder than the gap of the answer
// so far allows; steps of a ladder are held price by price.
func dishonest(a, b map[string]any) string {
	at := func(d any, keys ...string) (x float64, ok bool) {
		for _, key := range keys {
			m, _ := d.(map[string]any)
			d = m[key]
		}
		x, ok = d.(float64)
		return x, ok
	}
	const rounding = 0.001 // dB, of each of both
	gap, open := at(a, "proof", "gap_db")
	found, _ := a["builds"].([]any)
	all, _ := b["builds"].([]any)
	if key := map[any]string{"reading": "reading", "music": "music"}[a["goal"]]; open && len(found) > 0 && len(all) > 0 {
		best, _ := at(all[0], key, "db")
		first, _ := at(found[0], key, "db")
		if best > first+gap+2*rounding {
			return fmt.Sprintf("%g dB with a gap of %g dB, and the whole run finds %g dB", first, gap, best)
		}
	}
	steps, _ := a["steps"].([]any)
	whole, _ := b["steps"].([]any)
	if a["schema"] != "loudfor/ladder/1" || len(steps) == 0 {
		return ""
	}
	for _, w := range whole {
		price, _ := at(w, "price")
		level, _ := at(w, "db")
		below := -1
		for i := range steps {
			if p, _ := at(steps[i], "price"); p <= price {
				below = i
			}
		}
		if below < 0 {
			if from, said := at(a, "cheaper_from"); !said || from > price {
				return fmt.Sprintf("the whole run has a build for %g, and nothing says that there may be one below the first step", price)
			}
			continue
		}
		db, _ := at(steps[below], "db")
		if gap, _ := at(steps[below], "gap_db"); level > db+gap+2*rounding {
			return fmt.Sprintf("for %g: %g dB with a gap of %g dB, and the whole run finds %g dB", price, db, gap, level)
		}
	}
	return ""
}

// refused holds an ending without an answer: a word, and with JSON a document that has
// it or says that nothing is known.
func (w *wholeRun) refused(got *outcome, asJSON bool) string {
	if strings.TrimSpace(got.stderr) == "" {
		return "no answer and no word"
	}
	if !asJSON {
		return ""
	}
	var d map[string]any
	if err := json.Unmarshal([]byte(got.stdout), &d); err != nil {
		return "no document: " + err.Error()
	}
	if d["schema"] != "loudfor/error/1" && d["outcome"] != "unknown" {
		return fmt.Sprintf("status 1 with a document %v", d["schema"])
	}
	return ""
}

// unlike finds a figure that the whole answer does not have; those of bands may be
// missing.
func unlike(a, b any, at string) string {
	switch x := a.(type) {
	case map[string]any:
		y, ok := b.(map[string]any)
		if !ok {
			return at + " is another kind of thing"
		}
		for key, v := range x {
			if _, ok := y[key]; !ok {
				return at + "." + key + " is not in the whole answer"
			}
			if d := unlike(v, y[key], at+"."+key); d != "" {
				return d
			}
		}
		for key := range y {
			if _, ok := x[key]; !ok && !slices.Contains([]string{"band_db", "bass_band_db", "front_band_db", "music_band_db", "rise_band_db", "difference", "volts_band", "amps_band"}, key) {
				return at + "." + key + " is missing"
			}
		}
	case []any:
		y, ok := b.([]any)
		if !ok || len(x) != len(y) {
			return fmt.Sprintf("%s has %d items", at, len(x))
		}
		for i := range x {
			if d := unlike(x[i], y[i], fmt.Sprintf("%s[%d]", at, i)); d != "" {
				return d
			}
		}
	default:
		if !reflect.DeepEqual(a, b) {
			return fmt.Sprintf("%s is %v, in the whole answer %v", at, a, b)
		}
	}
	return ""
}

// cut shortens what is shown of an answer.
func cut(s string) string {
	if len(s) > 1500 {
		return s[:1500] + " ..."
	}
	return s
}
