package counter

import (
	"testing"

	"github.com/chromedp/chromedp"

	"loudfor/cmd/internal/testing/browser"
)

// forcedScript tells what cannot be told apart where the visitor's own few colours
// take the place of ours: grounds are all one, so that a control needs an edge, what
// is chosen a mark, and a line of a chart its own dashes. (CSS Color Adjustment
// Module Level 1, 3: forced colors override color, background and border colours.)
const forcedScript = `(() => {
  const wrong = [];
  const tell = (what, e) => wrong.push(what + ": " + e.outerHTML.slice(0, 120).replace(/\s+/g, " "));
  const style = (e, of) => getComputedStyle(e, of);
  const seen = (e) => e.checkVisibility() && e.getBoundingClientRect().width > 1;
  const edge = (e, side) => style(e)["border-" + side + "-style"] !== "none" && parseFloat(style(e)["border-" + side + "-width"]) > 0 && style(e)["border-" + side + "-color"] !== style(document.documentElement).backgroundColor;
  const marked = (e) => style(e, "::before").content.includes("✓");
  const outlined = (e) => style(e).outlineStyle === "solid" && parseFloat(style(e).outlineWidth) >= 2;
  if (!matchMedia("(forced-colors: active)").matches) return ["no colours are forced"];
  for (const e of document.querySelectorAll("button, .button, select, textarea, .switch span, input:not([type=hidden]):not([type=checkbox]):not([type=radio]):not([type=range])"))
    if (seen(e) && !edge(e, "bottom") && !(e.closest(".money") && edge(e.closest(".money"), "bottom"))) tell("a control without an edge", e);
  for (const e of document.querySelectorAll("input[type=checkbox], input[type=radio], input[type=range]"))
    if (seen(e) && style(e).appearance === "none") tell("a control without the system's look", e);
  for (const e of document.querySelectorAll(".switch input")) {
    const on = e.nextElementSibling;
    if ((marked(on) && outlined(on)) !== e.checked) tell("chosen or not, it looks the same", on);
  }
  for (const e of document.querySelectorAll("button[aria-pressed]")) if (seen(e) && marked(e) !== (e.ariaPressed === "true")) tell("pressed or not, it looks the same", e);
  for (const e of document.querySelectorAll(".top li a")) if (edge(e, "bottom") !== (e.ariaCurrent === "page")) tell("here or not, it looks the same", e);
  for (const e of document.querySelectorAll("tr.here")) if (!outlined(e)) tell("the row of the budget looks like others", e);
  const plain = style(document.querySelector("tr:not(.over) > td") || document.body).color;
  for (const e of document.querySelectorAll("tr.over > td")) if (style(e).color === plain) tell("is said to be paler", e);
  for (const e of document.querySelectorAll(".warnings, .complaint, .none, .ties, .stepcard")) if (!edge(e, "top")) tell("stands out by its ground alone", e);
  for (const svg of document.querySelectorAll(".chart svg, .hookup svg, svg.code")) {
    if (style(svg).forcedColorAdjust !== "none") tell("a drawing whose colours are taken", svg);
    const lines = [...svg.querySelectorAll(".curve, .stairs")].map((e) => style(e).strokeDasharray + " " + style(e).strokeWidth);
    if (new Set(lines).size !== lines.length) tell("two lines that only colour tells apart", svg);
    if (svg.querySelector(".shade") && !svg.querySelector("text.letter")) tell("grounds without letters", svg);
    const points = [".step:not(.over):not(.here) circle", ".step.over circle", ".step.here circle"].map((of) => svg.querySelector(of)).filter(Boolean).map((e) => style(e).fill + e.getAttribute("r"));
    if (new Set(points).size !== points.length) tell("points that look the same", svg);
  }
  for (const e of document.querySelectorAll(".key")) if (!e.textContent.trim()) tell("a key without its letter", e);
  const dashes = [1, 2, 3, 4, 5, 6].map((n) => { const p = document.createElementNS("http://www.w3.org/2000/svg", "path"); p.setAttribute("class", "curve line-" + n); document.body.append(p); const d = style(p).strokeDasharray; p.remove(); return d; });
  if (new Set(dashes).size !== dashes.length) wrong.push("places drawn alike: " + dashes);
  return wrong;
})()`

// With the visitor's own colours every control can be seen, what is chosen can be told,
// and so can the lines of a chart.
func TestForcedColours(t *testing.T) {
	c := open(t, nil)
	address := serve(t, c)
	bookOne(t, c)
	for i, scheme := range []string{"dark", "light"} {
		if i > 0 && testing.Short() {
			break
		}
		s := screen{browser.Open(t)}
		s.scheme(t, scheme, "active")
		s.size(t, 1280, 900)
		for _, view := range exampleViews(t, c) {
			s.Show(address + view.address)
			s.is(t, `!document.getElementById("answer").dataset.waits`)
			wrong, err := chromedp.Run(s.Context(), chromedp.Evaluate[[]string](forcedScript))
			if err != nil {
				t.Fatal(err)
			}
			for _, line := range wrong {
				t.Errorf("%s, %s: %s", view.name, scheme, line)
			}
		}
	}
}
