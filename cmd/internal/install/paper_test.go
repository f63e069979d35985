package install

import (
	"regexp"
	"testing"

	cdp "github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"

	"loudfor/cmd/internal/sheet"
	"loudfor/cmd/internal/testing/browser"
)

var pdfPage = regexp.MustCompile(`/Type\s*/Page\b`)

// A sheet is four printed pages at most, on both usual papers, one with a box to build
// among them.
func TestFourPages(t *testing.T) {
	b := browser.Open(t)
	for _, name := range demos {
		b.ShowText(name+".html", written(t, complete(t, name), sheet.HTML))
		for paper, size := range map[string][2]float64{"A4": {8.27, 11.69}, "Letter": {8.5, 11}} {
			pdf, err := chromedp.Call(b.Context(), cdp.PrintToPDF, cdp.PrintToPDFParams{PaperWidth: size[0], PaperHeight: size[1]})
			if err != nil {
				t.Fatal(err)
			}
			if n := len(pdfPage.FindAll(pdf.Data, -1)); n < 2 || n > 4 {
				t.Errorf("%s on %s: %d pages", name, paper, n)
			}
		}
	}
}
