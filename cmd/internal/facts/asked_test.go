package facts

import (
	"strings"
	"testing"

	"loudfor/catalog"
	"loudfor/optimizer"
	"loudfor/optimizer/advice"
	"loudfor/optimizer/setting"
	"loudfor/optimizer/uncertainty"
)

// The five questions, each worded once; what is not known has no line.
func TestAsked(t *testing.T) {
	b := optimizer.Build{Reading: optimizer.Reading{DB: 130, Band: 5}, Music: optimizer.Music{DB: 104, Band: 3}}
	b.Bass.Boxes = 1
	a := &advice.Asked{
		Lights: &advice.Lights{Idle: 14.4, Note: advice.Sag{Volts: 12.5, Dip: 1.9, Band: 0.4}, Music: advice.Sag{Volts: 14.4}, Quieter: 1.21, Alternator: 103.2},
		Room:   &setting.Left{Taken: catalog.Size3{Width: 0.5, Depth: 0.4, Height: 0.3}, Free: catalog.Size3{Width: 0.45, Depth: 0.5, Height: 0.6}, Where: "beside"},
		Low:    &advice.Low{Hz: 31.2, Band: 2.4, Place: "headrest", Tuning: 36.8},
		Windows: []uncertainty.Expected{{Spot: uncertainty.Spot{Place: "dash", Openings: "shut"}, Band: 4},
			{Spot: uncertainty.Spot{Place: "dash", Openings: "doors open"}, Band: 5}},
		Before: &optimizer.Front{DB: 98, Band: 6},
	}
	a.Windows[0].Level, a.Windows[1].Level = 131, 127
	want := []string{
		"lights: On a full bass note the battery falls from 14.4 to 12.5 V (by 1.9 +/- 0.4 V, engine idling): lamps visibly dim. In music it does not fall. What mends it: 1.3 dB less volume, or an alternator of 104 A. Nothing else in this catalogue does.",
		"room: 45 x 50 x 60 cm (wide, deep, high) stay free beside the box, which takes 50 x 40 x 30 cm.",
		"how low: Down to 31 +/- 2 Hz at the headrest, shut: there it is 6 dB below the middle of the bass, 50 Hz. Loud only down to 37 Hz, where the port is tuned.",
		"windows: On the meter at the dash, 131.0 +/- 4.0 dB shut, 127.0 +/- 5.0 dB doors open.",
		"before: Today no bass and music at 98.0 +/- 6.0 dB; then 130.0 +/- 5.0 dB on the meter and music at 104.0 +/- 3.0 dB.",
	}
	for i, got := range Asked(Terminal{}, b, a) {
		if line := got.Name + ": " + got.Words; line != want[i] {
			t.Errorf("%s\nwant %s", line, want[i])
		}
	}
	if n := len(Asked(Terminal{}, b, &advice.Asked{})); n != 0 {
		t.Errorf("%d lines of nothing", n)
	}
	// How sure it is that lamps dim, on either side of half a volt.
	for _, c := range []struct {
		dip, band float64
		want      string
	}{{0.6, 0.1, "visibly dim"}, {0.6, 0.2, "probably dim"}, {0.4, 0.2, "may dim"}, {0.4, 0.05, "do not visibly dim"}} {
		if got := dims(advice.Sag{Dip: c.dip, Band: c.band}); got != c.want {
			t.Errorf("%g +/- %g V: lamps %s, want %s", c.dip, c.band, got, c.want)
		}
	}
	// Without a fault nothing is mended.
	a.Lights.Note = advice.Sag{Volts: 14.3, Dip: 0.1}
	if text := Asked(Terminal{}, b, a)[0].Words; strings.Contains(text, "mends") {
		t.Error(text)
	}
}
