package bass

import (
	"math"
	"strings"
	"testing"

	"loudfor/model/cabin"
)

// A setup that cannot be is refused by the name of what cannot be.
func TestImpossibleSetups(t *testing.T) {
	for _, c := range []struct {
		name   string
		change func(*Setup, *cabin.Response)
		word   string
	}{
		{"no boxes", func(s *Setup, _ *cabin.Response) { s.Boxes = 0 }, "number of boxes 0"},
		{"no coils", func(s *Setup, _ *cabin.Response) { s.Driver.Coils = 0 }, "voice coils 0"},
		{"no travel", func(s *Setup, _ *cabin.Response) { s.Driver.Xmax = 0 }, "Xmax 0"},
		{"negative compliance", func(s *Setup, _ *cabin.Response) { s.Driver.Cms = -1e-4 }, "Cms -0.0001"},
		{"negative inductance", func(s *Setup, _ *cabin.Response) { s.Driver.Le = -1e-3 }, "inductance"},
		{"Bl not a number", func(s *Setup, _ *cabin.Response) { s.Driver.Bl = math.NaN() }, "Bl NaN"},
		{"box smaller than its driver", func(s *Setup, _ *cabin.Response) { s.Box.Volume = 0.002 }, "net volume"},
		{"no air", func(s *Setup, _ *cabin.Response) { s.Air.Density = 0 }, "density of air"},
		{"no frequencies", func(_ *Setup, r *cabin.Response) { r.Hz = nil }, "no frequencies"},
		{"column cut short", func(_ *Setup, r *cabin.Response) { r.Back = r.Back[:3] }, "different length"},
		{"frequencies fall", func(_ *Setup, r *cabin.Response) { r.Hz[1] = 5 }, "frequency 5 Hz"},
		{"not finite", func(_ *Setup, r *cabin.Response) { r.Transfer[2] = complex(math.Inf(1), 0) }, "not finite"},
	} {
		s, room := setup(sealedBox()), car(Grid())
		c.change(&s, room)
		_, err := Prepare(s, room)
		if err == nil || !strings.Contains(err.Error(), c.word) {
			t.Errorf("%s: %v, want %q in it", c.name, err, c.word)
		}
	}
	if _, err := Prepare(setup(sealedBox()), nil); err == nil {
		t.Error("no room at all is accepted")
	}
}

// 1/24 octave from 20 Hz to just below 120 Hz.
func TestGrid(t *testing.T) {
	g := Grid()
	if len(g) != 63 || g[0] != 20 || g[24] != 40 || g[62] >= 120 || g[62]*math.Exp2(1.0/24) <= 120 {
		t.Errorf("%d points, %v", len(g), g)
	}
}

// Fits tells whether a drive connects every coil exactly once.
func (p *Prepared) Fits(d Drive) bool {
	return d.Outputs > 0 && d.Series > 0 && d.Parallel > 0 &&
		d.Outputs*d.Series*d.Parallel == int(p.coils)
}

// Drivers is how many drivers play, all boxes together.
func (p *Prepared) Drivers() int { return int(p.drivers) }
