package book

import (
	"bufio"
	"encoding/json"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"sync"
	"testing"
	"time"
)

// The test program runs itself as another program that uses the book.

// Variables that tell the child what to do.
const (
	roleVariable = "LOUDFOR_BOOK_ROLE" // write
	bookVariable = "LOUDFOR_BOOK_FILE"
	nameVariable = "LOUDFOR_BOOK_NAME" // marks what this child wrote
	manyVariable = "LOUDFOR_BOOK_KILLS"
)

func TestMain(m *testing.M) {
	if os.Getenv(roleVariable) == "write" {
		writeForEver()
	}
	os.Exit(m.Run())
}

// however long programs wait for each other on a machine that is busy with other
// work, it is less.
const however = time.Hour

// marked is the answer number n of one child.
func marked(name string, n int) Quote {
	q := quoteFor(demoParts())
	q.Answer = json.RawMessage(fmt.Sprintf(`{"child": %q, "n": %d}`, name, n))
	q.Printed = strings.Repeat(fmt.Sprintf("%s %d\n", name, n), 300)
	return q
}

// writeForEver books answers and says the number of each one that the book has
// confirmed.
func writeForEver() {
	b, err := Open(os.Getenv(bookVariable), Options{Now: func() time.Time { return noon }, Create: true, Wait: however})
	if err != nil {
		fmt.Println("error", err)
		os.Exit(1)
	}
	name := os.Getenv(nameVariable)
	job, err := b.AddJob(ctx, Job{Brief: brief})
	for n := 0; err == nil; n++ {
		q := marked(name, n)
		q.Job = job
		var id int64
		if id, err = b.AddQuote(ctx, q); err == nil {
			fmt.Println(id, n)
		}
	}
	fmt.Println("error", err)
	os.Exit(1)
}

// child runs writeForEver and gives what it confirmed until it ended.
type child struct {
	name      string
	cmd       *exec.Cmd
	done      chan struct{}
	mu        sync.Mutex
	confirmed map[int64]int
	said      string // an error
}

func startChild(t *testing.T, path, name string) *child {
	t.Helper()
	c := &child{name: name, cmd: exec.Command(os.Args[0]), done: make(chan struct{}), confirmed: map[int64]int{}}
	c.cmd.Env = append(os.Environ(), roleVariable+"=write", bookVariable+"="+path, nameVariable+"="+name)
	out, err := c.cmd.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := c.cmd.Start(); err != nil {
		t.Fatal(err)
	}
	go func() {
		defer close(c.done)
		for lines := bufio.NewScanner(out); lines.Scan(); {
			var id int64
			var n int
			c.mu.Lock()
			if _, err := fmt.Sscan(lines.Text(), &id, &n); err == nil {
				c.confirmed[id] = n
			} else if strings.HasPrefix(lines.Text(), "error") { // a line may be cut
				c.said = lines.Text()
			}
			c.mu.Unlock()
		}
	}()
	return c
}

func (c *child) count() int {
	c.mu.Lock()
	defer c.mu.Unlock()
	return len(c.confirmed)
}

// confirms waits until the child has confirmed so many, or has ended.
func (c *child) confirms(many int) {
	for c.count() < many {
		select {
		case <-c.done:
			return
		case <-time.After(time.Millisecond):
		}
	}
}

// kill ends the child at once; it has no chance to clean up.
func (c *child) kill(t *testing.T) {
	t.Helper()
	if err := c.cmd.Process.Kill(); err != nil {
		t.Fatal(err)
	}
	<-c.done
	_ = c.cmd.Wait()
	if c.said != "" {
		t.Errorf("%s: %s", c.name, c.said)
	}
}

// holds checks that all that was confirmed is in the book, byte for byte.
func (c *child) holds(t *testing.T, b *Book) {
	t.Helper()
	for id, n := range c.confirmed {
		q, err := b.Quote(ctx, id)
		want := marked(c.name, n)
		if err != nil || string(q.Answer) != string(want.Answer) || q.Printed != want.Printed || len(q.Lines) != len(want.Lines) {
			t.Fatalf("quote %d (%s, %d) was confirmed and is %s, %v", id, c.name, n, q.Answer, err)
		}
	}
}

// A program that is killed at any moment loses nothing that was confirmed.
func TestKill(t *testing.T) {
	rounds := 25
	if testing.Short() {
		rounds = 5
	}
	if n, err := strconv.Atoi(os.Getenv(manyVariable)); err == nil {
		rounds = n
	}
	path := filepath.Join(t.TempDir(), "book.db")
	r := rand.New(rand.NewPCG(uint64(time.Now().UnixNano()), 0))
	total, jobs, waited := 0, 0, 0
	var all []*child
	for round := range rounds {
		c := startChild(t, path, "child "+strconv.Itoa(round))
		// Some are killed while they open or make the book, most while they
		// write.
		if wait := r.IntN(10); wait > 0 {
			waited++
			c.confirms(1)
		}
		time.Sleep(time.Duration(r.IntN(60_000)) * time.Microsecond)
		c.kill(t)
		all = append(all, c)
		total += c.count()
		if _, err := os.Stat(path); err != nil && len(c.confirmed) == 0 {
			continue // killed before the book was made
		}
		b, err := Open(path, Options{})
		if err != nil {
			t.Fatalf("round %d: %v", round, err)
		}
		if err := b.Check(ctx); err != nil {
			t.Fatalf("round %d: %v", round, err)
		}
		c.holds(t, b)
		if round == rounds-1 {
			for _, earlier := range all {
				earlier.holds(t, b)
			}
			jobs = count(t, b, "job")
			if quotes := count(t, b, "quote"); quotes < total || quotes > total+rounds {
				t.Errorf("%d quotes for %d confirmed", quotes, total)
			}
		}
		b.Close()
	}
	if total < waited {
		t.Errorf("only %d quotes were confirmed in the %d rounds that waited for one", total, waited)
	}
	t.Logf("%d quotes of %d jobs were confirmed in %d rounds", total, jobs, rounds)
}

// Programs and goroutines that write to one book, made by whoever comes first,
// wait for each other.
func TestManyWriters(t *testing.T) {
	path := filepath.Join(t.TempDir(), "book.db")
	children := []*child{startChild(t, path, "one"), startChild(t, path, "two")}
	b, err := Open(path, Options{Now: func() time.Time { return noon }, Create: true, Wait: however})
	if err != nil {
		t.Fatal(err)
	}
	defer b.Close()
	job, err := b.AddJob(ctx, Job{Brief: brief})
	if err != nil {
		t.Fatal(err)
	}
	const writers, each = 4, 10
	var wg sync.WaitGroup
	for w := range writers {
		wg.Go(func() {
			for n := range each {
				q := marked("here", w*each+n)
				q.Job = job
				if _, err := b.AddQuote(ctx, q); err != nil {
					t.Error(err)
				}
				if _, err := b.Jobs(ctx); err != nil {
					t.Error(err)
				}
			}
		})
	}
	wg.Wait()
	for _, c := range children {
		c.confirms(5)
	}
	for _, c := range children {
		c.kill(t)
		if c.count() < 5 {
			t.Errorf("%s confirmed %d quotes", c.name, c.count())
		}
		c.holds(t, b)
	}
	if quotes := must[[]QuoteSummary](t)(b.Quotes(ctx, job)); len(quotes) != writers*each {
		t.Errorf("%d quotes, want %d", len(quotes), writers*each)
	}
	if n := count(t, b, "catalogue"); n != 1 {
		t.Errorf("%d states for one catalogue", n)
	}
	if err := b.Check(ctx); err != nil {
		t.Error(err)
	}
}
