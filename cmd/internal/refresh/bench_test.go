package refresh

import (
	"bytes"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"testing"

	"loudfor/catalog"
	"loudfor/catalog/plan"
	"loudfor/optimizer/testing/generate"
)

// shelves writes a chain of generated shops, each of whose rows is with a chance of 2 %
// dearer or out of stock than at the centre, and again so on every day after the first.
type shelves struct {
	folder       string
	shops, parts int
	days         int
}

func (s *shelves) write(t testing.TB, name string, c *catalog.Catalogue) {
	t.Helper()
	var b bytes.Buffer
	err := catalog.WriteParts(&b, c)
	if err == nil {
		name = filepath.Join(s.folder, name)
		err = os.MkdirAll(filepath.Dir(name), 0o700)
	}
	if err == nil {
		err = os.WriteFile(name, b.Bytes(), 0o600)
	}
	if err != nil {
		t.Fatal(err)
	}
}

// day writes the shops as they are on the next day.
func (s *shelves) day(t testing.TB) {
	t.Helper()
	s.days++
	for shop := range s.shops {
		c := generate.Catalogue(s.parts, 1, generate.Loose)
		if s.days == 1 && shop == 0 {
			s.write(t, "centre.yaml", c)
		}
		parts := slices.Clone(c.Parts)
		for day := range s.days { // each day's changes on those of the days before
			g := rand.New(rand.NewPCG(uint64(shop), uint64(day)))
			for i, p := range parts {
				switch q := *p; g.IntN(200) {
				case 0:
					q.Stock, parts[i] = 0, &q
				case 1, 2, 3:
					q.Price.Minor += 100 + q.Price.Minor*int64(g.IntN(20))/100
					parts[i] = &q
				}
			}
		}
		s.write(t, fmt.Sprintf("shops/%03d.yaml", shop), catalog.New(c.Currency, parts))
	}
}

// plan asks every shop for some cars, caps and both goals.
func (s *shelves) plan(t testing.TB, cars, caps int, more string) plan.Plan {
	t.Helper()
	text := "vehicles:\n"
	for i := range cars {
		text += fmt.Sprintf("  - {name: car %02d, body: %s, space: %d x %d x %d cm, alternator: %d A}\n", i, []string{"small sedan", "small hatch", "SUV"}[i%3], 90+i%17, 45+i%7, 48+i%9, 80+10*(i%8))
	}
	asked := "catalogues: [shops/*]\nvehicles: [cars.yaml]\ngoals: [reading, music]\n" + more + "caps:\n"
	for i := range caps {
		asked += fmt.Sprintf("  - %d USD\n", 250+i*100)
	}
	for name, text := range map[string]string{"cars.yaml": text, "plan.yaml": asked} {
		if err := os.WriteFile(filepath.Join(s.folder, name), []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	p, report := plan.Load(filepath.Join(s.folder, "plan.yaml"))
	if err := report.Err(); err != nil {
		t.Fatal(err)
	}
	return p
}

// A chain of 1,000 parts a shop: the first refresh, one of the next day, on which 2 % of
// the rows are worse, and one that has nothing to do; CPU time.
func BenchmarkDays(b *testing.B) {
	for _, more := range []string{"", "centre: centre.yaml\n"} {
		b.Run("centre="+fmt.Sprint(more != ""), func(b *testing.B) {
			for b.Loop() {
				s := &shelves{folder: b.TempDir(), shops: 20, parts: 1000}
				s.day(b)
				p := s.plan(b, 2, 6, more)
				took := func() float64 {
					began := cpuTime()
					run(b, p, Options{Workers: 1})
					return (cpuTime() - began).Seconds()
				}
				first := took()
				s.day(b)
				second := took()
				b.ReportMetric(first, "first_s")
				b.ReportMetric(second, "worse_s")
				b.ReportMetric(second/first, "share")
				b.ReportMetric(took(), "same_s")
			}
		})
	}
}
