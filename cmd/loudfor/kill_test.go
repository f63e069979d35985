package main

import (
	"bytes"
	"context"
	"io/fs"
	"maps"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"loudfor/catalog/book"
)

// killsVariable says how many kills a long run makes; without it there are few.
const killsVariable = "LOUDFOR_KILLS"

// writers are the commands that write, each into the folder in which it runs.
var writers = [][]string{
	{"export", "--output", "parts.yaml"},
	{"export", "--output", "parts.csv"},
	{"export", "--output", "parts.xlsx"},
	{"import", "demo:amps", "--output", "amps.yaml", "--save-map", "map.yaml"},
	{"import", "demo:amps", "--into", "kept.yaml"},
	{"meter", "add", "readings.csv", "--book", "shop.db"},
	{"meter", "learn", "readings.csv", "--out", "learned.yaml"},
	{"book", "add", "demo:250-reading", "--book", "shop.db"},
	{"book", "prices", "list.csv", "--book", "shop.db"},
	{"predict", "demo:value-12-sealed", "--curve", "curve.csv", "--svg", "curve.svg"},
	{"box", "demo:twelve-built", "--csv", "cuts.csv", "--svg", "cuts.svg"},
	{"sheet", "demo:value-12-sealed", "--output", "sheet.txt", "--svg", "wiring.svg"},
	{"man", "."},
}

// Inputs of the writers.
const killedReadings = "vehicle;build;frequency;level\nvan;OR-M3, TM-12V, KE-S12L;30;108\nvan;OR-M3, TM-12V, KE-S12L;36;112\nvan;OR-M3, TM-12V, KE-S12L;42;115\n"

var killedList = func() string {
	rows := []string{"SKU,store,price,date"}
	for i := range 300 {
		rows = append(rows, "TM-2C,Shop "+strconv.Itoa(i)+","+strconv.Itoa(50+i)+" USD,2025-05-09")
	}
	return strings.Join(rows, "\n") + "\n"
}()

// written is what a folder holds but for the book's own files.
func written(t *testing.T, dir string) map[string]string {
	t.Helper()
	out := map[string]string{}
	err := filepath.WalkDir(dir, func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		content, err := os.ReadFile(path)
		out[strings.TrimPrefix(path, dir+string(filepath.Separator))] = string(content)
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return out
}

// started runs the program in a folder.
func started(t *testing.T, dir string, args []string) (*exec.Cmd, *bytes.Buffer) {
	t.Helper()
	cmd := exec.Command(os.Args[0], args...)
	cmd.Dir = dir
	cmd.Env = append(os.Environ(), asProgram+"=1")
	said := &bytes.Buffer{}
	cmd.Stdout, cmd.Stderr = said, said
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	return cmd, said
}

func prepared(t *testing.T) string {
	t.Helper()
	dir := t.TempDir()
	for name, content := range map[string]string{"readings.csv": killedReadings, "list.csv": killedList} {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(content), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	return dir
}

// sound opens the book of a folder and counts what is in it; none without one.
func sound(t *testing.T, dir string) (jobs, readings, prices int) {
	t.Helper()
	path := filepath.Join(dir, "shop.db")
	if _, err := os.Stat(path); err != nil {
		return 0, 0, 0
	}
	ctx := context.Background()
	b, err := book.Open(path, book.Options{})
	if err != nil {
		t.Fatal(err)
	}
	defer b.Close()
	if err := b.Check(ctx); err != nil {
		t.Fatal(err)
	}
	j, err := b.Jobs(ctx)
	if err != nil {
		t.Fatal(err)
	}
	r, err := b.Readings(ctx, "")
	if err != nil {
		t.Fatal(err)
	}
	p, err := b.PriceList(ctx)
	if err != nil {
		t.Fatal(err)
	}
	for _, job := range j {
		if job.Quotes != 1 {
			t.Errorf("job %d has %d quotes", job.ID, job.Quotes)
		}
	}
	return len(j), len(r), len(p.Entries)
}

// Whatever writes may be killed at any moment: what it confirmed is there, what
// it did not is there whole or not at all, and once the same command has run to
// its end nothing else is left, neither half a file nor a thing twice.
func TestKilledWriters(t *testing.T) {
	kills, seed := 2*len(writers), uint64(time.Now().UnixNano())
	if testing.Short() {
		kills = len(writers)
	}
	if n, err := strconv.Atoi(os.Getenv(killsVariable)); err == nil {
		kills = n
	}
	t.Logf("seed %d", seed)
	r := rand.New(rand.NewPCG(seed, 0))
	whole := make([]map[string]string, len(writers)) // what each writes, undisturbed
	takes := make([]time.Duration, len(writers))
	running, begun := 0, 0
	for turn := range kills {
		k := turn % len(writers)
		args := writers[k]
		if whole[k] == nil {
			dir := prepared(t)
			since := time.Now()
			if cmd, said := started(t, dir, args); cmd.Wait() != nil {
				t.Fatalf("%v: %s", args, said)
			}
			takes[k], whole[k] = time.Since(since), written(t, dir)
		}
		dir := prepared(t)
		// Some are killed while they replace what an earlier run has written.
		old := r.IntN(2) == 0
		if old {
			for name := range whole[k] {
				if !strings.HasPrefix(name, "shop.db") && name != "readings.csv" && name != "list.csv" && name != "kept.yaml" {
					if err := os.WriteFile(filepath.Join(dir, name), []byte("old"), 0o600); err != nil {
						t.Fatal(err)
					}
				}
			}
		}
		since := time.Now()
		cmd, said := started(t, dir, args)
		time.Sleep(time.Duration(float64(takes[k]) * (0.2 + 0.85*r.Float64())))
		_ = cmd.Process.Kill()
		confirmed := cmd.Wait() == nil
		if confirmed { // what else the machine does changes
			takes[k] = min(takes[k], time.Since(since))
		} else {
			running++
		}
		left := written(t, dir)
		for _, name := range slices.Sorted(maps.Keys(left)) {
			hidden := strings.HasPrefix(name, ".") && strings.Contains(name, ".unfinished")
			if hidden {
				begun++
			}
			if strings.HasPrefix(name, "shop.db") || hidden {
				continue
			}
			if left[name] != whole[k][name] && !(old && left[name] == "old") {
				t.Errorf("turn %d: %v leaves %d bytes of %s, which has %d (%s)", turn, args, len(left[name]), name, len(whole[k][name]), said)
			}
			if confirmed && left[name] != whole[k][name] {
				t.Errorf("turn %d: %v confirmed %s, which is not there", turn, args, name)
			}
		}
		jobs, readings, prices := sound(t, dir)
		if readings != 0 && readings != 3 || prices != 0 && prices != 300 || jobs > 1 {
			t.Errorf("turn %d: %v leaves %d jobs, %d readings, %d prices", turn, args, jobs, readings, prices)
		}
		if confirmed && (args[0] == "book" || args[1] == "add") && jobs+readings+prices == 0 {
			t.Errorf("turn %d: %v confirmed what is not there", turn, args)
		}
		if again, said := started(t, dir, args); again.Wait() != nil {
			t.Errorf("turn %d: %v fails after a kill: %s", turn, args, said)
		}
		after := written(t, dir)
		for _, name := range slices.Sorted(maps.Keys(after)) {
			if want, known := whole[k][name]; !known || after[name] != want && name != "shop.db" {
				t.Errorf("turn %d: %v, run again, leaves %s", turn, args, name)
			}
		}
		if _, readings, prices := sound(t, dir); readings != 0 && readings != 3 || prices != 0 && prices != 300 {
			t.Errorf("turn %d: %v, run again, leaves %d readings, %d prices", turn, args, readings, prices)
		}
	}
	t.Logf("%d kills, %d before the command was done, %d of them with something begun beside a file", kills, running, begun)
	if running == 0 {
		t.Error("no command was killed while it ran: the test shows nothing")
	}
}
