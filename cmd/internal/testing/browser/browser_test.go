package browser

import (
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
)

// Each thing that the package is to find is put on a page once, beside one
// like it that is in order.
func TestBrowser(t *testing.T) {
	opened := Open(t)
	t.Run("boxes", func(t *testing.T) {
		b := opened.For(t)
		b.ShowText("drawing.svg", `<svg xmlns="http://www.w3.org/2000/svg" width="400" height="200" viewBox="0 0 400 200">
			<text x="10" y="50" font-size="20">first</text>
			<text x="20" y="55" font-size="20">on it</text>
			<text x="10" y="120" font-size="20">alone</text>
			<text x="390" y="180" font-size="20">outside</text></svg>`)
		labels := b.Boxes("text")
		if len(labels) != 4 {
			t.Fatalf("%d labels, want 4: %v", len(labels), labels)
		}
		pairs := Overlaps(labels, 1)
		if len(pairs) != 1 || pairs[0][0].Text != "first" || pairs[0][1].Text != "on it" {
			t.Errorf("overlaps: %v", pairs)
		}
		picture := Box{Right: 400, Bottom: 200}
		for _, l := range labels {
			if got, want := l.Inside(picture, 1), l.Text != "outside"; got != want {
				t.Errorf("%v inside: %t", l, got)
			}
		}
		if asked := b.Requests(); len(asked) > 0 {
			t.Errorf("a drawing that stands alone asked for %v", asked)
		}
	})
	t.Run("requests and faults", func(t *testing.T) {
		b := opened.For(t)
		b.ShowText("page.html", `<!doctype html><body><img src="http://picture.invalid/a.png"><img src="data:,">
			<script>throw new Error("planted")</script></body>`)
		asked := b.Requests()
		if len(asked) != 1 || asked[0] != "http://picture.invalid/a.png" {
			t.Errorf("asked for %v", asked)
		}
		faults := b.Faults()
		if len(faults) != 1 || !strings.Contains(faults[0], "planted") {
			t.Errorf("faults: %v", faults)
		}
	})
	t.Run("the next page starts clean", func(t *testing.T) {
		b := opened.For(t)
		b.ShowText("page.html", `<!doctype html><title>plain</title><p>text</p>`)
		if len(b.Requests()) > 0 || len(b.Faults()) > 0 {
			t.Errorf("left over: %v %v", b.Requests(), b.Faults())
		}
		if title := Ask(b, chromedp.Title()); title != "plain" {
			t.Errorf("title %q", title)
		}
	})
}

func TestOverlaps(t *testing.T) {
	a := Box{Text: "a", Right: 10, Bottom: 10}
	for _, c := range []struct {
		name  string
		other Box
		want  int
	}{
		{"apart", Box{Left: 20, Right: 30, Bottom: 10}, 0},
		{"touching", Box{Left: 10, Right: 20, Bottom: 10}, 0},
		{"by the slack", Box{Left: 9, Right: 20, Bottom: 10}, 0},
		{"by more", Box{Left: 8.9, Right: 20, Bottom: 10}, 1},
		{"only across", Box{Left: 5, Right: 20, Top: 10, Bottom: 20}, 0},
		{"within", Box{Left: 3, Right: 6, Top: 3, Bottom: 6}, 1},
	} {
		if got := len(Overlaps([]Box{a, c.other}, 1)); got != c.want {
			t.Errorf("%s: %d overlaps, want %d", c.name, got, c.want)
		}
	}
}
