package counter

import (
	"testing"

	"github.com/chromedp/cdproto/emulation"
	cdp "github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"

	"loudfor/cmd/internal/testing/browser"
)

// columnsScript counts the tables whose heads do not stand over their cells.
const columnsScript = `[...document.querySelectorAll("table")].filter((t) => {
  const seen = (row) => [...row.cells].filter((c) => getComputedStyle(c).display !== "none").reduce((n, c) => n + c.colSpan, 0);
  return t.tHead && t.tBodies[0]?.rows[0] && seen(t.tHead.rows[0]) !== seen(t.tBodies[0].rows[0]);
}).length`

// Every view on paper, A4 and Letter: on no more pages than it needs, and nothing
// of a table hidden with its head left standing.
func TestEveryViewOnPaper(t *testing.T) {
	c := open(t, nil)
	address := serve(t, c)
	bookOne(t, c)
	s := screen{browser.Open(t)}
	s.size(t, 1280, 900)
	more := map[string]int{"builds": 2, "builds-music": 2, "wrong": 2, "build": 4, "catalogue": 8, "catalogue-doubts": 2} // than one page
	for _, view := range exampleViews(t, c) {
		s.Show(address + view.address)
		s.is(t, `!document.getElementById("answer").dataset.waits`)
		for paper, size := range map[string][2]float64{"A4": {8.27, 11.69}, "Letter": {8.5, 11}} {
			pdf, err := chromedp.Call(s.Context(), cdp.PrintToPDF, cdp.PrintToPDFParams{PaperWidth: size[0], PaperHeight: size[1]})
			if err != nil {
				t.Fatal(err)
			}
			if n := len(pdfPage.FindAll(pdf.Data, -1)); n > max(1, more[view.name]) {
				t.Errorf("%s on %s: %d pages", view.name, paper, n)
			}
		}
		if _, err := chromedp.Call(s.Context(), emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{Media: "print"}); err != nil {
			t.Fatal(err)
		}
		if n, err := chromedp.Run(s.Context(), chromedp.Evaluate[int](columnsScript)); err != nil || n != 0 {
			t.Errorf("%s: the heads of %d tables do not stand over their cells, %v", view.name, n, err)
		}
		if _, err := chromedp.Call(s.Context(), emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{}); err != nil {
			t.Fatal(err)
		}
	}
}
