package tables

import (
	"os"
	"path/filepath"
	"testing"

	"loudfor/catalog"
)

// Whatever a list holds: it is read or there is a word about it, and what was
// read can be written and read again.
func FuzzRead(f *testing.F) {
	f.Add([]byte(list))
	f.Add([]byte("SKU;kind;price;capacitance\nB-1;bass blocker;3,50 EUR;220 uF\n"))
	f.Add([]byte("name,parts,price,kind\nset,A; B x 2,30 USD,deal\n"))
	f.Add([]byte("sku,kind,gauge (AWG),length [m],price\nK,kit,4,5,$20\n"))
	f.Add([]byte("sku,kind,name,capacitance,store,price,offers,trip\nTM-9,bass blocker,b,220 uF,Gate,5 USD,\"4 USD, 2 pieces, at North Road; 3 USD at Pier\",\n,store,Pier,,,,,3 USD\n"))
	for _, m := range messyLists(f) {
		if content, err := os.ReadFile(filepath.Join("testdata/messy", m.File)); err == nil && m.Encoding != "" {
			f.Add(content)
		}
	}
	f.Fuzz(func(t *testing.T, content []byte) {
		l, report := Read("list.csv", content, Options{Kind: catalog.KindCount, Currency: "USD"})
		if report.Err() != nil {
			return
		}
		if len(l.Parts)+len(l.Deals)+len(l.Stores) == 0 {
			t.Error("nothing, and no word about it")
		}
		u, _ := l.Update("shelf.yaml", []byte(kept))
		if u != nil {
			if _, report := catalog.LoadFS(oneFile(u.Text), []string{"parts.yaml"}); report.Err() != nil && len(u.Added) == 0 {
				t.Errorf("what was written cannot be read: %v\n%s", report.Problems, u.Text)
			}
		}
	})
}

func FuzzMapping(f *testing.F) {
	f.Add([]byte("kind: amplifier\ncolumns: [{name: a, key: rms, unit: W}]"))
	f.Add([]byte("columns:\n  - {name: b, ignore: true}\n  - {name: c, key: ratings, load: 4 ohm}"))
	f.Fuzz(func(t *testing.T, content []byte) {
		m, report := ReadMapping("m.yaml", content)
		if report.Err() == nil {
			Read("list.csv", []byte(list), Options{Kind: catalog.KindCount, Mapping: m})
		}
	})
}
