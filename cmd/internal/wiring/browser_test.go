package wiring

import (
	"fmt"
	"testing"

	"loudfor/cmd/internal/testing/browser"
	"loudfor/model/amplifier"
	"loudfor/model/hookup"
)

// labelSlack, in pixels, is how far the boxes of two labels may reach into each
// other: they hold the leading above and below the letters.
const labelSlack = 1.5

// named is a drawing with what to call it.
type named struct{ name, svg string }

// inspect opens drawings, all on one page, and complains of labels on labels
// and of anything that lies outside its picture.
func inspect(t *testing.T, b *browser.Browser, drawings []named) {
	t.Helper()
	page := "<!doctype html><meta charset=utf-8>"
	for i, d := range drawings {
		page += fmt.Sprintf("<div id=d%d>%s</div>\n", i, d.svg)
	}
	b.ShowText("drawings.html", page)
	for i, d := range drawings {
		at := fmt.Sprintf("#d%d ", i)
		labels := b.Boxes(at + "text")
		if len(labels) == 0 {
			t.Errorf("%s: no labels", d.name)
		}
		for _, pair := range browser.Overlaps(labels, labelSlack) {
			t.Errorf("%s: %v lies on %v", d.name, pair[0], pair[1])
		}
		frame := b.Boxes(at + "svg")[0]
		for _, part := range b.Boxes(at + "text, " + at + "path, " + at + "rect, " + at + "circle") {
			if !part.Inside(frame, 0.5) {
				t.Errorf("%s: %v is outside the picture, %v", d.name, part, frame)
			}
		}
	}
	if asked := b.Requests(); len(asked) > 0 {
		t.Errorf("the pictures ask for %v", asked)
	}
}

// The largest hookups, one of each shape, and the largest chain, as a browser
// draws them.
func TestDrawingsInABrowser(t *testing.T) {
	b := browser.Open(t)
	chain := largestChain()
	small := Chain{Lanes: chain.Lanes[:3], Blocks: chain.Blocks[:1]}
	drawings := []named{{"the largest chain", chain.SVG()}, {"one amplifier", small.SVG()}}
	for _, c := range []struct{ drivers, coils, outputs int }{
		{1, 1, 1}, {1, 2, 2}, {2, 2, 1}, {3, 2, 3}, {8, 2, 1}, {8, 2, 2}, {8, 2, 16},
	} {
		plans := hookup.Enumerate(c.drivers, c.coils, coilOhm, amplifier.Bridged, c.outputs, 0)
		if len(plans) == 0 {
			t.Fatalf("no plan for %+v", c)
		}
		for _, p := range plans {
			d := Coils(p, names(p))
			drawings = append(drawings, named{fmt.Sprintf("%+v at %.4g ohm", c, p.Load), d.SVG()})
		}
	}
	inspect(t, b, drawings)
}
