package cutlist

import (
	"fmt"
	"html"
	"math"
	"strings"

	"loudfor/optimizer/workshop"
)

// The plan as a picture: each sheet a frame, each panel a box with its mark and
// its size in it. One unit is a
// millimetre of the sheet, so that the picture can be measured. Text is made to
// fit its panel: turned in an upright one, smaller in a small one, and reduced
// to the mark where the size has no room; the cut list has it in any case.

const (
	svgGap    = 160.0 // between sheets, with the line of words, mm
	svgMargin = 30.0
	largest   = 70.0 // height of letters, mm of the sheet
	smallest  = 22.0 // below this they cannot be read at the usual width of a page
	// letter is the width of a character in heights, of a plain sans serif
	// with some to spare (from memory).
	letter = 0.62
)

// SVG draws the box, and below it the sheets. The same box gives the same bytes.
func SVG(b *workshop.Box) string {
	n := &b.Nesting
	_, marks := rowsOf(b.Joinery.Panels)
	length, width := 1000*n.Stock.Length, 1000*n.Stock.Width
	var out, box strings.Builder
	wide, tall := views(&box, b, svgMargin)
	tall += svgMargin
	high := tall + svgMargin + float64(n.Sheets)*(width+svgGap)
	wide = max(wide, length+2*svgMargin)
	fmt.Fprintf(&out, `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 %s %s" width="180mm" height="%smm" font-family="sans-serif" role="img">`+"\n",
		short(wide), short(high), short(180*high/wide))
	fmt.Fprintf(&out, "<title>%s</title>\n", html.EscapeString(Caption(b)))
	out.WriteString(box.String())
	for sheet := range n.Sheets {
		top := tall + float64(sheet)*(width+svgGap) + svgGap - svgMargin
		words := fmt.Sprintf("sheet %d of %d: %s, %s x %s mm", sheet+1, n.Sheets, b.Sheet.SKU, mm(n.Stock.Length), mm(n.Stock.Width))
		size := min(55, length/(letter*float64(len([]rune(words)))))
		fmt.Fprintf(&out, `<text x="%s" y="%s" font-size="%s">%s</text>`+"\n", short(svgMargin), short(top-20), short(size), html.EscapeString(words))
		fmt.Fprintf(&out, `<rect x="%s" y="%s" width="%s" height="%s" fill="#f2ede2" stroke="#000" stroke-width="4"/>`+"\n", short(svgMargin), short(top), short(length), short(width))
		for _, p := range n.Placed {
			if p.Sheet != sheet {
				continue
			}
			x, y, w, h := svgMargin+1000*p.X, top+1000*p.Y, 1000*p.Length, 1000*p.Width
			fmt.Fprintf(&out, `<rect class="panel" x="%s" y="%s" width="%s" height="%s" fill="#fff" stroke="#000" stroke-width="2"/>`+"\n", short(x), short(y), short(w), short(h))
			label(&out, marks[p.Panel], mm(p.Length)+" x "+mm(p.Width), x, y, w, h)
		}
	}
	out.WriteString("</svg>\n")
	return out.String()
}

// label writes the mark and the size into a panel, as large as they fit.
func label(out *strings.Builder, mark, size string, x, y, w, h float64) {
	long, across, turn := w, h, ""
	if h > w {
		long, across = h, w
		turn = fmt.Sprintf(` transform="rotate(-90 %s %s)"`, short(x+w/2), short(y+h/2))
	}
	text := mark + "  " + size
	fits := func(text string) float64 {
		return min(largest, 0.7*across, 0.94*long/(letter*float64(len([]rune(text)))))
	}
	height := fits(text)
	if height < smallest {
		text = mark
		height = fits(text)
	}
	fmt.Fprintf(out, `<text x="%s" y="%s" font-size="%s" text-anchor="middle" dominant-baseline="central"%s>%s</text>`+"\n",
		short(x+w/2), short(y+h/2), short(height), turn, html.EscapeString(text))
}

// short writes a coordinate to a tenth.
func short(v float64) string {
	return strings.TrimSuffix(fmt.Sprintf("%.1f", math.Round(10*v)/10), ".0")
}
