package counter

import (
	"fmt"
	"net/http"
	"net/url"
	"os"
	"runtime"
	"runtime/pprof"
	"testing"

	"loudfor/cmd/internal/inputs"
)

// What ten minutes of clicking hold at 10,000 parts: budgets, rules, builds,
// quotes, why nots, comparisons, each another one. The live heap after it is the
// figure that counts, beside what the answers are reckoned to hold.
func BenchmarkKept(b *testing.B) {
	file := manyParts(b, 10_000)
	c, err := Open(Options{Request: inputs.Request{Catalog: []string{file}, Cap: "250 USD", Openings: "doors open"}, Now: noon, Seed: 1})
	if err != nil {
		b.Fatal(err)
	}
	defer c.Close()
	begun := heap()
	most, i := uint64(0), 0
	for b.Loop() {
		i++
		cap := fmt.Sprint(120 + i*7%280)
		q := askOf(b, c, "cap="+cap)
		r, err := c.ranking(b.Context(), q)
		if err != nil || len(r.Builds) < 2 {
			b.Fatal(err, len(r.Builds))
		}
		one, two := url.QueryEscape(codeOf(r.Builds[0].Lines)), url.QueryEscape(codeOf(r.Builds[1].Lines))
		for _, address := range []string{"/?cap=" + cap, "/build?cap=" + cap + "&parts=" + one, "/versus?cap=" + cap + "&v=" + one + "&v=" + two,
			"/why?cap=" + cap + "&part=" + url.QueryEscape(q.Catalogue.Parts[i*37%len(q.Catalogue.Parts)].SKU), fmt.Sprintf("/?cap=%s&boxes=%d", cap, 1+i%3)} {
			if status, page := get(b, c, address); status != http.StatusOK {
				b.Fatalf("%s: %d %.300s", address, status, page)
			}
		}
		if i%10 == 0 {
			most = max(most, heap())
		}
	}
	most = max(most, heap())
	if file := os.Getenv("LOUDFOR_HEAP"); file != "" {
		f, err := os.Create(file)
		if err != nil {
			b.Fatal(err)
		}
		_ = pprof.WriteHeapProfile(f)
		f.Close()
	}
	var m runtime.MemStats
	runtime.ReadMemStats(&m)
	b.ReportMetric(float64(begun)/1e6, "MB-begun")
	b.ReportMetric(float64(most)/1e6, "MB-heap")
	b.ReportMetric(float64(m.Sys-m.HeapReleased)/1e6, "MB-held")
	b.ReportMetric(float64(c.kept.bytes())/1e6, "MB-kept")
}
