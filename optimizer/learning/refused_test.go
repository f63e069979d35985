package learning

import (
	"strings"
	"testing"

	"loudfor/model/cabin"
)

// What cannot be studied is refused with the number of the reading.
func TestWhatCannotBeStudied(t *testing.T) {
	body, good := cabin.Bodies()[0], Reading{Hz: 40, DB: 120}
	with := func(change func(*Reading)) []Reading {
		r := good
		change(&r)
		return []Reading{good, r}
	}
	for _, c := range []struct {
		readings []Reading
		cases    int
		says     string // empty: fine
	}{
		{nil, 0, "no build was metered"}, {[]Reading{good}, 1, ""}, {nil, 1, ""},
		{with(func(r *Reading) { r.Case = 1 }), 1, "reading 2: there is no build 2"}, {with(func(r *Reading) { r.Case = 1 }), 2, ""},
		{with(func(r *Reading) { r.Case = -1 }), 1, "reading 2: there is no build 0"},
		{with(func(r *Reading) { r.Hz = 0 }), 1, "reading 2: 120 dB at 0 Hz cannot be"}, {with(func(r *Reading) { r.DB = 0 }), 1, "reading 2: 0 dB at 40 Hz cannot be"},
		{with(func(r *Reading) { r.Hz = 0.5 }), 1, ""}, {with(func(r *Reading) { r.DB = 0.5 }), 1, ""},
		{with(func(r *Reading) { r.Hz = mostHz }), 1, ""}, {with(func(r *Reading) { r.Hz = mostHz * 1.001 }), 1, "cannot be"},
		{with(func(r *Reading) { r.DB = mostDB }), 1, ""}, {with(func(r *Reading) { r.DB = mostDB * 1.001 }), 1, "cannot be"},
		{with(func(r *Reading) { r.Tolerance = -1 }), 1, "reading 2: a negative value"}, {with(func(r *Reading) { r.Volts = -1 }), 1, "a negative value"},
		{with(func(r *Reading) { r.Amps = -1 }), 1, "a negative value"}, {with(func(r *Reading) { r.Supply = -1 }), 1, "a negative value"},
	} {
		s, err := NewStudy(body, 20, make([]Case, c.cases), c.readings)
		if c.says == "" && (err != nil || s.Readings != nil && s.Readings[0].Tolerance != UsualTolerance) || c.says != "" && (err == nil || !strings.Contains(err.Error(), c.says)) {
			t.Errorf("%+v, %d builds: %v, want %q", c.readings, c.cases, err, c.says)
		}
	}
}
