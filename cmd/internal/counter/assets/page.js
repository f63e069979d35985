// What the page does by itself where scripts run: it asks again while the
// budget moves, and when files change. Everything works without it, by the
// form's button; nothing is computed here.
"use strict";

(() => {
  document.documentElement.classList.add("live");
  const form = document.getElementById("wishes");
  // On a narrow screen the answer comes before the rules.
  const rules = document.getElementById("rules");
  if (rules && matchMedia("(max-width: 61.9rem)").matches && !rules.querySelector("[aria-invalid]")) rules.open = false;
  let asking = null;   // the request under way
  let shown = location.href;

  const summary = () => document.getElementById("answer")?.dataset.summary || "";

  // which tells an element that has the focus from others, on the next page too.
  const which = (e) => e.id || e.getAttribute("href") || (e.name ? e.name + "=" + e.value : e.textContent);

  // take puts the regions of another page in place of this one's.
  function take(page) {
    for (const part of page.querySelectorAll("[data-live]")) {
      const mine = document.getElementById(part.id);
      if (!mine || (part.id === "car" && mine.contains(document.activeElement))) continue;
      const opened = new Set([...mine.querySelectorAll("details[open] > summary")].map((s) => s.textContent));
      const focus = mine.contains(document.activeElement) ? document.activeElement : null;
      const at = focus && which(focus);
      mine.replaceWith(part);
      for (const s of part.querySelectorAll("details > summary")) if (opened.has(s.textContent)) s.parentElement.open = true;
      if (at) [...part.querySelectorAll("a,input,select,button,summary")].find((e) => which(e) === at)?.focus({preventScroll: true});
    }
    document.title = page.title;
    document.body.dataset.generation = page.body.dataset.generation;
    document.body.dataset.address = page.body.dataset.address;
    printing();
  }

  // ask fetches an address and shows it. A newer question ends an older one.
  async function ask(address, {moving = false, keep = true} = {}) {
    asking?.abort();
    const mine = asking = new AbortController();
    const late = setTimeout(() => document.getElementById("answer")?.classList.add("busy"), 250);
    try {
      const reply = await fetch(address, {signal: mine.signal, headers: moving ? {"X-Moving": "1"} : {}, credentials: "same-origin"});
      if (reply.redirected && new URL(reply.url).pathname === "/enter") { location.assign(reply.url); return; }
      const page = new DOMParser().parseFromString(await reply.text(), "text/html");
      if (mine !== asking || !page.getElementById("answer")) return;
      take(page);
      shown = new URL(address, location.href).href;
      if (keep) history.replaceState(null, "", document.body.dataset.address || address);
    } catch (wrong) {
      if (wrong.name !== "AbortError") say("The program does not answer. Is it still running?");
    } finally {
      clearTimeout(late);
      if (mine === asking) document.getElementById("answer")?.classList.remove("busy");
    }
  }

  function say(text) {
    const line = document.getElementById("moved");
    line.textContent = text;
  }

  function address() {
    const values = new URLSearchParams(new FormData(form));
    return form.getAttribute("action") + "?" + values;
  }

  if (form) {
    const slider = document.getElementById("slider");
    const cap = document.getElementById("cap");
    slider.hidden = false;
    let rest = 0;
    const move = (moving, wait) => {
      clearTimeout(rest);
      const begin = () => ask(address(), {moving});
      if (wait) rest = setTimeout(begin, wait); else begin();
    };
    let next = 0;
    slider.addEventListener("input", () => {
      cap.value = slider.value;
      // No more than one question every 40 ms; the last one always.
      clearTimeout(next);
      next = setTimeout(() => ask(address(), {moving: true}), 40);
    });
    slider.addEventListener("change", () => { clearTimeout(next); move(false, 120); });
    cap.addEventListener("input", () => { if (Number(cap.value) > 0) { slider.value = cap.value; move(false, 350); } });
    form.addEventListener("change", (e) => {
      if (e.target === slider || e.target === cap) return;
      move(false, 0);
    });
    form.addEventListener("submit", (e) => { e.preventDefault(); move(false, 0); });
  }

  // A click on a step of the ladder moves the budget there.
  document.addEventListener("click", (e) => {
    const step = e.target.closest?.("a.step, a.stepcard");
    if (!step || !form || e.ctrlKey || e.metaKey || e.shiftKey || e.button) return;
    e.preventDefault();
    const to = step.getAttribute("href");
    const url = new URL(to, location.href);
    const sum = url.searchParams.get("cap");
    if (sum) { document.getElementById("cap").value = sum; document.getElementById("slider").value = sum; }
    ask(form.getAttribute("action") + url.search);
  });

  function printing() {
    const button = document.getElementById("print");
    if (!button) return;
    button.hidden = false;
    button.onclick = () => window.print();
  }
  printing();

  // News: files that changed, and what was still being worked out.
  const news = new EventSource("/events");
  async function again(lines, trouble) {
    const before = summary();
    if (lines) {
      const box = document.getElementById("news");
      box.className = trouble ? "news trouble" : "news";
      const title = document.createElement("p");
      title.append(Object.assign(document.createElement("strong"), {textContent: trouble ? "The files have a mistake" : "The files changed"}));
      const list = document.createElement("ul");
      for (const line of lines) list.append(Object.assign(document.createElement("li"), {textContent: line}));
      box.replaceChildren(title, list);
    }
    if (trouble) return;
    await ask(shown, {keep: false});
    const after = summary();
    if (lines && before && after) say(before === after ? `Still ${after}.` : `Was ${before}, is now ${after}.`);
  }
  news.addEventListener("changed", (e) => { const n = JSON.parse(e.data); again(n.lines, n.trouble); });
  news.addEventListener("ready", (e) => {
    if (document.getElementById("answer")?.dataset.waits === JSON.parse(e.data)) again();
  });
  // Another start of the program, or a change that was missed.
  news.addEventListener("stock", (e) => {
    if (e.data !== document.body.dataset.generation || document.getElementById("answer")?.dataset.waits) again();
  });
})();
