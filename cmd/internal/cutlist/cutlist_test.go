package cutlist

import (
	"encoding/csv"
	"encoding/xml"
	"fmt"
	"io"
	"math"
	"strings"
	"testing"

	"loudfor/catalog"
	"loudfor/catalog/demo"
	"loudfor/cmd/internal/table"
	"loudfor/cmd/internal/testing/browser"
	"loudfor/optimizer/workshop"
)

// built are boxes of the demo's material: small and large, sealed, with slots
// straight and folded, with a tube, on one sheet and on several.
func built(t *testing.T) []*workshop.Box {
	t.Helper()
	parts, report := catalog.LoadFS(demo.FS, []string{demo.Parts})
	if err := report.Err(); err != nil {
		t.Fatal(err)
	}
	brief := catalog.DefaultBrief()
	size := func(w, d, h float64) catalog.Size3 { return catalog.Size3{Width: w, Depth: d, Height: h} }
	var all []*workshop.Box
	for _, d := range []catalog.BuiltBox{
		{Driver: "TM-12V", Holes: 1, Sheet: "DM-MDF18", Outside: size(0.5, 0.36, 0.36)},
		{Driver: "TM-12V", Holes: 1, Sheet: "DM-MDF18", Outside: size(0.6, 0.42, 0.38), Slot: 0.045, PortLength: 0.52},
		{Driver: "TM-12V", Holes: 1, Sheet: "DM-MDF18P", Outside: size(0.6, 0.42, 0.38), Slot: 0.045, PortLength: 0.30},
		{Driver: "TM-12V", Holes: 1, Sheet: "DM-MDF18", Outside: size(0.6, 0.42, 0.38), Tube: 0.1, PortLength: 0.25},
		{Driver: "TM-12V", Holes: 3, Sheet: "DM-MDF18P", Outside: size(1.2, 0.396, 0.48), Slot: 0.1, PortLength: 0.6},
		{Driver: "TM-8V", Holes: 1, Sheet: "DM-PLY15", Outside: size(0.28, 0.26, 0.27)},
	} {
		d.SKU, d.Workshop = "SHOP-1", "DM-BENCH"
		b, err := workshop.Make(parts, &brief, d)
		if err != nil {
			t.Fatalf("%+v: %v", d, err)
		}
		all = append(all, b)
	}
	return all
}

// The list has every panel once, in as many rows as there are sizes, and the
// CSV says the same.
func TestRows(t *testing.T) {
	for _, b := range built(t) {
		n, area := 0, 0.0
		marks := map[string]bool{}
		for _, r := range Rows(b) {
			n += r.Count
			area += float64(r.Count) * r.Length * r.Width
			if marks[r.Mark] || len(r.Names) == 0 {
				t.Errorf("row %+v", r)
			}
			marks[r.Mark] = true
		}
		if n != len(b.Joinery.Panels) || math.Abs(area-b.Nesting.Used) > 1e-4 {
			t.Errorf("%d of %d panels, %g of %g m2", n, len(b.Joinery.Panels), area, b.Nesting.Used)
		}
		text, err := CSV(b)
		if err != nil {
			t.Fatal(err)
		}
		records, err := csv.NewReader(strings.NewReader(string(text))).ReadAll()
		if err != nil || len(records) != len(Rows(b))+1 || strings.Join(records[0], ",") != strings.Join(Columns, ",") {
			t.Errorf("%v in\n%s", err, text)
		}
		columns, cells := Table(b)
		var page strings.Builder
		if err := table.WriteIndented(&page, table.Most, "", columns, cells); err != nil {
			t.Fatal(err)
		}
	}
}

func TestMark(t *testing.T) {
	for k, want := range map[int]string{0: "A", 25: "Z", 26: "AA", 51: "AZ", 52: "BA", 701: "ZZ", 702: "AAA"} {
		if got := mark(k); got != want {
			t.Errorf("%d: %s, want %s", k, got, want)
		}
	}
}

// The picture has a box of the right size for each panel, inside a sheet, and
// its mark beside it; read as XML, not as we wrote it.
func TestSVG(t *testing.T) {
	for _, b := range built(t) {
		d := xml.NewDecoder(strings.NewReader(SVG(b)))
		var panels, sheets, texts int
		for {
			token, err := d.Token()
			if err == io.EOF {
				break
			}
			if err != nil {
				t.Fatal(err)
			}
			e, ok := token.(xml.StartElement)
			if !ok {
				continue
			}
			a := map[string]string{}
			for _, x := range e.Attr {
				a[x.Name.Local] = x.Value
			}
			switch {
			case a["class"] == "view" || a["class"] == "cut":
				// not of the plan
			case e.Name.Local == "text":
				texts++
			case e.Name.Local == "rect" && a["class"] == "panel":
				p := b.Nesting.Placed[placedAt(b, panels)]
				if a["width"] != short(1000*p.Length) || a["height"] != short(1000*p.Width) {
					t.Errorf("a panel of %s x %s, want %g x %g m", a["width"], a["height"], p.Length, p.Width)
				}
				panels++
			case e.Name.Local == "rect":
				sheets++
			}
		}
		if panels != len(b.Joinery.Panels) || sheets != b.Nesting.Sheets || texts != panels+sheets {
			t.Errorf("%d panels, %d sheets, %d texts for %d panels on %d sheets", panels, sheets, texts, len(b.Joinery.Panels), b.Nesting.Sheets)
		}
	}
}

// placedAt is the k-th panel as drawn: sheet after sheet.
func placedAt(b *workshop.Box, k int) int {
	for sheet := range b.Nesting.Sheets {
		for i, p := range b.Nesting.Placed {
			if p.Sheet == sheet {
				if k == 0 {
					return i
				}
				k--
			}
		}
	}
	return -1
}

// In a real browser no label lies on another, and each within its panel.
func TestSVGInABrowser(t *testing.T) {
	b := browser.Open(t)
	page := "<!doctype html><meta charset=utf-8>"
	boxes := built(t)
	for i, x := range boxes {
		page += fmt.Sprintf("<div id=d%d>%s</div>\n", i, SVG(x))
	}
	b.ShowText("sheets.html", page)
	for i, x := range boxes {
		at := fmt.Sprintf("#d%d ", i)
		labels := b.Boxes(at + "text:not(.view)")
		if len(labels) != len(x.Joinery.Panels)+x.Nesting.Sheets {
			t.Errorf("%d: %d labels", i, len(labels))
		}
		// Two captions, two sizes, every cutout and the mark of every panel.
		views := b.Boxes(at + "text.view")
		if want := 4 + len(x.Joinery.Panels[0].Openings) + len(x.Joinery.Panels); len(views) != want {
			t.Errorf("%d: %d words in the views, want %d", i, len(views), want)
		}
		if cuts := b.Boxes(at + ".cut"); len(cuts) != len(x.Joinery.Panels[0].Openings) {
			t.Errorf("%d: %d cutouts drawn in the front of %d", i, len(cuts), len(x.Joinery.Panels[0].Openings))
		}
		for _, pair := range browser.Overlaps(append(views, labels...), 2) {
			t.Errorf("%d: %v lies on %v", i, pair[0], pair[1])
		}
		panels := b.Boxes(at + "rect.panel")
		for _, label := range labels {
			if strings.HasPrefix(label.Text, "sheet ") {
				continue
			}
			inside := false
			for _, p := range panels {
				inside = inside || label.Inside(p, 1)
			}
			if !inside {
				t.Errorf("%d: %v is in no panel", i, label)
			}
		}
	}
}

// The plan in characters has every mark as often as there are panels, and fits
// the page.
func TestText(t *testing.T) {
	for _, b := range built(t) {
		text := Text(b, 93)
		for _, line := range strings.Split(text, "\n") {
			if len([]rune(line)) > table.Most-2 {
				t.Errorf("%d cells: %s", len([]rune(line)), line)
			}
		}
		for _, r := range Rows(b) {
			if got := strings.Count(text, r.Mark); got != r.Count {
				t.Errorf("mark %s stands %d times, want %d, in\n%s", r.Mark, got, r.Count, text)
			}
		}
	}
}

// The description can be read back and gives the same box.
func TestLines(t *testing.T) {
	for _, b := range built(t) {
		text := strings.Join(Lines(b), "\n")
		for _, want := range []string{"sku: SHOP-1", "driver: " + b.Driver.SKU, "sheet: " + b.Sheet.SKU, "outside: "} {
			if !strings.Contains(text, want) {
				t.Errorf("no %q in\n%s", want, text)
			}
		}
	}
}
