package book_test

import (
	"context"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"time"

	"loudfor/catalog"
	"loudfor/catalog/book"
	"loudfor/catalog/demo"
)

// A quote is printed again as it was, and the catalogue that it came from is
// still there.
func Example() {
	dir, err := os.MkdirTemp("", "example")
	if err != nil {
		fmt.Println(err)
		return
	}
	defer os.RemoveAll(dir)
	clock := func() time.Time { return time.Date(2025, 5, 9, 12, 0, 0, 0, time.UTC) }
	b, err := book.Open(filepath.Join(dir, "book.db"), book.Options{Now: clock, Create: true})
	if err != nil {
		fmt.Println(err)
		return
	}
	defer b.Close()
	parts, _ := catalog.LoadFS(demo.FS, []string{demo.Parts})
	ctx := context.Background()
	job, err := b.AddJob(ctx, book.Job{Brief: "name: Rosa\ncap: 250 USD\nvehicle: small sedan\n"}, book.Quote{
		QuoteSummary: book.QuoteSummary{Objective: "reading", Level: 131.2, Price: catalog.Money{Minor: 24_995, Currency: "USD"}, Lines: []book.Line{{SKU: "TM-12V", Count: 2}}},
		Catalogue:    parts, Answer: json.RawMessage(`{"level": 131.2}`), Printed: "131.2 dB for 249.95 USD\n",
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	q, err := b.LatestQuote(ctx, job)
	fmt.Print(q.Printed, q.Quoted.Format(time.DateOnly), " ", err, "\n")
	then, err := b.Catalogue(ctx, q.Hash)
	fmt.Println(then.Part("TM-12V").Price == parts.Part("TM-12V").Price, err)
	// Output:
	// 131.2 dB for 249.95 USD
	// 2025-05-09 <nil>
	// true <nil>
}
