package optimizer

import (
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"

	"loudfor/catalog"
	"loudfor/optimizer/testing/generate"
)

// The whole program: it starts, reads a generated catalogue of YAML and a brief,
// searches, works out curves and bands, and writes ten builds. Linux counts the
// peak of its memory.

func BenchmarkProcess(b *testing.B) {
	program := filepath.Join(b.TempDir(), "loudfor")
	if out, err := exec.Command("go", "build", "-o", program, "loudfor/cmd/loudfor").CombinedOutput(); err != nil {
		b.Fatalf("%v: %s", err, out)
	}
	for _, s := range []shop{{60, 250}, {3000, 800}, {10000, 250}, {10000, 800}, {10000, 3000}} {
		for _, tightness := range []generate.Tightness{generate.Loose, generate.Tight} {
			b.Run(fmt.Sprintf("parts=%d/cap=%d/%s", s.parts, s.cap, howPriced(tightness)), func(b *testing.B) {
				process(b, program, s, tightness)
			})
		}
	}
}

func process(b *testing.B, program string, s shop, tightness generate.Tightness) {
	folder := b.TempDir()
	var parts strings.Builder
	if err := catalog.WriteParts(&parts, generate.Catalogue(s.parts, 1, tightness)); err != nil {
		b.Fatal(err)
	}
	brief := fmt.Sprintf("cap: %d USD\ntax: 7.5 %%\nvehicle: small sedan\ngoal: reading\nplace: dash\nopenings: shut\nspace: 100 x 50 x 60 cm\n", s.cap)
	for name, text := range map[string]string{"parts.yaml": parts.String(), "brief.yaml": brief} {
		if err := os.WriteFile(filepath.Join(folder, name), []byte(text), 0o600); err != nil {
			b.Fatal(err)
		}
	}
	var most int64
	var cpu time.Duration
	for b.Loop() {
		c := exec.Command(program, "pick", filepath.Join(folder, "brief.yaml"), "--catalog", filepath.Join(folder, "parts.yaml"))
		if out, err := c.CombinedOutput(); err != nil {
			b.Fatalf("%v: %s", err, out)
		}
		cpu += c.ProcessState.UserTime() + c.ProcessState.SystemTime()
		if use, ok := c.ProcessState.SysUsage().(*syscall.Rusage); ok {
			most = max(most, use.Maxrss)
		}
	}
	b.ReportMetric(cpu.Seconds()*1e3/float64(b.N), "cpu-ms/op")
	b.ReportMetric(float64(most)/1024, "peak-MB")
}
