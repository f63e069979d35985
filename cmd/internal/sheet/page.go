package sheet

import (
	"fmt"
	"html"
	"io"
	"slices"
	"strings"
	"unicode/utf8"
)

// page writes one HTML file that needs nothing else: no network, no script, no
// picture beside it. It follows the reader's light or dark screen; on paper it
// is black on white, on A4 or Letter as the printer has it, rows and drawings
// unbroken. A browser makes a PDF of it by printing.
type page struct{ w io.Writer }

const pageStyle = `
:root { color-scheme: light dark; --line: #888; --soft: #8882; }
body { font: 15px/1.45 "DejaVu Sans", Verdana, Arial, sans-serif; max-width: 60em; margin: 1.5em auto; padding: 0 1em; }
h1 { font-size: 1.5em; margin: 0 0 .5em; }
h2 { font-size: 1.15em; margin: 1.6em 0 .5em; border-bottom: 2px solid var(--line); }
p, ul, ol, table, figure, dl { margin: .5em 0; }
dl { display: grid; grid-template-columns: max-content 1fr; gap: .15em 1em; }
dt { font-weight: bold; }
dd { margin: 0; }
.wide { overflow-x: auto; }
table { border-collapse: collapse; font-size: .92em; }
th, td { border: 1px solid var(--line); padding: .25em .55em; text-align: left; vertical-align: top; }
th { background: var(--soft); }
td.right, th.right { text-align: right; }
td.fill { min-width: 7em; }
td.sign { min-width: 14em; height: 2.6em; }
.short { white-space: nowrap; }
.warning { border-left: 5px solid currentColor; padding: .3em .8em; font-weight: bold; }
figure { overflow-x: auto; }
figcaption { font-weight: bold; margin-bottom: .4em; }
svg { max-width: 100%; height: auto; }
@page { margin: 11mm 13mm; }
@media print {
  :root { color-scheme: light; }
  body { color: #000; background: #fff; font-size: 8pt; line-height: 1.28; max-width: none; margin: 0; padding: 0; }
  h1 { margin-bottom: .3em; }
  h2 { margin: .8em 0 .3em; break-after: avoid; }
  p, ul, ol, table, figure, dl { margin: .3em 0; }
  th, td { padding: .14em .45em; }
  p, li { orphans: 3; widows: 3; }
  figure, table, tr, li, .warning { break-inside: avoid; }
  li:first-child { break-after: avoid; }
  li:last-child { break-before: avoid; }
  p:has(+ .wide) { break-after: avoid; }
  figure svg { max-height: 42mm; }
  figure svg[width="180mm"] { max-height: 85mm; }
  figure, .wide { overflow: visible; }
}
`

func (p *page) put(format string, args ...any) error {
	_, err := fmt.Fprintf(p.w, format, args...)
	return err
}

func (p *page) head(s *Sheet) error {
	title := html.EscapeString(s.Title)
	var facts strings.Builder
	for _, f := range s.Facts {
		fmt.Fprintf(&facts, "<dt>%s</dt><dd>%s</dd>\n", html.EscapeString(f.Name), html.EscapeString(f.Text))
	}
	return p.put(`<!DOCTYPE html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>%s</title>
<style>%s</style>
</head>
<body>
<main>
<h1>%s</h1>
<dl>
%s</dl>
`, title, pageStyle, title, facts.String())
}

func (p *page) section(title string) error { return p.put("<h2>%s</h2>\n", html.EscapeString(title)) }

func (p *page) paragraph(text string) error { return p.put("<p>%s</p>\n", html.EscapeString(text)) }

func (p *page) warning(text string) error {
	return p.put("<p class=\"warning\">%s</p>\n", html.EscapeString(text))
}

func (p *page) list(items []string, numbered bool) error {
	tag := "ul"
	if numbered {
		tag = "ol"
	}
	var b strings.Builder
	for _, item := range items {
		fmt.Fprintf(&b, "<li>%s</li>\n", html.EscapeString(item))
	}
	return p.put("<%s>\n%s</%s>\n", tag, b.String(), tag)
}

func (p *page) table(t Table) error {
	var b strings.Builder
	b.WriteString("<div class=\"wide\"><table>\n<thead><tr>")
	short := make([]bool, len(t.Columns))
	for i, c := range t.Columns {
		short[i] = !c.Fill && !slices.ContainsFunc(t.Rows, func(row []string) bool { return utf8.RuneCountInString(row[i]) > shortCell })
		fmt.Fprintf(&b, "<th scope=\"col\"%s>%s</th>", class(c.Right, "", short[i]), html.EscapeString(c.Title))
	}
	b.WriteString("</tr></thead>\n<tbody>\n")
	for _, row := range t.Rows {
		b.WriteString("<tr>")
		for i, c := range t.Columns {
			// A line for a pen is needed only where there is no box.
			text := row[i]
			pen := ""
			if text == Pen {
				text, pen = "", "fill"
				if c.Fill { // a name or a signature
					pen = "sign"
				}
			}
			fmt.Fprintf(&b, "<td%s>%s</td>", class(c.Right, pen, short[i]), strings.ReplaceAll(html.EscapeString(text), "\n", "<br>"))
		}
		b.WriteString("</tr>\n")
	}
	b.WriteString("</tbody></table></div>\n")
	return p.put("%s", b.String())
}

// shortCell is how many characters of a cell stay on one line: a column of words that
// break one by one is hard to read.
const shortCell = 20

func class(right bool, pen string, short bool) string {
	switch {
	case pen != "":
		return ` class="` + pen + `"`
	case right:
		return ` class="right"`
	case short:
		return ` class="short"`
	}
	return ""
}

// drawing puts the picture into the page; one without a picture is its text.
func (p *page) drawing(d Drawing) error {
	body := d.SVG
	if body == "" {
		body = "<pre>" + html.EscapeString(d.Text) + "</pre>\n"
	}
	return p.put("<figure><figcaption>%s</figcaption>\n%s</figure>\n", html.EscapeString(d.Caption), body)
}

func (p *page) foot() error { return p.put("</main>\n</body>\n</html>\n") }
