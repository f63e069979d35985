package catalog

import (
	"bytes"
	"fmt"
	"runtime"
	"testing"
	"testing/fstest"
)

// shelf writes a catalogue of n parts: a third drivers, a third amplifiers
// with two ratings, a third boxes.
func shelf(n int) []byte {
	var b bytes.Buffer
	b.WriteString("parts:\n")
	for i := range n {
		switch i % 3 {
		case 0:
			fmt.Fprintf(&b, "  - sku: TM-%05d\n    kind: subwoofer\n    name: Tamsel 12-inch value\n    price: %d.00 USD\n    size: 12 in\n    coils: 2 x 4 ohm\n    rms: 250 W\n    fs: 31 Hz\n    qts: 0.60\n    vas: 58 L\n    xmax: 9 mm\n", i, 20+i%300)
		case 1:
			fmt.Fprintf(&b, "  - sku: OR-%05d\n    kind: amplifier\n    price: 99.00 USD\n    channels: 4\n    class: AB\n    fuse: 30 A\n    ratings:\n      - {mode: stereo, load: 4 ohm, watts: 50, basis: standard}\n      - {mode: bridged, load: 4 ohm, watts: 150, basis: standard}\n    high_pass: true\n", i)
		case 2:
			fmt.Fprintf(&b, "  - sku: KE-%05d\n    kind: enclosure\n    price: 42.00 USD\n    type: sealed\n    holes: 1 x 12 in\n    volume: 0.85 ft3\n    outside: 38 x 36 x 33 cm\n", i)
		}
	}
	return b.Bytes()
}

// BenchmarkLoad reads 10,000 parts. peak_MB is the heap just after loading,
// before anything is collected.
func BenchmarkLoad(b *testing.B) {
	files := fstest.MapFS{"parts.yaml": {Data: shelf(10_000)}}
	b.SetBytes(int64(len(files["parts.yaml"].Data)))
	b.ReportAllocs()
	var peak uint64
	for b.Loop() {
		c, report := LoadFS(files, []string{"parts.yaml"})
		if report.Err() != nil || len(c.Parts) != 10_000 {
			b.Fatal(report.Err())
		}
		var m runtime.MemStats
		runtime.ReadMemStats(&m)
		peak = max(peak, m.HeapSys)
		runtime.KeepAlive(c)
	}
	b.ReportMetric(float64(peak)/(1<<20), "peak_MB")
}
