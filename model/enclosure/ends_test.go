package enclosure

import (
	"strings"
	"testing"

	"loudfor/model/air"
)

// What is on the border of what can be, and just beyond.
func TestPortsAndAirAtTheirEnds(t *testing.T) {
	d, a := twelve(t), air.At(20)
	good := func() Box {
		return Box{Kind: Vented, Drivers: 1, Volume: 0.05, Port: Port{Count: 1, Diameter: 0.1, Length: 0.2, FlangedEnds: 1}}
	}
	for name, c := range map[string]struct {
		change func(*Box, *air.Air)
		fine   bool
	}{
		"no flange":          {func(b *Box, _ *air.Air) { b.Port.FlangedEnds = 0 }, true},
		"two flanges":        {func(b *Box, _ *air.Air) { b.Port.FlangedEnds = 2 }, true},
		"three flanges":      {func(b *Box, _ *air.Air) { b.Port.FlangedEnds = 3 }, false},
		"a flange less":      {func(b *Box, _ *air.Air) { b.Port.FlangedEnds = -1 }, false},
		"no port of its own": {func(b *Box, _ *air.Air) { b.Port, b.Tuning = Port{}, 1000 }, true},
		"tuned too high":     {func(b *Box, _ *air.Air) { b.Port, b.Tuning = Port{}, 1000.1 }, false},
		"no ports":           {func(b *Box, _ *air.Air) { b.Port.Count = 0 }, false},
		"thin air":           {func(_ *Box, a *air.Air) { a.Density = 0.5 }, true},
		"no air":             {func(_ *Box, a *air.Air) { a.Density = 0 }, false},
		"slow air":           {func(_ *Box, a *air.Air) { a.SoundSpeed = 0.5 }, true},
		"still air":          {func(_ *Box, a *air.Air) { a.SoundSpeed = 0 }, false},
	} {
		b, medium := good(), a
		c.change(&b, &medium)
		if _, err := b.Circuit(d, 0, medium); (err == nil) != c.fine {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// A port at rest is at rest.
func TestNoFlowAtRest(t *testing.T) {
	b := Box{Kind: Vented, Drivers: 1, Volume: 0.05, Port: Port{Count: 1, Diameter: 0.1, Length: 0.2, FlangedEnds: 1}}
	c, err := b.Circuit(twelve(t), 0, air.At(20))
	if err != nil {
		t.Fatal(err)
	}
	var l Load
	c.Load(200, 0, &l)
	if a, b := l.Flow(0), l.FlowNear(0, 0.01); a != 0 || b != 0 {
		t.Errorf("%g and %g m3/s", a, b)
	}
}

// A doubt names the volume in litres.
func TestDoubtInLitres(t *testing.T) {
	b := Box{Kind: Vented, Drivers: 1, Volume: 0.012, Tuning: 18}
	if said := b.PortDoubt(air.At(20)); !strings.Contains(said, "for 18 Hz, and 12 L have no room for it") {
		t.Error(said)
	}
}
