package readings

import (
	"testing"

	"loudfor/catalog/internal/plausible"
)

// Files of readings that are nearly right: the keys of the reader's own table, values
// at and beyond their bounds.
func FuzzPlausibleReadings(f *testing.F) {
	plausible.Seed(f)
	keys := Reference()
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
