package refresh

import (
	"context"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/nats-io/nats-server/v2/server"

	"loudfor/catalog/plan"
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
	case "run":
		p, report := plan.Load(what[1])
		var r *Refresh
		if err = report.Err(); err == nil {
			r, err = Open(p)
		}
		if err == nil {
			_, err = r.Run(context.Background(), Options{Workers: 2})
		}
	}
	if err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
	os.Exit(0)
}

// process starts this test's program as another one.
func process(t *testing.T, what string) *exec.Cmd {
	t.Helper()
	cmd := exec.Command(os.Args[0])
	cmd.Env = append(os.Environ(), asProgram+"="+what)
	cmd.Stderr = os.Stderr
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	return cmd
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
	w := &worker{queue: q, program: r.jobs.program, silence: time.Minute, ask: func(_ context.Context, g *Group, i int) (*Answer, error) {
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

// kills is how many processes die.
func kills() int {
	if long() {
		return 100
	}
	return 3
}

// A refresh that is killed again and again goes on by itself, and ends with the same
// bytes: nothing is lost and nothing double.
func TestKilled(t *testing.T) {
	more := strings.Replace(grid, "caps: [", "caps: [150 USD, 350 USD, 800 USD, ", 1)
	_, want := run(t, chain(t, 2, more, nil), Options{})
	g := rand.New(rand.NewPCG(uint64(time.Now().UnixNano()), 1))
	for n := 0; n < kills(); {
		p := chain(t, 2, more, nil)
		name := filepath.Join(filepath.Dir(p.Results), "plan.yaml")
		// The longer it has not come through, the longer it lives: however slow the machine
		// is, it comes through some time.
		for died, life := true, 1.; died; life *= 1.2 {
			cmd := process(t, "run "+name)
			over := make(chan error, 1)
			go func() { over <- cmd.Wait() }()
			select {
			case err := <-over:
				if died = false; err != nil {
					t.Fatal(err)
				}
			case <-time.After(time.Duration(life*float64(300+g.IntN(2500))) * time.Millisecond):
				_ = cmd.Process.Kill()
				<-over
				n++
			}
		}
		if got, err := os.ReadFile(p.Results); err != nil || string(got) != want {
			t.Fatalf("%v: after %d kills\n%s\nwant\n%s", err, n, got, want)
		}
	}
}

// Workers in processes of their own at a server, of which some are killed, give the
// same bytes as one process by itself; the server goes away meanwhile and comes back.
func TestWorkersElsewhere(t *testing.T) {
	_, want := run(t, chain(t, 2, grid, nil), Options{})
	options := server.Options{Host: "127.0.0.1", Port: server.RANDOM_PORT, JetStream: true, StoreDir: t.TempDir(), NoLog: true, NoSigs: true}
	start := func() *server.Server {
		s, err := server.NewServer(&options)
		if err != nil {
			t.Fatal(err)
		}
		s.Start()
		if !s.ReadyForConnections(time.Minute) {
			t.Fatal("the server does not start")
		}
		return s
	}
	s := start()
	url := s.ClientURL()
	_, port, _ := strings.Cut(strings.TrimPrefix(url, "nats://"), ":")
	options.Port, _ = strconv.Atoi(port)
	p := chain(t, 2, grid, nil)
	r, err := Open(p)
	if err != nil {
		t.Fatal(err)
	}
	defer r.Close()
	over := make(chan error, 1)
	go func() {
		_, err := r.Run(context.Background(), Options{Queue: url, Workers: -1, Silence: 3 * time.Second, Say: func(text string) { t.Log(text) }})
		over <- err
	}()
	time.Sleep(300 * time.Millisecond)
	work := []*exec.Cmd{process(t, "work "+url), process(t, "work "+url)}
	time.Sleep(time.Second)
	_ = work[0].Process.Kill()
	_ = work[0].Wait()
	s.Shutdown()
	s.WaitForShutdown()
	time.Sleep(time.Second)
	s = start()
	defer s.Shutdown()
	work = append(work[1:], process(t, "work "+url), process(t, "work "+url))
	err = <-over
	for _, w := range work {
		_ = w.Process.Kill()
		_ = w.Wait()
	}
	if err != nil {
		t.Fatal(err)
	}
	if got, err := os.ReadFile(p.Results); err != nil || string(got) != want {
		t.Fatalf("%v\n%s\nwant\n%s", err, got, want)
	}
}
