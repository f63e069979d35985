package wiring

import (
	"fmt"
	"testing"

	"loudfor/cmd/internal/browser"
	"loudfor/model/amplifier"
	"loudfor/model/hookup"
)

// labelSlack, in pixels, is how far the boxes of two labels may reach into each
// other: they hold the leading above and below the letters.
const labelSlack = 1.5

// inspect opens a drawing and complains of labels on labels and of anything that
// lies outside the picture.
func inspect(t *testing.T, b *browser.Browser, name, svg string) {
	t.Helper()
	b = b.For(t)
	b.ShowText("drawing.svg", svg)
	labels := b.Boxes("text")
	if len(labels) == 0 {
		t.Errorf("%s: no labels", name)
	}
	for _, pair := range browser.Overlaps(labels, labelSlack) {
		t.Errorf("%s: %v lies on %v", name, pair[0], pair[1])
	}
	frame := b.Boxes("svg")[0]
	for _, part := range b.Boxes("text, path, rect, circle") {
		if !part.Inside(frame, 0.5) {
			t.Errorf("%s: %v is outside the picture, %v", name, part, frame)
		}
	}
	if asked := b.Requests(); len(asked) > 0 {
		t.Errorf("%s: the picture asks for %v", name, asked)
	}
}

// The largest hookups, and one of each shape, as a browser draws them.
func TestDrawingsInABrowser(t *testing.T) {
	b := browser.Open(t)
	for _, c := range []struct{ drivers, coils, outputs int }{
		{1, 1, 1}, {1, 2, 2}, {2, 2, 1}, {3, 2, 3}, {8, 2, 1}, {8, 2, 2}, {8, 2, 16},
	} {
		plans := hookup.Enumerate(c.drivers, c.coils, coilOhm, amplifier.Bridged, c.outputs, 0)
		if len(plans) == 0 {
			t.Fatalf("no plan for %+v", c)
		}
		for _, p := range plans {
			d := Coils(p, names(p))
			inspect(t, b, fmt.Sprintf("%+v at %.4g ohm", c, p.Load), d.SVG())
		}
	}
}
