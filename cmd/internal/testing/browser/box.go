package browser

import (
	"fmt"

	"github.com/chromedp/chromedp"
)

// Boxes of elements: where the browser really put them, with the fonts that it
// really has. No reckoning of text widths can replace that.

// Box is the rectangle around one element, in pixels of the page from its top
// left corner, with the element's text.
type Box struct {
	Text                     string
	Left, Top, Right, Bottom float64
}

// Boxes measures all elements that a CSS selector finds, in the order of the
// page. Elements without an area are left out: they cannot be seen.
func (b *Browser) Boxes(selector string) []Box {
	b.t.Helper()
	return Ask(b, chromedp.Evaluate[[]Box](fmt.Sprintf(`
		Array.from(document.querySelectorAll(%q)).map(e => {
			const r = e.getBoundingClientRect();
			return {Text: (e.textContent || "").trim(),
				Left: r.left + scrollX, Top: r.top + scrollY, Right: r.right + scrollX, Bottom: r.bottom + scrollY};
		}).filter(r => r.Right > r.Left && r.Bottom > r.Top)`, selector)))
}

// Overlaps lists the pairs of boxes that share an area more than slack pixels
// wide and high: boxes of text hold its leading too, so that neighbours touch.
func Overlaps(boxes []Box, slack float64) (pairs [][2]Box) {
	for i, a := range boxes {
		for _, c := range boxes[i+1:] {
			wide := min(a.Right, c.Right) - max(a.Left, c.Left)
			high := min(a.Bottom, c.Bottom) - max(a.Top, c.Top)
			if wide > slack && high > slack {
				pairs = append(pairs, [2]Box{a, c})
			}
		}
	}
	return pairs
}

// Inside says whether a box lies in another, give or take slack pixels.
func (b Box) Inside(outer Box, slack float64) bool {
	return b.Left >= outer.Left-slack && b.Top >= outer.Top-slack &&
		b.Right <= outer.Right+slack && b.Bottom <= outer.Bottom+slack
}

// shown is how much of a text a message repeats.
const shown = 60

// String names a box in a message.
func (b Box) String() string {
	text := []rune(b.Text)
	if len(text) > shown {
		text = append(text[:shown:shown], []rune(" ...")...)
	}
	return fmt.Sprintf("%q at %.0f to %.0f across, %.0f to %.0f down", string(text), b.Left, b.Right, b.Top, b.Bottom)
}
