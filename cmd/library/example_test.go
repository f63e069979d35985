package library_test

import (
	"context"
	"fmt"
	"os"
	"path/filepath"

	"loudfor/catalog"
	"loudfor/cmd/library"
)

// A catalogue is opened once and asked many questions.
func ExampleLibrary() {
	dir, err := os.MkdirTemp("", "shelf")
	if err != nil {
		panic(err)
	}
	defer os.RemoveAll(dir)
	name := filepath.Join(dir, "parts.yaml")
	if err := os.WriteFile(name, []byte(parts), 0o600); err != nil {
		panic(err)
	}

	var l library.Library
	shelf, err := l.Open(name)
	if err != nil {
		panic(err)
	}
	for _, cap := range []int64{15000, 40000} {
		brief := catalog.DefaultBrief()
		brief.Vehicle, brief.Cap = "small sedan", catalog.Money{Minor: cap, Currency: "USD"}
		brief.Owned = []catalog.Mention{{SKU: "HU-1", Count: 1}}
		a, err := shelf.Ask(context.Background(), brief, nil)
		if err != nil {
			panic(err)
		}
		fmt.Printf("%s: %s [%s]\n", brief.Cap, a.Outcome, a.Build())
	}
	// Output:
	// 150.00 USD: infeasible []
	// 400.00 USD: optimal [A-1; B-1; D-1; HU-1; K-1]
}

const parts = `parts:
  - {sku: HU-1, kind: source, pre_outs: 1, power: 4 x 15 W, load: 4 ohm}
  - {sku: D-1, kind: subwoofer, price: 80 USD, size: 12 in, coils: 2 x 4 ohm, rms: 250 W, fs: 31 Hz, qts: 0.60, vas: 58 L, xmax: 9 mm}
  - {sku: B-1, kind: enclosure, price: 60 USD, type: sealed, holes: 1 x 12 in, volume: 24 L, outside: 38 x 36 x 33 cm}
  - {sku: A-1, kind: amplifier, price: 120 USD, channels: 1, class: D, ratings: [{mode: mono, load: 2 ohm, watts: 300, basis: measured}]}
  - {sku: K-1, kind: wiring kit, price: 40 USD, gauge: 8 AWG, length: 5 m, fuse: 40 A}
`
