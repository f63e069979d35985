package readings

import (
	"math/rand/v2"
	"testing"

	"loudfor/catalog"
	"loudfor/catalog/internal/plausible"
)

// Files of readings that are nearly right: the keys of the reader's own table, values
// at and beyond their bounds.
func FuzzPlausibleReadings(f *testing.F) {
	for seed := range uint64(12) {
		g := rand.New(rand.NewPCG(seed, 0x72656164))
		data := make([]byte, 20*seed)
		for i := range data {
			data[i] = byte(g.UintN(256))
		}
		f.Add(data)
	}
	keys := catalog.KeysOf(Reference())
	f.Fuzz(func(t *testing.T, data []byte) {
		text := plausible.New(data).Keys(keys)
		list, report := Read("readings.yaml", []byte(text))
		if (report.Err() == nil) != (len(list) > 0) {
			t.Fatalf("%d readings with the error %v\n%s", len(list), report.Err(), text)
		}
		for _, p := range report.Problems {
			if p.Summary == "" || p.Where.File != "readings.yaml" {
				t.Fatalf("%+v", p)
			}
		}
		for i := range list {
			if r := &list[i]; !(r.Frequency > 0) || !(r.Level > 0) {
				t.Fatalf("%+v", r)
			}
		}
	})
}
