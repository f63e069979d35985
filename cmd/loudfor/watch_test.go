package main

import (
	"bufio"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"
)

// watched is the program run as a process that watches a folder.
type watched struct {
	t      *testing.T
	cmd    *exec.Cmd
	folder string
	lines  chan string
	mutex  sync.Mutex
	said   strings.Builder // on standard error
}

func watching(t *testing.T, args ...string) *watched {
	t.Helper()
	w := &watched{t: t, folder: t.TempDir(), lines: make(chan string, 100)}
	w.cmd = exec.Command(os.Args[0], append(args, "--watch", w.folder)...)
	w.cmd.Env = append(os.Environ(), asProgram+"=1", "NO_COLOR=1")
	stdout, err := w.cmd.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	stderr, err := w.cmd.StderrPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := w.cmd.Start(); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = w.cmd.Process.Kill() })
	go func() {
		for s := bufio.NewScanner(stdout); s.Scan(); {
			w.lines <- s.Text()
		}
		close(w.lines)
	}()
	go func() {
		for s := bufio.NewScanner(stderr); s.Scan(); {
			w.mutex.Lock()
			w.said.WriteString(s.Text() + "\n")
			w.mutex.Unlock()
		}
	}()
	w.hears("watching ")
	return w
}

// patient is how long a line may take on a machine that is busy with other work.
const patient = 8 * time.Minute

// next is the next line of the answer.
func (w *watched) next() string {
	w.t.Helper()
	select {
	case line, open := <-w.lines:
		if !open {
			w.t.Fatalf("it ended: %s", w.heard())
		}
		return line
	case <-time.After(patient):
		w.t.Fatalf("no line; standard error: %s", w.heard())
	}
	return ""
}

func (w *watched) heard() string {
	w.mutex.Lock()
	defer w.mutex.Unlock()
	return w.said.String()
}

// hears waits for words on standard error.
func (w *watched) hears(words string) {
	w.t.Helper()
	for end := time.Now().Add(patient); !strings.Contains(w.heard(), words); time.Sleep(20 * time.Millisecond) {
		if time.Now().After(end) {
			w.t.Fatalf("%q was never said: %s", words, w.heard())
		}
	}
}

func (w *watched) write(name, content string) {
	w.t.Helper()
	if err := os.WriteFile(filepath.Join(w.folder, name), []byte(content), 0o600); err != nil {
		w.t.Fatal(err)
	}
}

// ends interrupts it: it stops at once, and that is no failure.
func (w *watched) ends() {
	w.t.Helper()
	if err := w.cmd.Process.Signal(os.Interrupt); err != nil {
		w.t.Fatal(err)
	}
	for line := range w.lines {
		w.t.Errorf("one more line: %s", line)
	}
	if err := w.cmd.Wait(); err != nil {
		w.t.Errorf("it ends with %v: %s", err, w.heard())
	}
}

const (
	listHead  = "SKU,price,store,stock,date\n"
	clearance = listHead + "OR-M6-B,69.50 USD,Pell Street Sound,1,2025-03-07\n"
)

// A list appears, is written over by rename as editors do, is half written, is
// mended, and goes away: a line for each time that the answer is another, and
// none for the rest.
func TestWatchBrief(t *testing.T) {
	w := watching(t, "reprice", "demo:250-reading")
	w.write("notes.txt", "no list") // not looked at
	w.write("may.csv", clearance)
	if line := w.next(); !strings.Contains(line, "249.94 USD 128.4 dB -> 237.58 USD 130.0 dB") || !strings.Contains(line, "OR-M6-B 69.50, was 139.00") {
		t.Error(line)
	}
	// An editor writes beside the list and renames: another price, the same build.
	w.write(".may.csv.new", strings.Replace(clearance, "69.50", "70.50", 1))
	if err := os.Rename(filepath.Join(w.folder, ".may.csv.new"), filepath.Join(w.folder, "may.csv")); err != nil {
		t.Fatal(err)
	}
	if line := w.next(); !strings.Contains(line, "-> 238.65 USD 130.0 dB") {
		t.Error(line)
	}
	// Half a file: told, and waited for.
	w.write("may.csv", clearance[:len(clearance)-15])
	w.hears("error  ")
	w.write("may.csv", clearance)
	if line := w.next(); !strings.Contains(line, "-> 237.58 USD") {
		t.Error(line)
	}
	if err := os.Remove(filepath.Join(w.folder, "may.csv")); err != nil {
		t.Fatal(err)
	}
	if line := w.next(); !strings.Contains(line, "as before again") {
		t.Error(line)
	}
	w.ends()
}

// For a job book there is a line for each quote that changes, and only for it.
func TestWatchBook(t *testing.T) {
	book := filepath.Join(t.TempDir(), "shop.db")
	for _, customer := range []string{"Rosa", "Ben"} {
		brief := map[string]string{"Rosa": "demo:250-reading", "Ben": "demo:1500-one-shop"}[customer]
		if got := call("book", "add", brief, "--book", book, "--customer", customer); got.status != statusDone {
			t.Fatal(got.stderr)
		}
	}
	w := watching(t, "book", "reprice", "--book", book)
	w.write("may.csv", clearance)
	if line := w.next(); !strings.HasPrefix(line, "job 1 (Rosa): ") { // Ben does not buy at that shop
		t.Error(line)
	}
	w.ends()
}

// A folder that is not there is no folder to watch.
func TestWatchNothing(t *testing.T) {
	got := call("reprice", "demo:250-reading", "--watch", filepath.Join(t.TempDir(), "none"))
	if got.status != statusBadInput || !strings.Contains(got.stderr, "not a folder") {
		t.Errorf("%d %s", got.status, got.stderr)
	}
}
