package prices

import (
	"fmt"
	"strings"
	"testing"

	"loudfor/catalog"
)

// distributor is a catalogue of ten thousand parts and lists of five shops
// with all of them.
func distributor() (*catalog.Catalogue, string) {
	var parts []*catalog.Part
	var b strings.Builder
	b.WriteString("SKU,store,price,stock,date\n")
	for i := range 10_000 {
		sku := fmt.Sprintf("P-%05d", i)
		parts = append(parts, &catalog.Part{SKU: sku, Kind: catalog.KindConverter, Store: "shop 0", Price: usd(5000), Priced: true, Stock: catalog.Unlimited, Limit: catalog.Unlimited, Converter: &catalog.LineConverter{Channels: 2}})
		for s := range 5 {
			fmt.Fprintf(&b, "%s,shop %d,%d.95,%d,2025-05-%02d\n", sku, s, 30+(i+7*s)%40, (i+s)%4, 1+s)
		}
	}
	return catalog.New("USD", parts), b.String()
}

func BenchmarkReadCSV(b *testing.B) {
	_, text := distributor()
	b.SetBytes(int64(len(text)))
	for b.Loop() {
		if _, report := Read("f", []byte(text), Options{Currency: "USD"}); report.Err() != nil {
			b.Fatal(report.Err())
		}
	}
}

func BenchmarkReadXLSX(b *testing.B) {
	rows := [][]any{{"SKU", "price", "stock", "date"}}
	for i := range 10_000 {
		rows = append(rows, []any{fmt.Sprintf("P-%05d", i), 30.95, i % 4, 45786})
	}
	content := workbook(b, map[string][][]any{"S": rows}, nil)
	for b.Loop() {
		if _, report := Read("f", content, Options{Currency: "USD"}); report.Err() != nil {
			b.Fatal(report.Err())
		}
	}
}

func BenchmarkLayer(b *testing.B) {
	c, text := distributor()
	l, report := Read("f", []byte(text), Options{Currency: "USD"})
	if report.Err() != nil {
		b.Fatal(report.Err())
	}
	for b.Loop() {
		if _, changes, report := Layer(c, Layering{}, l); report.Err() != nil || len(changes) == 0 {
			b.Fatal(report.Err(), len(changes))
		}
	}
}

// One part in ever more shops, as a marketplace would list it: the time grows
// with the rows, not with their square.
func BenchmarkShops(b *testing.B) {
	for _, shops := range []int{4_000, 8_000, MostRows - 1} {
		b.Run(fmt.Sprint(shops), func(b *testing.B) {
			var text strings.Builder
			text.WriteString("SKU,store,price,date\n")
			for i := range shops {
				fmt.Fprintf(&text, "P,Shop %06d,%d.95,2025-05-09\n", i, 30+i%40)
			}
			c := catalog.New("USD", []*catalog.Part{{SKU: "P", Kind: catalog.KindConverter, Store: "own", Price: usd(5000), Priced: true, Stock: catalog.Unlimited, Limit: catalog.Unlimited, Converter: &catalog.LineConverter{Channels: 2}}})
			for b.Loop() {
				l, report := Read("f", []byte(text.String()), Options{Currency: "USD"})
				if report.Err() != nil {
					b.Fatal(report.Err())
				}
				if _, changes, report := Layer(c, Layering{}, l); report.Err() != nil || len(changes) != 1 {
					b.Fatal(report.Err(), len(changes))
				}
			}
		})
	}
}
