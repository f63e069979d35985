package prices

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"pgregory.net/rapid"

	"loudfor/catalog"
)

// shop is a catalogue of three parts: one at A, one at B without a stated
// stock, one whose shop is not stated.
func shop() *catalog.Catalogue {
	part := func(sku, store string, minor int64, stock int) *catalog.Part {
		return &catalog.Part{SKU: sku, Kind: catalog.KindConverter, Store: store, Price: usd(minor), Priced: true, Stock: stock, Limit: catalog.Unlimited,
			Converter: &catalog.LineConverter{Channels: 2}}
	}
	owned := part("OWN", "", 0, catalog.Unlimited)
	owned.Price, owned.Priced = catalog.Money{}, false
	return catalog.New("USD", []*catalog.Part{part("ONE", "A", 4000, 3), part("TWO", "B", 9900, catalog.Unlimited), part("FREE", "", 1000, 1), owned})
}

func list(t testing.TB, text string) *List {
	t.Helper()
	l, report := Read("list.csv", []byte("SKU,store,price,stock,date\n"+text), Options{Currency: "USD"})
	if err := report.Err(); err != nil {
		t.Fatal(err)
	}
	return l
}

func TestLayer(t *testing.T) {
	for name, c := range map[string]struct {
		lists []string
		o     Layering
		want  []string // "SKU: old -> new (day)"
	}{
		"nothing":            {nil, Layering{}, nil},
		"same":               {[]string{"ONE,A,40.00,3,2025-05-09\n"}, Layering{}, nil},
		"price":              {[]string{"ONE,A,35,,2025-05-09\n"}, Layering{}, []string{"ONE: 40.00 USD at A, 3 in stock -> 35.00 USD at A, 3 in stock (2025-05-09)"}},
		"out of stock":       {[]string{"ONE,,,0,2025-05-09\n"}, Layering{}, []string{"ONE: 40.00 USD at A, 3 in stock -> 40.00 USD at A, out of stock (2025-05-09)"}},
		"latest wins":        {[]string{"ONE,a,35,,2025-05-09\nONE,A,33,,2025-05-11\n", "ONE,A,37,5,2025-05-10\n"}, Layering{}, []string{"ONE: 40.00 USD at A, 3 in stock -> 33.00 USD at A, 5 in stock (2025-05-11)"}},
		"as of":              {[]string{"ONE,A,35,,2025-05-09\nONE,A,33,,2025-05-11\n"}, Layering{AsOf: Date{2025, 5, 10}}, []string{"ONE: 40.00 USD at A, 3 in stock -> 35.00 USD at A, 3 in stock (2025-05-09)"}},
		"as of that day":     {[]string{"ONE,A,33,,2025-05-11\n"}, Layering{AsOf: Date{2025, 5, 11}}, []string{"ONE: 40.00 USD at A, 3 in stock -> 33.00 USD at A, 3 in stock (2025-05-11)"}},
		"not yet":            {[]string{"ONE,A,33,,2025-05-11\n"}, Layering{AsOf: Date{2025, 5, 10}}, nil},
		"dearer elsewhere":   {[]string{"ONE,B,45,,2025-05-09\n"}, Layering{}, []string{"ONE: 40.00 USD at A, 3 in stock -> 40.00 USD at A, 3 in stock; 45.00 USD at B (2025-05-09)"}},
		"cheaper elsewhere":  {[]string{"ONE,B,35,2,2025-05-09\n"}, Layering{}, []string{"ONE: 40.00 USD at A, 3 in stock -> 35.00 USD at B, 2 in stock; 40.00 USD at A, 3 in stock (2025-05-09)"}},
		"elsewhere is far":   {[]string{"ONE,B,35,2,2025-05-09\n"}, Layering{Stores: []string{"a"}}, []string{"ONE: 40.00 USD at A, 3 in stock -> 40.00 USD at A, 3 in stock; 35.00 USD at B, 2 in stock (2025-05-09)"}},
		"only elsewhere":     {[]string{"ONE,B,45,2,2025-05-09\n"}, Layering{Stores: []string{"B"}}, []string{"ONE: 40.00 USD at A, 3 in stock -> 45.00 USD at B, 2 in stock; 40.00 USD at A, 3 in stock (2025-05-09)"}},
		"sold out here":      {[]string{"ONE,B,45,,2025-05-09\nONE,A,,0,2025-05-09\n"}, Layering{}, []string{"ONE: 40.00 USD at A, 3 in stock -> 45.00 USD at B; 40.00 USD at A, out of stock (2025-05-09)"}},
		"cheap but sold out": {[]string{"ONE,B,5,0,2025-05-09\n"}, Layering{}, []string{"ONE: 40.00 USD at A, 3 in stock -> 40.00 USD at A, 3 in stock; 5.00 USD at B, out of stock (2025-05-09)"}},
		"equal elsewhere":    {[]string{"ONE,B,40,9,2025-05-09\n"}, Layering{}, []string{"ONE: 40.00 USD at A, 3 in stock -> 40.00 USD at A, 3 in stock; 40.00 USD at B, 9 in stock (2025-05-09)"}},
		"stock elsewhere":    {[]string{"ONE,B,,0,2025-05-09\n"}, Layering{}, nil},
		"new shop":           {[]string{"TWO,C,98,,2025-05-09\n"}, Layering{}, []string{"TWO: 99.00 USD at B -> 98.00 USD at C; 99.00 USD at B (2025-05-09)"}},
		"shop not stated":    {[]string{"FREE,B,12,,2025-05-09\n"}, Layering{}, []string{"FREE: 10.00 USD, 1 in stock -> 12.00 USD at B (2025-05-09)"}},
		"of two shops":       {[]string{"FREE,B,12,,2025-05-09\nFREE,A,11,,2025-05-08\n"}, Layering{}, []string{"FREE: 10.00 USD, 1 in stock -> 11.00 USD at A; 12.00 USD at B (2025-05-09)"}},
		"stock of no shop":   {[]string{"FREE,B,,0,2025-05-09\n"}, Layering{}, []string{"FREE: 10.00 USD, 1 in stock -> 10.00 USD, out of stock (2025-05-09)"}},
		"latest of shops":    {[]string{"FREE,A,,0,2025-05-09\nFREE,B,,5,2025-05-08\n"}, Layering{}, []string{"FREE: 10.00 USD, 1 in stock -> 10.00 USD, out of stock (2025-05-09)"}},
		"by shop and day": {[]string{"ONE,B,35,,2025-05-09\nONE,A,38,,2025-05-10\n", "ONE,B,37,2,2025-05-11\nONE,C,39,,2025-05-08\n"}, Layering{},
			[]string{"ONE: 40.00 USD at A, 3 in stock -> 37.00 USD at B, 2 in stock; 38.00 USD at A, 3 in stock; 39.00 USD at C (2025-05-11)"}},
		"by shop, as of":  {[]string{"ONE,B,35,,2025-05-09\nONE,B,37,2,2025-05-11\n"}, Layering{AsOf: Date{2025, 5, 10}}, []string{"ONE: 40.00 USD at A, 3 in stock -> 35.00 USD at B; 40.00 USD at A, 3 in stock (2025-05-09)"}},
		"first price":     {[]string{"OWN,,15,,2025-05-09\n"}, Layering{}, []string{"OWN: no price -> 15.00 USD (2025-05-09)"}},
		"two lists agree": {[]string{"ONE,A,35,,2025-05-09\n", "ONE,,35,,2025-05-09\n"}, Layering{}, []string{"ONE: 40.00 USD at A, 3 in stock -> 35.00 USD at A, 3 in stock (2025-05-09)"}},
		"sorted":          {[]string{"TWO,B,1,,2025-05-09\nONE,A,1,,2025-05-09\n"}, Layering{}, []string{"ONE: 40.00 USD at A, 3 in stock -> 1.00 USD at A, 3 in stock (2025-05-09)", "TWO: 99.00 USD at B -> 1.00 USD at B (2025-05-09)"}},
	} {
		t.Run(name, func(t *testing.T) {
			old := shop()
			var lists []*List
			for _, text := range c.lists {
				lists = append(lists, list(t, text))
			}
			got, changes, report := Layer(old, c.o, lists...)
			if err := report.Err(); err != nil {
				t.Fatal(err)
			}
			var words []string
			for _, ch := range changes {
				words = append(words, fmt.Sprintf("%s: %s -> %s (%s)", ch.SKU, ch.Old, ch.New, ch.Date))
				p := got.Part(ch.SKU)
				if !OffersOf(p).same(ch.New) || ch.Where.File != "list.csv" {
					t.Errorf("the change %+v is not in the catalogue", ch)
				}
			}
			if diff := cmp.Diff(c.want, words); diff != "" {
				t.Error(diff)
			}
			if diff := cmp.Diff(shop(), old, cmpopts.IgnoreUnexported(catalog.Catalogue{})); diff != "" {
				t.Errorf("the old catalogue changed: %s", diff)
			}
			if len(got.Parts) != len(old.Parts) || got == old {
				t.Error("the new catalogue is not one of its own")
			}
		})
	}
}

func TestLayerBad(t *testing.T) {
	for name, c := range map[string]struct {
		lists []string
		want  []string
	}{
		"unknown":  {[]string{"ONEE,A,1,,2025-05-09\nQUITE-ELSE,A,1,,2025-05-09\n"}, []string{`2:1 no part has the SKU "ONEE" | did you mean "ONE"`, `3:1 no part has the SKU "QUITE-ELSE" | add the part`}},
		"currency": {[]string{"ONE,A,1 EUR,,2025-05-09\nTWO,B,3 USD,,2025-05-09\n"}, []string{"2:1 ONE costs 1.00 EUR, but the catalogue is in USD | one currency"}},
		"one day":  {[]string{"ONE,A,1,,2025-05-09\n", "ONE,,2,,2025-05-09\n"}, []string{"2:1 two prices for ONE at A on 2025-05-09: 1.00 USD and 2.00 USD | right"}},
	} {
		var lists []*List
		for _, text := range c.lists {
			lists = append(lists, list(t, text))
		}
		got, changes, report := Layer(shop(), Layering{Strict: true}, lists...)
		if got != nil || changes != nil {
			t.Errorf("%s: something was applied", name)
		}
		same(t, name, report, c.want)
	}
	_, _, report := Layer(catalog.New("USD", []*catalog.Part{{SKU: "ONE", Store: "Dock Street", Stock: 1, Limit: 1}}), Layering{}, list(t, "ONE,Dok Street,1,,2025-05-09\nONE,dok street,2,,2025-05-10\n"))
	if len(report.Problems) != 1 || report.Problems[0].Severity != catalog.Warning || !strings.Contains(report.Problems[0].Detail, `did you mean "Dock Street"`) {
		t.Errorf("%+v", report.Problems)
	}
}

// The order of lists and of their rows means nothing, and layering what is
// already there changes nothing.
func TestLayerLaws(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 2))
		var rows []Entry
		for range 1 + r.IntN(20) {
			e := Entry{SKU: []string{"ONE", "TWO", "FREE", "OWN"}[r.IntN(4)], Store: []string{"", "A", "B", "C"}[r.IntN(4)], Stock: r.IntN(4) - 1, Date: Date{2025, 5, 1 + r.IntN(6)}}
			if e.Priced = r.IntN(3) > 0; e.Priced {
				e.Price = usd(int64(1000 * (1 + r.IntN(12))))
			}
			e.Where = catalog.Position{File: "l", Line: len(rows) + 1, Column: 1}
			rows = append(rows, e)
		}
		o := Layering{}
		if r.IntN(2) == 0 {
			o.AsOf = Date{2025, 5, 1 + r.IntN(6)}
		}
		if r.IntN(3) == 0 {
			o.Stores = []string{"A", "C"}
		}
		first, changes, report := Layer(shop(), o, &List{Entries: rows})
		if report.Err() != nil {
			return
		}
		mixed := slices.Clone(rows)
		r.Shuffle(len(mixed), func(i, j int) { mixed[i], mixed[j] = mixed[j], mixed[i] })
		cut := r.IntN(len(mixed) + 1)
		second, again, report := Layer(shop(), o, &List{Entries: mixed[:cut]}, &List{Entries: mixed[cut:]})
		if report.Err() != nil {
			t.Fatal(report.Err())
		}
		if diff := cmp.Diff(changes, again); diff != "" {
			t.Fatalf("another order: %s", diff)
		}
		if diff := cmp.Diff(first.Parts, second.Parts); diff != "" {
			t.Fatalf("another order: %s", diff)
		}
		for _, ch := range changes {
			if !ch.New.Priced && ch.Old.Priced || !o.AsOf.IsZero() && ch.Date.Compare(o.AsOf) > 0 {
				t.Fatalf("%+v", ch)
			}
		}
	})
}

// The rows that are about known parts count, the others are named with the
// nearest part; of thousands the first few.
func TestStrangersAreLeftOut(t *testing.T) {
	c := catalog.New("USD", []*catalog.Part{{SKU: "ONE", Name: "the first", Price: usd(500), Priced: true, Stock: catalog.Unlimited, Limit: catalog.Unlimited}})
	rows := "ONE,,4,,2025-05-09\nONEE,,3,,2025-05-09\n"
	for i := range 500 {
		rows += fmt.Sprintf("OTHER-%d,,3,,2025-05-09\n", i)
	}
	newer, changes, report := Layer(c, Layering{}, list(t, rows))
	if report.Err() != nil || len(changes) != 1 || newer.Part("ONE").Price != usd(400) {
		t.Fatalf("%v, %+v", report.Err(), changes)
	}
	if n := report.Count(catalog.Warning); n != mostSuggestions || report.More != 501-mostSuggestions {
		t.Errorf("%d warnings, %d more", n, report.More)
	}
	if p := report.Problems[0]; p.Summary != `left out: no part has the SKU "ONEE"` || !strings.Contains(p.Detail, `did you mean "ONE" (the first)?`) {
		t.Errorf("%+v", p)
	}
}

// A day that the options state is never taken in silence.
func TestUndated(t *testing.T) {
	day := Date{Year: 2025, Month: 5, Day: 9}
	l, report := Read("l.csv", []byte("SKU,price,date\nA,1 USD,\nB,2 USD,2025-05-01\n"), Options{Date: day})
	if report.Err() != nil || l.Undated != 1 || l.Entries[0].Date != day || l.Entries[1].Date == day {
		t.Errorf("%v, %+v", report.Err(), l)
	}
	for _, text := range []string{"SKU,price\nA,1 USD\n", "SKU,price,date\nA,1 USD,\n"} {
		if _, report := Read("l.csv", []byte(text), Options{}); report.Err() == nil || !strings.Contains(report.Problems[0].Detail, "--date 2025-03-09") {
			t.Errorf("%+v", report)
		}
	}
}
