package counter

import (
	"bytes"
	"context"
	"fmt"
	"io"
	"net/http"
	"os"
	"path/filepath"
	"slices"
	"testing"
	"time"

	"loudfor/catalog"
	"loudfor/catalog/demo"
	"loudfor/cmd/internal/inputs"
)

// manyParts writes the demo's shelf so often over that it holds about n parts:
// every copy has its own SKUs and prices, so that no two are alike, and what is
// cheap in one is dear in another.
func manyParts(b *testing.B, n int) string {
	b.Helper()
	shelf, report := catalog.LoadFS(demo.FS, []string{demo.Parts})
	if err := report.Err(); err != nil {
		b.Fatal(err)
	}
	var parts []*catalog.Part
	for copies := 0; len(parts) < n; copies++ {
		for i, p := range shelf.Parts {
			if !p.Priced && copies > 0 {
				continue
			}
			one := *p
			if copies > 0 {
				one.SKU = fmt.Sprintf("%s-%d", p.SKU, copies)
				// 70 to 170 % of the demo's price, spread evenly (golden ratio).
				_, part := splitTurn(float64(copies*131+i) * 0.6180339887)
				one.Price.Minor = int64(float64(p.Price.Minor)*(0.7+part)) + 1
				one.Stock, one.Limit = catalog.Unlimited, catalog.Unlimited
			}
			parts = append(parts, &one)
		}
	}
	var text bytes.Buffer
	if err := catalog.WriteParts(&text, catalog.New(shelf.Currency, parts)); err != nil {
		b.Fatal(err)
	}
	file := filepath.Join(b.TempDir(), "parts.yaml")
	if err := os.WriteFile(file, text.Bytes(), 0o600); err != nil {
		b.Fatal(err)
	}
	return file
}

func splitTurn(x float64) (whole, part float64) {
	whole = float64(int64(x))
	return whole, x - whole
}

// A move of the budget over HTTP, with all guards, the page rendered whole, at
// 10,000 parts. The 95th percentile is the figure that counts.
func BenchmarkBudgetMove(b *testing.B) {
	for _, parts := range []int{100, 1000, 10_000} {
		b.Run(fmt.Sprintf("parts=%d", parts), func(b *testing.B) {
			file := manyParts(b, parts)
			c, err := Open(Options{Request: inputs.Request{Catalog: []string{file}, Cap: "250 USD", Openings: "doors open"}, Now: noon, Seed: 1})
			if err != nil {
				b.Fatal(err)
			}
			defer c.Close()
			address := serve(b, c)
			began := time.Now()
			r, err := c.climbed(context.Background(), askOf(b, c, ""))
			if err != nil {
				b.Fatal(err)
			}
			climbing := time.Since(began)
			client := &http.Client{}
			defer client.CloseIdleConnections()
			var took []time.Duration
			i := 0
			for b.Loop() {
				ask, err := http.NewRequest(http.MethodGet, fmt.Sprintf("%s/?cap=%d", address, 120+i*7%280), nil)
				if err != nil {
					b.Fatal(err)
				}
				i++
				ask.Header.Set("X-Moving", "1")
				began := time.Now()
				reply, err := client.Do(ask)
				if err != nil {
					b.Fatal(err)
				}
				_, err = io.Copy(io.Discard, reply.Body)
				reply.Body.Close()
				took = append(took, time.Since(began))
				if err != nil || reply.StatusCode != http.StatusOK {
					b.Fatal(reply.StatusCode, err)
				}
			}
			slices.Sort(took)
			b.ReportMetric(climbing.Seconds(), "s/ladder")
			b.ReportMetric(float64(len(r.Steps)), "steps")
			b.ReportMetric(float64(took[len(took)*95/100].Microseconds())/1e3, "ms-p95")
		})
	}
}
