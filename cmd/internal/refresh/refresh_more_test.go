package refresh

import (
	"context"
	"errors"
	"fmt"
	"math/rand/v2"
	"net"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/nats-io/nats-server/v2/server"

	"loudfor/catalog/plan"
	"loudfor/cmd/library"
)

// asProgram makes this test's program one that refreshes a plan, or works for one.
const asProgram = "LOUDFOR_REFRESH_TEST"

func TestMain(m *testing.M) {
	what := strings.Split(os.Getenv(asProgram), " ")
	var err error
	switch what[0] {
	case "":
		os.Exit(m.Run())
	case "work":
		err = Work(context.Background(), Options{Queue: what[1], Workers: 1, Say: func(string) {}})
	case "serve":
		if _, err = serve(what[1], what[2]); err == nil {
			select {}
		}
	case "run":
		p, report := plan.Load(what[1])
		var r *Refresh
		if err = report.Err(); err == nil {
			r, err = Open(p)
		}
		if err == nil {
			o := Options{Workers: 2, Silence: 2 * time.Second}
			if len(what) > 2 {
				o.Queue, o.Workers = what[2], -1
			}
			_, err = r.Run(context.Background(), o)
		}
	}
	if err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
	os.Exit(0)
}

// member is this test's program as another process; gone is closed when it has ended.
type member struct {
	*exec.Cmd
	gone chan struct{}
	err  error
}

func process(t *testing.T, what string) *member {
	t.Helper()
	m := &member{Cmd: exec.Command(os.Args[0]), gone: make(chan struct{})}
	m.Env = append(os.Environ(), asProgram+"="+what)
	m.Stderr = os.Stderr
	if err := m.Start(); err != nil {
		t.Fatal(err)
	}
	go func() { m.err = m.Wait(); close(m.gone) }()
	return m
}

// end kills it, and waits until it is gone.
func (m *member) end() {
	_ = m.Process.Kill()
	<-m.gone
}

var priced = regexp.MustCompile(`price: (\d+)\.00 USD`)

// worse makes some parts dearer, and some be out of stock.
func worse(seed uint64, text string) string {
	g := rand.New(rand.NewPCG(seed, 7))
	return priced.ReplaceAllStringFunc(text, func(price string) string {
		switch g.IntN(12) {
		case 0:
			n, _ := strconv.Atoi(priced.FindStringSubmatch(price)[1])
			return fmt.Sprintf("price: %d.00 USD", n+1+g.IntN(30))
		}
		return price
	})
}

// rewrite gives the file of a shop another state.
func rewrite(t *testing.T, p plan.Plan, shop int, change func(string) string) {
	t.Helper()
	name := filepath.Join(filepath.Dir(p.Results), fmt.Sprintf("shops/shop-%03d.yaml", shop))
	text, err := os.ReadFile(name)
	if err == nil {
		err = os.WriteFile(name, []byte(change(string(text))), 0o600)
	}
	if err != nil {
		t.Fatal(err)
	}
}

// The centre's ranking, and what was answered the day before, change no byte of what
// searches find.
func TestShortWaysAreSearches(t *testing.T) {
	shops := 4
	if long() {
		shops = 40
	}
	dearer := func(shop int, text string) string { return worse(uint64(shop), text) }
	_, want := run(t, chain(t, shops, grid, dearer), Options{})
	p := chain(t, shops, grid+"centre: centre.yaml\n", dearer)
	_, got := run(t, p, Options{})
	if got != want {
		t.Fatalf("with a centre other results:\n%s\nwithout:\n%s", got, want)
	}
	for shop := range shops {
		rewrite(t, p, shop, func(text string) string { return worse(uint64(100+shop), text) })
	}
	var sum *Summary
	sum, got = run(t, p, Options{})
	if sum.Changed == 0 || len(sum.Dearer) == 0 || sum.Computed == 0 {
		t.Errorf("the second day is as the first: %+v", sum)
	}
	if err := os.RemoveAll(p.Kept); err != nil {
		t.Fatal(err)
	}
	p.Centre = ""
	if _, want := run(t, p, Options{Workers: 1}); got != want {
		t.Errorf("the second day, known the first:\n%s\nby searches:\n%s", got, want)
	}
}

func long() bool { return os.Getenv("LOUDFOR_LONG") != "" }

// A job that panics three times is set aside with its place, and the others go on.
func TestPlantedPanic(t *testing.T) {
	p := chain(t, 1, grid, nil)
	r, err := Open(p)
	if err != nil {
		t.Fatal(err)
	}
	defer r.Close()
	inside, err := embedded(t.TempDir())
	if err != nil {
		t.Fatal(err)
	}
	defer inside.Shutdown()
	ctx, stop := context.WithTimeout(context.Background(), 5*time.Minute)
	defer stop()
	q, err := connect(ctx, "", inside, time.Minute, func(text string) { t.Log(text) })
	if err != nil {
		t.Fatal(err)
	}
	defer q.close()
	c := &course{r: r, q: q, o: Options{Silence: time.Minute}}
	if err := c.give(ctx); err != nil {
		t.Fatal(err)
	}
	if err := c.give(ctx); err != nil { // what is there is refused, and that is no error
		t.Fatal(err)
	}
	if info, err := q.groups.Info(ctx); err != nil || info.State.Msgs != 2 {
		t.Fatalf("%+v %v", info, err)
	}
	tried := 0
	w := &worker{queue: q, program: r.jobs.program, silence: time.Minute, ask: func(_ context.Context, g *Group, i int) (*library.Answer, error) {
		if g.Car == "van" && i == 3 {
			tried++
			panic("planted")
		}
		return nothing(), nil
	}}
	working, end := context.WithCancel(ctx)
	done := make(chan error, 1)
	go func() { done <- w.run(working) }()
	err = c.follow(ctx)
	end()
	if err := <-done; err != nil {
		t.Error(err)
	}
	if err != nil || tried != attempts || c.status.Failed != 1 || c.status.Done != 16 {
		t.Errorf("%v, tried %d times, %+v", err, tried, c.status)
	}
	a, err := r.store.answer(r.jobs.group(1).Keys[3])
	if err != nil || a.Outcome != failed || !strings.Contains(a.Error, "planted (refresh_more_test.go:") || !strings.Contains(a.Stack, "goroutine") {
		t.Errorf("%+v %v", a, err)
	}
}

// serve is a server of its own, in this process.
func serve(folder, port string) (*server.Server, error) {
	n, err := strconv.Atoi(port)
	if err != nil {
		return nil, err
	}
	s, err := server.NewServer(&server.Options{Host: "127.0.0.1", Port: n, JetStream: true, StoreDir: folder, NoLog: true, NoSigs: true})
	if err != nil {
		return nil, err
	}
	s.Start()
	if !s.ReadyForConnections(time.Minute) {
		return nil, errors.New("the server does not start")
	}
	return s, nil
}

// freePort is one that nobody listens at.
func freePort(t *testing.T) string {
	t.Helper()
	l, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	defer l.Close()
	_, port, err := net.SplitHostPort(l.Addr().String())
	if err != nil {
		t.Fatal(err)
	}
	return port
}

// kills is how many processes die.
func kills() int {
	if long() {
		return 100
	}
	return 4
}

// A refresh goes on by itself when processes are killed at random moments, and ends with
// the same bytes, so that nothing is lost and nothing double: one process by itself, and
// a server, two workers and whoever gave the plan, each by itself.
func TestKilled(t *testing.T) {
	more := strings.Replace(grid, "caps: [", "caps: [150 USD, 350 USD, 800 USD, ", 1)
	_, want := run(t, chain(t, 2, more, nil), Options{})
	g := rand.New(rand.NewPCG(uint64(time.Now().UnixNano()), 1))
	for n, round := 0, 0; n < kills(); round++ {
		p := chain(t, 2, more, nil)
		parts := []string{"run " + filepath.Join(filepath.Dir(p.Results), "plan.yaml")}
		if round%2 == 0 {
			port := freePort(t)
			url := "nats://127.0.0.1:" + port
			parts = []string{parts[0] + " " + url, "serve " + t.TempDir() + " " + port, "work " + url, "work " + url}
		}
		var cast []*member
		for _, what := range parts {
			cast = append(cast, process(t, what))
		}
		// The longer it has not come through, the longer all live: however slow the machine
		// is, it comes through some time.
		for done, life := false, 1.; !done; life *= 1.1 {
			select {
			case <-cast[0].gone:
				if done = true; cast[0].err != nil {
					t.Error(cast[0].err)
				}
			case <-time.After(time.Duration(life*float64(300+g.IntN(2500))) * time.Millisecond):
				i := g.IntN(len(parts))
				cast[i].end()
				cast[i] = process(t, parts[i])
				n++
			}
		}
		for _, m := range cast {
			m.end()
		}
		if got, err := os.ReadFile(p.Results); err != nil || string(got) != want {
			t.Fatalf("%v: after %d kills\n%s\nwant\n%s", err, n, got, want)
		}
		t.Logf("%d processes have been killed, the same bytes", n)
	}
}

// One and four processes at a server, with jobs in another order, give the rows of one
// process by itself. They were begun before there was a server, and it goes away once.
func TestWorkersElsewhere(t *testing.T) {
	away := time.Second
	if long() {
		away = time.Minute
	}
	rows := func(text string) []string { return slices.Sorted(strings.Lines(text)) }
	const caps, turned = "caps: [150 USD, 250 USD, 350 USD, 500 USD, 650 USD, 800 USD]\n", "caps: [650 USD, 800 USD, 500 USD, 250 USD, 150 USD, 350 USD]\n"
	const more = "goals: [reading, music]\nopenings: [shut, doors open]\n"
	_, want := run(t, chain(t, 2, caps+more, nil), Options{})
	for _, workers := range []int{1, 4} {
		folder, port := t.TempDir(), freePort(t)
		url := "nats://127.0.0.1:" + port
		p := chain(t, 2, turned+"goals: [music, reading]\nopenings: [doors open, shut]\n", nil)
		r, err := Open(p)
		if err != nil {
			t.Fatal(err)
		}
		defer r.Close()
		for range workers {
			defer process(t, "work "+url).end()
		}
		over, waits := make(chan error, 1), make(chan string, 100)
		go func() {
			_, err := r.Run(context.Background(), Options{Queue: url, Workers: -1, Silence: 3 * time.Second, Say: func(text string) { waits <- text }})
			over <- err
		}()
		for times := range 2 {
			if text := <-waits; !strings.Contains(text, "waiting for it") {
				t.Error(text)
			}
			time.Sleep(away)
			s, err := serve(folder, port)
			if err != nil {
				t.Fatal(err)
			}
			if times > 0 {
				defer s.Shutdown()
				break
			}
			q, err := connect(context.Background(), url, nil, 0, func(string) {})
			if err != nil {
				t.Fatal(err)
			}
			for info := q.answers.CachedInfo(); info.State.Msgs < 3; time.Sleep(10 * time.Millisecond) {
				if info, err = q.answers.Info(context.Background()); err != nil {
					t.Fatal(err)
				}
			}
			q.close()
			s.Shutdown()
			s.WaitForShutdown()
		}
		if err := <-over; err != nil {
			t.Fatal(err)
		}
		got, err := os.ReadFile(p.Results)
		if err != nil || !slices.Equal(rows(string(got)), rows(want)) {
			t.Fatalf("%v: %d processes\n%s\nwant\n%s", err, workers, got, want)
		}
	}
}

// Where there never was a server, nobody waits for ever.
func TestNoServer(t *testing.T) {
	defer func(usual time.Duration) { greeting = usual }(greeting)
	greeting = time.Second
	url := "nats://127.0.0.1:" + freePort(t)
	err := Work(context.Background(), Options{Queue: url, Workers: 1, Say: func(string) {}})
	if err == nil || !strings.Contains(err.Error(), url) || !strings.Contains(err.Error(), "has not answered for 1s; see that the address is right") {
		t.Error(err)
	}
}
