package catalog

import (
	"strings"
	"testing"

	"loudfor/model/cabin"
)

func TestPlaceAsPoint(t *testing.T) {
	body, _ := cabin.BodyNamed("small sedan")
	known := len(body.Places)
	for _, c := range []struct {
		place, trouble string
		want           cabin.Point
	}{
		{place: "120 x 40 x 90 cm", want: cabin.Point{X: 1.2, Y: 0.4, Z: 0.9}},
		{place: "1.2 0.4 0.9 m", want: cabin.Point{X: 1.2, Y: 0.4, Z: 0.9}},
		{place: "120 x 40 cm", trouble: "has no place called"},
		{place: "120 x 40 x 190 cm", trouble: "lies outside"},
	} {
		b := DefaultBrief()
		b.Vehicle, b.Place = "small sedan", c.place
		v, report := CheckBrief(b, nil, nil)
		err := report.Err()
		if c.trouble != "" {
			if err == nil || !strings.Contains(err.Error(), c.trouble) {
				t.Errorf("%s: %v, want %q", c.place, err, c.trouble)
			}
			continue
		}
		if err != nil {
			t.Errorf("%s: %v", c.place, err)
			continue
		}
		p, ok := v.Body.Place(c.place)
		near := func(a, b float64) bool { return a-b < 1e-9 && b-a < 1e-9 }
		if !ok || !near(p.X, c.want.X) || !near(p.Y, c.want.Y) || !near(p.Z, c.want.Z) {
			t.Errorf("%s: %v, want %v", c.place, p, c.want)
		}
		if again, _ := cabin.BodyNamed("small sedan"); len(again.Places) != known {
			t.Errorf("%s changed the body style", c.place)
		}
	}
}
