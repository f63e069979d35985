package counter

import (
	"context"
	"fmt"
	"io"
	"math/rand/v2"
	"net/http"
	"slices"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/chromedp"

	"loudfor/cmd/internal/inputs"
	"loudfor/cmd/internal/testing/browser"
)

// thousands is a counter with so many parts.
func thousands(b *testing.B, parts int) *Counter {
	b.Helper()
	c, err := Open(Options{Request: inputs.Request{Catalog: []string{manyParts(b, parts)}, Cap: "250 USD", Openings: "doors open"}, Now: noon, Seed: 1})
	if err != nil {
		b.Fatal(err)
	}
	b.Cleanup(func() { _ = c.Close() })
	return c
}

// part is the value below which so large a part of others lies.
func part(took []float64, of float64) float64 {
	slices.Sort(took)
	return took[min(len(took)-1, int(float64(len(took))*of))]
}

// A move of the budget to its picture, in a browser, at 10,000 parts: the time
// from the event to the frame that shows the answer to it. What is dragged is
// updated so often a second.
func BenchmarkMoveToPaint(b *testing.B) {
	c := thousands(b, 10_000)
	address := serve(b, c)
	if _, err := c.climbed(context.Background(), askOf(b, c, "")); err != nil {
		b.Fatal(err)
	}
	s := screen{browser.Open(b)}
	s.size(b, 1280, 900)
	s.Show(address + "/")
	s.is(b, `document.querySelector("table.ranked") && !document.getElementById("answer").dataset.waits`)
	wait := chromedp.EvalAwaitPromise
	for b.Loop() {
		took := browser.Ask(s.Browser, chromedp.Evaluate[[]float64](`(async () => {
			const s = document.getElementById("slider"), frame = () => new Promise((r) => requestAnimationFrame(r)), took = [];
			for (let i = 0; i < 100; i++) {
				const cap = 130 + (i * 37) % 250 & ~1, words = "$" + cap + ".00", begun = performance.now();
				s.value = cap;
				s.dispatchEvent(new Event("input", {bubbles: true}));
				while (!document.querySelector("h1").textContent.includes(words)) await frame();
				await frame();
				took.push(performance.now() - begun);
				if (Number(document.querySelector(".cost strong").textContent.slice(1)) > cap) throw new Error("a stale figure at " + cap);
			}
			return took;
		})()`, wait))
		b.ReportMetric(part(took, 0.5), "ms-p50")
		b.ReportMetric(part(took, 0.95), "ms-p95")
		updates := browser.Ask(s.Browser, chromedp.Evaluate[float64](`(async () => {
			const s = document.getElementById("slider"), seen = [];
			const watch = new MutationObserver(() => seen.push(document.querySelector("h1").textContent));
			watch.observe(document.querySelector(".desk"), {childList: true});
			const begun = performance.now();
			for (let i = 0; performance.now() - begun < 3000; i++) {
				s.value = 130 + i * 2 % 250;
				s.dispatchEvent(new Event("input", {bubbles: true}));
				await new Promise((r) => setTimeout(r, 16));
			}
			watch.disconnect();
			return new Set(seen).size / ((performance.now() - begun) / 1000);
		})()`, wait))
		b.ReportMetric(updates, "updates/s")
	}
}

// Two hundred people with pauses of two seconds, on the demo: how long pages and
// quotes take, and how many are refused.
func BenchmarkTwoHundred(b *testing.B) {
	const clients, pause = 200, 2 * time.Second
	c, err := Open(Options{Now: noon, Seed: 1})
	if err != nil {
		b.Fatal(err)
	}
	b.Cleanup(func() { _ = c.Close() })
	address := serve(b, c)
	codes := rankedCodes(b, c)
	for b.Loop() {
		var mu sync.Mutex
		var pages, quotes []float64
		refused := 0
		var all sync.WaitGroup
		for i := range clients {
			all.Go(func() {
				chance := rand.New(rand.NewPCG(uint64(i), 2))
				time.Sleep(time.Duration(chance.Int64N(int64(pause))))
				for round := range 4 {
					path, quote := fmt.Sprintf("/?cap=%d", 100+chance.IntN(300)), round == 3
					if quote {
						path = fmt.Sprintf("/quote?cap=%d&parts=%s", 250+chance.IntN(20), codes[chance.IntN(len(codes))])
					}
					begun := time.Now()
					reply, err := http.Get(address + path)
					status := 0
					if err == nil {
						_, err = io.Copy(io.Discard, reply.Body)
						reply.Body.Close()
						status = reply.StatusCode
					}
					took := time.Since(begun).Seconds()
					mu.Lock()
					if err != nil || status != http.StatusOK {
						refused++
					}
					if quote {
						quotes = append(quotes, took)
					} else {
						pages = append(pages, took)
					}
					mu.Unlock()
					time.Sleep(pause)
				}
			})
		}
		all.Wait()
		b.ReportMetric(part(pages, 0.95), "s-page-p95")
		b.ReportMetric(part(pages, 1), "s-page-most")
		b.ReportMetric(part(quotes, 0.95), "s-quote-p95")
		b.ReportMetric(part(quotes, 1), "s-quote-most")
		b.ReportMetric(float64(refused), "refused")
	}
}

// The first minute at 10,000 parts: how long the first page takes, a move before
// the ladder is climbed, and the ladder.
func BenchmarkFirstMinute(b *testing.B) {
	file := manyParts(b, 10_000)
	for b.Loop() {
		begun := time.Now()
		c, err := Open(Options{Request: inputs.Request{Catalog: []string{file}, Cap: "250 USD", Openings: "doors open"}, Now: noon, Seed: 1})
		if err != nil {
			b.Fatal(err)
		}
		opened := time.Since(begun)
		c.Warm()
		get(b, c, "/")
		first := time.Since(begun)
		var moves []float64
		for i := 0; ; i++ {
			if _, done := c.ladders.look(func() string { _, key := askOf(b, c, "").ladderQuestion(); return key }()); done || i > 40 {
				break
			}
			at := time.Now()
			get(b, c, fmt.Sprintf("/?cap=%d", 150+i*7%200), "X-Moving", "1")
			moves = append(moves, float64(time.Since(at).Milliseconds()))
		}
		if _, err := c.climbed(context.Background(), askOf(b, c, "")); err != nil {
			b.Fatal(err)
		}
		b.ReportMetric(opened.Seconds(), "s-open")
		b.ReportMetric(first.Seconds(), "s-first-page")
		b.ReportMetric(time.Since(begun).Seconds(), "s-ladder")
		if len(moves) > 0 {
			b.ReportMetric(part(moves, 1), "ms-early-move-most")
			b.ReportMetric(part(moves, 0.5), "ms-early-move-p50")
		}
		_ = c.Close()
	}
}
