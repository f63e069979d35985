package counter

import (
	"context"
	"fmt"
	"io"
	"math/rand/v2"
	"net/http"
	"os"
	"runtime"
	"sync"
	"sync/atomic"
	"testing"
	"time"
)

// Fifty people at once, each asking for one page after the other: no error,
// and memory that does not grow with the number of answers.
//
// It runs for a second here, and until each has had two pages; for 30 seconds with
// LOUDFOR_LOAD=30s:
//
//	LOUDFOR_LOAD=30s go test ./cmd/internal/counter -run TestFiftyAtOnce -v
func TestFiftyAtOnce(t *testing.T) {
	const clients = 50
	length := time.Second
	if text := os.Getenv("LOUDFOR_LOAD"); text != "" {
		var err error
		if length, err = time.ParseDuration(text); err != nil {
			t.Fatal(err)
		}
	}
	c := open(t, nil)
	address, _ := listen(t, c)
	if _, err := c.climbed(context.Background(), askOf(t, c, "")); err != nil {
		t.Fatal(err)
	}
	bookOne(t, c)
	views := exampleViews(t, c)
	before := heap()
	var answers, faults atomic.Int64
	var all sync.WaitGroup
	end := time.Now().Add(length)
	for i := range clients {
		all.Go(func() {
			chance := rand.New(rand.NewPCG(uint64(i), 1))
			client := &http.Client{}
			defer client.CloseIdleConnections()
			for asked := 0; asked < 2 || time.Now().Before(end); asked++ {
				path := views[chance.IntN(len(views))].address
				moving := chance.IntN(3) > 0
				if moving {
					path = fmt.Sprintf("/?cap=%d", 100+chance.IntN(300))
				}
				r, err := http.NewRequest(http.MethodGet, address+path, nil)
				if err != nil {
					t.Error(err)
					return
				}
				if moving {
					r.Header.Set("X-Moving", "1")
				}
				reply, err := client.Do(r)
				if err != nil {
					faults.Add(1)
					t.Errorf("%s: %v", path, err)
					return
				}
				_, err = io.Copy(io.Discard, reply.Body)
				reply.Body.Close()
				if err != nil || reply.StatusCode != http.StatusOK && path != "/nothing" {
					faults.Add(1)
					t.Errorf("%s: %d %v", path, reply.StatusCode, err)
					return
				}
				answers.Add(1)
			}
		})
	}
	all.Wait()
	grown := float64(heap()) - float64(before)
	t.Logf("%d answers in %v, %d faults, %.1f MB more in use", answers.Load(), length, faults.Load(), grown/1e6)
	if grown > mostGrown {
		t.Errorf("%.0f MB more in use", grown/1e6)
	}
	if n := c.rankings.size(); n > mostRankings {
		t.Errorf("%d rankings kept", n)
	}
}

// mostGrown bounds the memory that all kept answers together may take: about
// a hundred rankings of 100 kB, two hundred builds of 20 kB, with room for the
// pages under way.
const mostGrown = 96e6

func heap() uint64 {
	var m runtime.MemStats
	runtime.GC()
	runtime.GC()
	runtime.ReadMemStats(&m)
	return m.HeapAlloc
}
