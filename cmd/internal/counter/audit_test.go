package counter

// auditScript looks at a page as people do who cannot see it well, or at all:
// names of everything that can be operated, landmarks, headings, tables, the
// contrast of every text on what is really behind it, the size of targets, and
// nothing running off a narrow screen. It gives what is wrong, in words (WCAG
// 2.2: 1.1.1, 1.3.1, 1.4.3, 1.4.10, 2.4.1, 2.4.6, 2.5.8, 3.1.1, 4.1.2).
const auditScript = `(() => {
  const wrong = [];
  const tell = (what, e) => wrong.push(what + ": " + (e ? e.outerHTML.slice(0, 140).replace(/\s+/g, " ") : ""));
  const seen = (e) => { const r = e.getBoundingClientRect(), s = getComputedStyle(e); return r.width > 1 && r.height > 1 && s.visibility === "visible" && s.display !== "none" && !e.closest("details:not([open]) > *:not(summary)"); };
  const name = (e) => (e.getAttribute("aria-label") || [...(e.labels || [])].map((l) => l.textContent).join(" ") || (e.getAttribute("aria-labelledby") || "").split(" ").filter(Boolean).map((id) => document.getElementById(id)?.textContent || "").join(" ") || e.textContent || "").trim();

  if (!/^en(-|$)/.test(document.documentElement.lang)) tell("no language");
  if (!document.title.trim()) tell("no title");
  if (document.querySelectorAll("h1").length !== 1) wrong.push(document.querySelectorAll("h1").length + " main headings");
  if (document.querySelectorAll("main").length !== 1) tell("no main landmark");
  for (const nav of document.querySelectorAll("nav, aside, form, section, figure[role]")) {
    if (nav.matches("nav, aside") && !name(nav)) tell("a landmark without a name", nav);
  }
  const answer = document.getElementById("answer");
  if (!answer || !seen(answer) || answer.innerText.trim().length < 40) tell("the answer is not to be seen", answer);
  let level = 0;
  for (const h of document.querySelectorAll("h1, h2, h3")) { const l = Number(h.tagName[1]); if (l > level + 1 && level) tell("a heading is skipped", h); level = l; if (!h.textContent.trim()) tell("an empty heading", h); }
  const ids = new Set();
  for (const e of document.querySelectorAll("[id]")) { if (ids.has(e.id)) tell("an id stands twice", e); ids.add(e.id); }
  for (const e of document.querySelectorAll("[aria-labelledby], [aria-describedby]"))
    for (const id of ((e.getAttribute("aria-labelledby") || "") + " " + (e.getAttribute("aria-describedby") || "")).trim().split(/\s+/)) if (id && !document.getElementById(id)) tell("names an id that is not there", e);
  for (const e of document.querySelectorAll("input:not([type=hidden]), select, textarea, button, a[href], summary")) {
    if (e.closest("[aria-hidden=true]")) { if (e.tabIndex >= 0 && seen(e)) tell("can be reached and is hidden from readers", e); continue; }
    if (e.matches("input, select, textarea") ? !(e.labels?.length || e.getAttribute("aria-label")) : !name(e)) tell("without a name", e);
    if (e.tabIndex > 0) tell("an order of its own", e);
  }
  for (const svg of document.querySelectorAll("svg")) if (svg.getAttribute("aria-hidden") !== "true" && !(svg.getAttribute("role") === "img" && (svg.getAttribute("aria-label") || svg.querySelector(":scope > title")?.textContent.trim()))) tell("a drawing without words", svg);
  for (const t of document.querySelectorAll("table")) {
    if (!t.caption || !t.caption.textContent.trim()) tell("a table without a caption", t);
    const cells = (row) => [...row.cells].filter((c) => getComputedStyle(c).display !== "none").reduce((n, c) => n + c.colSpan, 0);
    const body = t.tBodies[0]?.rows[0];
    if (t.tHead && body && getComputedStyle(body).display === "table-row" && cells(t.tHead.rows[0]) !== cells(body)) tell("heads and cells do not stand over each other", t);
    if (t.tHead) for (const th of t.tHead.querySelectorAll("th")) if (th.scope !== "col") tell("a head without its scope", th);
  }
  for (const f of document.querySelectorAll("fieldset")) if (!f.querySelector("legend")?.textContent.trim()) tell("a group without a legend", f);

  const parse = (text) => { const m = text.match(/[\d.]+/g).map(Number); return m.length > 3 ? m : [...m, 1]; };
  const over = (a, b) => [0, 1, 2].map((i) => a[i] * a[3] + b[i] * (1 - a[3])).concat(1);
  const lum = (c) => { const f = (v) => { v /= 255; return v <= 0.04045 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4; }; return 0.2126 * f(c[0]) + 0.7152 * f(c[1]) + 0.0722 * f(c[2]); };
  const behind = (e) => { const stack = []; for (let n = e; n; n = n.parentElement) { const c = parse(getComputedStyle(n).backgroundColor); if (c[3] > 0) { stack.push(c); if (c[3] === 1) break; } } let c = [255, 255, 255, 1]; while (stack.length) c = over(stack.pop(), c); return c; };
  const walk = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  let texts = 0;
  while (walk.nextNode()) {
    const e = walk.currentNode.parentElement;
    if (!walk.currentNode.textContent.trim() || e.closest("script, style, noscript, title, option, .hush, .skip") || !seen(e)) continue;
    const drawn = e.closest("svg"), style = getComputedStyle(e);
    // A segment of a switch is coloured by the input before it.
    let fore = parse(drawn ? style.fill : style.color);
    // On a shade of the drawing the pair is among those of the style sheet.
    const under = behind(drawn ? drawn : e);
    fore = over(fore, under);
    const a = lum(fore), b = lum(under), ratio = (Math.max(a, b) + 0.05) / (Math.min(a, b) + 0.05);
    texts++;
    if (ratio < 4.5 && !(drawn && e.matches(".letter"))) tell("a contrast of " + ratio.toFixed(2), e);
  }
  if (texts < 10) tell("only " + texts + " texts looked at");

  // A small target may stand where a circle of 24 pixels around it meets no other; in a line of text it may always.
  const small = 23.9, targets = [...document.querySelectorAll("button, a[href], input:not([type=hidden]):not([type=radio]), select, textarea, summary")].filter((e) => seen(e) && !e.closest(".hush, .skip, svg"));
  for (const e of targets) {
    const r = e.getBoundingClientRect(), x = (r.left + r.right) / 2, y = (r.top + r.bottom) / 2;
    if (r.height >= small && r.width >= small || [...e.parentElement.childNodes].some((n) => n.nodeType === 3 && n.textContent.trim())) continue;
    const near = targets.find((o) => { if (o === e || o.contains(e) || e.contains(o)) return false; const b = o.getBoundingClientRect(); return Math.hypot(Math.max(b.left - x, 0, x - b.right), Math.max(b.top - y, 0, y - b.bottom)) < 12; });
    if (near || !e.matches("a, input[type=checkbox]")) tell("only " + r.width.toFixed(0) + " by " + r.height.toFixed(0) + " pixels to hit", e);
  }
  const wide = document.documentElement.scrollWidth - document.documentElement.clientWidth;
  if (wide > 1) {
    const e = [...document.querySelectorAll("main *")].filter((e) => seen(e) && !e.closest(".scroll, .hush, svg")).find((e) => e.getBoundingClientRect().right > document.documentElement.clientWidth + 1);
    tell("runs " + wide + " pixels off the screen", e);
  }
  for (const svg of document.querySelectorAll("svg")) if (seen(svg)) for (const t of svg.querySelectorAll("text")) {
    const r = t.getBoundingClientRect();
    if (r.width && (r.left < -1 || r.right > document.documentElement.clientWidth + 1)) tell("words of a drawing run off the screen", t);
  }
  return wrong;
})()`
