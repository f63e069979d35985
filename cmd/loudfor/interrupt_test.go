package main

import (
	"bytes"
	"context"
	"encoding/json"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"sync/atomic"
	"testing"

	"loudfor/cmd/internal/record"
	"loudfor/optimizer/advice"
)

// Interrupts at many moments. A context that ends when it has been asked so many
// times is an interrupt at a moment that can be named. Whenever it comes, an
// answer is what the whole command says, or says that it was interrupted, or is
// a best so far that says so, and of which every figure is that of the whole.

// countdown is such a context.
type countdown struct {
	context.Context
	left atomic.Int64
	end  sync.Once
	done chan struct{}
}

func endsAfter(polls int64) *countdown {
	c := &countdown{Context: context.Background(), done: make(chan struct{})}
	c.left.Store(polls)
	return c
}

func (c *countdown) Done() <-chan struct{} { return c.done }

func (c *countdown) Err() error {
	if c.left.Add(-1) >= 0 {
		return nil
	}
	c.end.Do(func() { close(c.done) })
	return context.Canceled
}

// interruptible are the commands that search, and all others that poll. TRIPS is
// a catalogue in which shops have to be chosen, NONE a brief that they cannot
// meet, BOOK a job book with one job, NEW one that is not there.
var interruptible = [][]string{
	{"pick"},
	{"pick", "demo:800-music", "--top", "12"},
	{"pick", "demo:350-built"},
	{"pick", "demo:500-no-room"},
	{"pick", "SHOPS", "--catalog", "PARTS", "--catalog", "TRIPS"},
	{"pick", "NONE", "--catalog", "PARTS", "--catalog", "TRIPS"},
	{"ladder"},
	{"ladder", "demo:800-music"},
	{"ladder", "demo:500-no-room"},
	{"ladder", "SHOPS", "--catalog", "PARTS", "--catalog", "TRIPS"},
	{"ladder", "NONE", "--catalog", "PARTS", "--catalog", "TRIPS"},
	{"grow", "demo:210-grow"},
	{"grow", "demo:500-no-room", "--then", "100"},
	{"why"},
	{"why", "--part", "TM-12V"},
	{"why", "demo:500-no-room"},
	{"versus", "demo:250-reading", "rank:1", "rank:2"},
	{"versus", "demo:500-no-room", "rank:1", "rank:2"},
	{"box", "demo:350-built"},
	{"box", "demo:twelve-built"},
	{"predict", "demo:value-12-sealed"},
	{"sheet"},
	{"sheet", "demo:500-no-room"},
	{"sheet", "demo:value-12-sealed"},
	{"reprice", "demo:250-reading", "--prices", "demo:clearance"},
	{"reprice", "--book", "BOOK", "--prices", "demo:clearance"},
	{"audit"},
	{"audit", "--lp", "PROGRAM"},
	{"book", "add", "demo:250-reading", "--book", "NEW"},
	{"book", "quote", "1", "--book", "BOOK"},
	{"book", "list", "--book", "BOOK"},
	{"book", "show", "1", "--book", "BOOK"},
	{"book", "reprice", "1", "--book", "BOOK", "--prices", "demo:clearance"},
	{"meter", "plan"},
	{"meter", "learn"},
	{"meter", "compare"},
}

func TestInterruptedAtAnyMoment(t *testing.T) {
	if testing.Short() {
		t.Skip("runs every command several times")
	}
	moments, long := 1, os.Getenv("LOUDFOR_LONG") != ""
	if long {
		moments = 60
	}
	const seed = 14
	random := rand.New(rand.NewPCG(seed, 0))
	dir := t.TempDir()
	in := func(name string) string { return filepath.Join(dir, name) }
	write(t, in("trips.yaml"), "stores:\n  - {name: Dunmarrow Audio, trip: 9 USD}\n  - {name: Pell Street Sound, trip: 5 USD}\n")
	brief, err := os.ReadFile("../../catalog/demo/briefs/250-reading.yaml")
	if err != nil {
		t.Fatal(err)
	}
	write(t, in("shops.yaml"), string(brief))
	write(t, in("none.yaml"), strings.Replace(string(brief), "cap: 250 USD", "cap: 60 USD", 1)+"most_stores: 1\n")
	for _, args := range interruptible {
		t.Run(strings.Join(args, " "), func(t *testing.T) {
			run := func(polls int64) (outcome, int64) {
				at := filepath.Join(t.TempDir(), "book.db")
				if slices.Contains(args, "BOOK") {
					must(t, "book", "add", "demo:250-reading", "--book", at)
				}
				all := []string{"--json", "--workers", "1"}
				if args[0] == "meter" || slices.Contains(args, "list") || slices.Contains(args, "show") {
					all = all[:1] // these have no cores to choose
				}
				for _, a := range args {
					all = append(all, strings.NewReplacer("TRIPS", in("trips.yaml"), "SHOPS", in("shops.yaml"), "NONE", in("none.yaml"),
						"PARTS", "../../catalog/demo/parts", "BOOK", at, "NEW", at, "PROGRAM", in("program.lp")).Replace(a))
				}
				ctx := endsAfter(polls)
				var out, errs bytes.Buffer
				status := runUntil(ctx, all, strings.NewReader(""), &out, &errs)
				return outcome{status, strings.ReplaceAll(out.String(), at, "BOOK"), errs.String()}, polls - ctx.left.Load()
			}
			const never = 1 << 40
			whole, polls := run(never)
			known := builds(decode(t, whole.stdout), args, long)
			if whole.status == statusBadInput || whole.status == statusUsage {
				t.Fatalf("status %d: %s", whole.status, whole.stderr)
			}
			at := map[int64]bool{min(2, polls): true, polls - 1: true}
			for range moments {
				at[random.Int64N(polls+1)] = true
			}
			for n := range at {
				if n < 0 {
					continue
				}
				got, _ := run(n)
				if fault := wrong(t, args, whole, got, known); fault != "" {
					t.Errorf("interrupted after %d of %d polls (seed %d): %s\nstatus %d, %s\n%.3000s", n, polls, seed, fault, got.status, got.stderr, got.stdout)
				}
			}
		})
	}
}

func write(t *testing.T, name, text string) {
	t.Helper()
	if err := os.WriteFile(name, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
}

// builds are the figures of all builds that may come up, by their parts: those of
// the whole answer, and of all that a pick of the demo could rank.
func builds(full map[string]any, args []string, long bool) map[string]string {
	known := map[string]string{}
	learn := func(b map[string]any) { known[figures(b["parts"])] = sounds(b) }
	eachBuild(full, learn)
	if long && args[0] == "pick" && !slices.Contains(args, "TRIPS") {
		eachBuild(decodeQuietly(call(append(slices.Clone(args), "--json", "--alike", "--top", "1000")...).stdout), learn)
	}
	return known
}

func eachBuild(doc map[string]any, visit func(b map[string]any)) {
	builds, _ := doc["builds"].([]any)
	for _, b := range append(builds, doc["best"]) {
		if b, ok := b.(map[string]any); ok {
			visit(b)
		}
	}
}

// sounds is what a build does and costs.
func sounds(b map[string]any) string { return figures(b["reading"], b["music"], b["cost"], b["clamp"]) }

// wrong says what is not true of an answer that was interrupted.
func wrong(t *testing.T, args []string, whole, got outcome, known map[string]string) string {
	if got == whole {
		return ""
	}
	doc, full := decode(t, got.stdout), decode(t, whole.stdout)
	if doc["schema"] == record.ErrorSchema {
		if got.status != statusBadInput || doc["error"] != errInterrupted.Error() && doc["error"] != advice.ErrStopped.Error() || !strings.Contains(got.stderr, doc["error"].(string)) {
			return "neither an answer nor interrupted"
		}
		return ""
	}
	if doc["outcome"] != "infeasible" && !slices.Contains([]string{"pick", "ladder", "grow", "why"}, args[0]) {
		return "an answer that is not the whole command's"
	}
	switch doc["outcome"] {
	case "unknown":
		if doc["stop"] != "cancelled" || got.status != statusBadInput || got.stderr == "" {
			return "unknown, and not told so"
		}
	case "infeasible": // which is proven; why may be known by then, and not what a ladder adds
		if full["outcome"] != "infeasible" || got.status != statusNoBuild || doc["stop"] != "cancelled" {
			return "not known to be infeasible"
		}
		if doc["conflicts"] != nil && figures(doc["conflicts"]) != figures(full["conflicts"]) {
			return "conflicts that are not the whole answer's"
		}
	case "feasible", "optimal":
		answers, _ := doc["answers"].(map[string]any) // of a pick: the ranking may be whole, and what is beside it not
		if got.status != statusDone || full["outcome"] != "optimal" || doc["stop"] != "cancelled" && doc["stopped"] != true && answers["whole"] != false {
			return "a best so far that does not say so"
		}
	default:
		return "no outcome"
	}
	return told(doc, full, known)
}

// told finds a figure that the whole command does not give of the same thing:
// of a build, what its parts do; of a list of answers, one of its items.
func told(doc, full map[string]any, known map[string]string) string {
	fault := ""
	eachBuild(doc, func(b map[string]any) {
		want, met := known[figures(b["parts"])]
		if got := sounds(b); met && got != want {
			fault = "the build has " + got + ", not " + want
		}
		if r := b["reading"].(map[string]any); r["band_db"] == nil {
			fault = "a level without its band"
		}
	})
	for _, list := range []string{"changes", "roles", "wastes", "prices"} {
		got, _ := doc[list].([]any)
		all, _ := full[list].([]any)
		for _, item := range got {
			if !slices.ContainsFunc(all, func(x any) bool { return figures(x) == figures(item) }) {
				fault = list + " holds " + figures(item)
			}
		}
	}
	return fault
}

func decodeQuietly(text string) (doc map[string]any) {
	d := json.NewDecoder(strings.NewReader(text))
	d.UseNumber()
	_ = d.Decode(&doc)
	return doc
}

func figures(values ...any) string {
	text, _ := json.Marshal(values)
	return string(text)
}
