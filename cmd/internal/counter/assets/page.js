// What the page does by itself where scripts run: it asks again while the
// budget moves, and when files change. Everything works without it, by the
// form's button; nothing is computed here.
"use strict";

(() => {
  document.documentElement.classList.add("live");
  const form = document.getElementById("wishes");
  const slider = document.getElementById("slider");
  const cap = document.getElementById("cap");
  const answer = () => document.getElementById("answer");
  const summary = () => answer()?.dataset.summary || "";
  // On a narrow screen the answer comes before the rules.
  const rules = document.getElementById("rules");
  if (rules && matchMedia("(max-width: 61.9rem)").matches && !rules.querySelector("[aria-invalid]")) rules.open = false;

  // One question is under way, and the newest that was not asked yet waits
  // behind it. While the budget moves the one under way is let finish, so that
  // figures follow a hand that does not rest; any other question ends it.
  let asking = null;
  let next = null;
  let later = null; // what is shown is to be asked once more
  let shown = location.href;
  let held = false; // the slider, by a pointer
  const patience = 1000; // ms that one which moves may hold up the next
  // What was told to be ready before a page came that waits for it.
  const ready = new Set();

  function want(address, more = {}) {
    next = {address, keep: true, ...more};
    if (asking && !(next.moving && asking.moving && performance.now() - asking.since < patience)) asking.stop.abort();
    if (!asking) run();
  }

  async function run() {
    while (next) {
      const q = asking = {...next, stop: new AbortController(), since: performance.now()};
      next = null;
      const late = setTimeout(() => answer()?.classList.add("busy"), 250);
      try {
        const reply = await fetch(q.address, {signal: q.stop.signal, headers: q.moving ? {"X-Moving": "1"} : {}, credentials: "same-origin"});
        if (reply.redirected && new URL(reply.url).pathname === "/enter") { location.assign(reply.url); return; }
        const page = new DOMParser().parseFromString(await reply.text(), "text/html");
        if (q.stop.signal.aborted) continue;
        if (!page.getElementById("answer")) { fail(page.body.textContent); continue; }
        if (failed) { say(""); failed = false; }
        if (take(page)) {
          shown = new URL(q.address, location.href).href;
          if (q.keep && !q.moving) settle(document.body.dataset.address || q.address);
        }
        q.then?.();
        const waits = answer()?.dataset.waits;
        if (!next && later) [next, later] = [{address: shown, keep: false, ...later}, null];
        else if (!q.moving && !next && waits && ready.delete(waits)) next = {address: shown, keep: false, then: tell};
      } catch (wrong) {
        if (wrong.name !== "AbortError") fail("The program does not answer. Is it still running?");
      } finally {
        clearTimeout(late);
        asking = null;
        if (!next) answer()?.classList.remove("busy");
      }
    }
  }

  // A question that came to rest is a page of its own for Back and Forward; what
  // follows at once is the same hand still moving.
  const bare = (address) => new URL(address, location.href).href.split("#")[0];
  let here = bare(location.href);
  let settled = -Infinity;
  function settle(address) {
    const now = performance.now();
    if (bare(address) !== here) history[now - settled > 2000 ? "pushState" : "replaceState"](null, "", address);
    [here, settled] = [bare(address), now];
  }
  addEventListener("popstate", () => { if (bare(location.href) !== here) location.replace(bare(location.href)); });

  // which tells an element that has the focus from others, on the next page too.
  const which = (e) => e.id || e.getAttribute("href") || (e.name ? e.name + "=" + e.value : e.textContent);

  // take puts the regions of another page in place of this one's, unless that
  // page could not read the budget: then only what is wrong with it.
  function take(page) {
    const refused = Boolean(cap && page.querySelector("#wrong-cap p"));
    for (const part of page.querySelectorAll("[data-live]")) {
      const mine = document.getElementById(part.id);
      if (!mine || refused && part.id !== "wrong-cap") continue;
      if ("still" in mine.dataset && mine.contains(document.activeElement)) continue;
      const opened = new Set([...mine.querySelectorAll("details[open] > summary")].map((s) => s.textContent));
      const focus = mine.contains(document.activeElement) ? document.activeElement : null;
      const at = focus && which(focus);
      mine.replaceWith(part);
      for (const s of part.querySelectorAll("details > summary")) if (opened.has(s.textContent)) s.parentElement.open = true;
      if (at) [...part.querySelectorAll("a,input,select,button,summary")].find((e) => which(e) === at)?.focus({preventScroll: true});
    }
    for (const wrong of document.querySelectorAll(".wrong")) {
      for (const e of document.querySelectorAll(`[aria-describedby~="${wrong.id}"]`)) {
        if (wrong.childElementCount) e.setAttribute("aria-invalid", "true"); else e.removeAttribute("aria-invalid");
      }
    }
    answer().classList.toggle("unasked", refused);
    if (refused) {
      document.getElementById("wrong-cap").append(Object.assign(document.createElement("p"), {className: "complaint", textContent: "The answer shown is still the one before."}));
      return false;
    }
    document.title = page.title;
    document.body.dataset.generation = page.body.dataset.generation;
    document.body.dataset.address = page.body.dataset.address;
    budget(page);
    printing();
    reading();
    return true;
  }

  // budget brings field and slider to the budget that a page answers, unless a
  // newer one is on its way: there is one budget.
  function budget(page) {
    const theirs = page.getElementById("slider");
    if (!slider || !theirs) return;
    if (!next && !held) {
      for (const name of ["min", "max", "step"]) slider.setAttribute(name, theirs.getAttribute(name));
      slider.value = theirs.getAttribute("value");
      const sum = page.getElementById("cap").value;
      if (document.activeElement !== cap && Number(cap.value) !== Number(sum)) cap.value = sum;
    }
    slider.setAttribute("aria-valuetext", theirs.getAttribute("aria-valuetext"));
  }

  function say(text) { document.getElementById("moved").textContent = text; }

  // fail says why there is no answer; the one shown is to another question.
  let failed = false;
  function fail(text) {
    failed = true;
    say(text);
    answer()?.classList.add("unasked");
  }

  // tell says an answer to those who do not see it, once it stays.
  function tell() {
    const line = document.getElementById("said");
    if (line && line.textContent !== summary()) line.textContent = summary();
  }

  function address() {
    const values = new URLSearchParams(new FormData(form));
    return form.getAttribute("action") + "?" + values;
  }

  if (form) {
    slider.hidden = false;
    let rest = 0;
    const move = (moving, wait) => {
      say(""); // what files changed is not what this answer is about
      clearTimeout(rest);
      const begin = () => want(address(), {moving, then: moving ? null : tell});
      if (wait) rest = setTimeout(begin, wait); else begin();
    };
    slider.addEventListener("pointerdown", () => { held = true; });
    for (const end of ["pointerup", "pointercancel", "blur"]) slider.addEventListener(end, () => { held = false; });
    slider.addEventListener("input", () => { cap.value = slider.value; move(true, 0); });
    slider.addEventListener("change", () => { held = false; move(false, 120); });
    cap.addEventListener("input", () => {
      if (Number(cap.value) > 0) slider.value = cap.value;
      if (cap.value.trim()) move(false, 350);
    });
    form.addEventListener("change", (e) => {
      if (e.target === slider || e.target === cap) return;
      move(false, 0);
    });
    form.addEventListener("submit", (e) => { e.preventDefault(); move(false, 0); });

    // Parts by name: what is typed is looked for, and a further field waits.
    let typing = 0;
    form.addEventListener("input", (e) => {
      const field = e.target;
      if (field.getAttribute?.("list") !== "parts") return;
      if (field.value && field === [...form.querySelectorAll(`input[name="${field.name}"]`)].pop()) {
        const more = field.cloneNode();
        more.value = "";
        field.after(more);
      }
      clearTimeout(typing);
      typing = setTimeout(async () => {
        const reply = await fetch("/parts?word=" + encodeURIComponent(field.value), {credentials: "same-origin"}).catch(() => null);
        if (!reply?.ok) return;
        const found = (await reply.json()).parts.map((p) => Object.assign(document.createElement("option"), {value: p.sku, textContent: p.name}));
        document.getElementById("parts").replaceChildren(...found);
      }, 120);
    });
  }

  // A click on a step of the ladder moves the budget there.
  document.addEventListener("click", (e) => {
    const step = e.target.closest?.("a.step, a.stepcard");
    if (!step || !form || e.ctrlKey || e.metaKey || e.shiftKey || e.button) return;
    const url = new URL(step.getAttribute("href"), location.href);
    if (url.pathname !== form.getAttribute("action") && url.pathname !== "/") return; // another view: a plain link
    e.preventDefault();
    say("");
    cap.blur();
    want(form.getAttribute("action") + url.search, {then: tell});
  });

  // A form that changes something goes once, however often its button is pressed.
  let sent = new WeakSet();
  addEventListener("pageshow", () => { sent = new WeakSet(); });
  document.addEventListener("submit", (e) => {
    if (e.target.method !== "post" || e.defaultPrevented) return;
    if (sent.has(e.target)) return e.preventDefault();
    sent.add(e.target);
    setTimeout(() => sent.delete(e.target), 5000); // whoever stopped it may try again
  });

  function printing() {
    const button = document.getElementById("print");
    if (!button) return;
    button.hidden = false;
    button.onclick = () => window.print();
  }
  printing();

  // A curve is read off point by point: by a pointer over it, or by the keys of
  // its slider, which says each point to those who do not see it.
  function reading() {
    for (const slide of document.querySelectorAll(".readoff input:not([data-set])")) {
      slide.dataset.set = "yes";
      slide.parentElement.hidden = false;
      const svg = slide.closest("figure").querySelector("svg");
      const curve = JSON.parse(slide.dataset.curve);
      const cursor = document.createElementNS("http://www.w3.org/2000/svg", "path");
      cursor.setAttribute("class", "cursor");
      const show = (i) => {
        slide.value = i;
        slide.setAttribute("aria-valuetext", curve.words[i]);
        slide.parentElement.querySelector("output").textContent = curve.words[i];
        cursor.setAttribute("d", `M${curve.x[i]} ${slide.dataset.top}V${slide.dataset.bottom}M${curve.x[i] - 4} ${curve.y[i]}a4 4 0 1 0 8 0a4 4 0 1 0 -8 0`);
        if (!cursor.isConnected) svg.append(cursor);
      };
      slide.addEventListener("input", () => show(Number(slide.value)));
      svg.addEventListener("pointermove", (e) => {
        const box = svg.getBoundingClientRect(), x = (e.clientX - box.left) * svg.viewBox.baseVal.width / box.width;
        let at = 0;
        curve.x.forEach((v, i) => { if (Math.abs(v - x) < Math.abs(curve.x[at] - x)) at = i; });
        show(at);
      });
    }
  }
  reading();

  // News: files that changed, and what was still being worked out. A note that
  // was read can be put away, also on the pages that come after.
  const box = document.getElementById("news");
  function dismissable() {
    if (!box.childElementCount) return;
    if (sessionStorage.getItem("read") === box.dataset.at) { box.replaceChildren(); return; }
    const button = Object.assign(document.createElement("button"), {type: "button", className: "plain", textContent: "Put away"});
    button.addEventListener("click", () => { sessionStorage.setItem("read", box.dataset.at); box.replaceChildren(); });
    box.append(button);
  }
  dismissable();

  const news = new EventSource("/events");
  function changed(n) {
    const before = summary();
    box.className = n.trouble ? "news trouble" : "news";
    box.dataset.at = n.at;
    const title = document.createElement("p");
    title.append(Object.assign(document.createElement("strong"), {textContent: n.trouble ? "The files have a mistake" : "The files changed"}), ` at ${n.at}`);
    const list = document.createElement("ul");
    for (const line of n.lines) list.append(Object.assign(document.createElement("li"), {textContent: line}));
    box.replaceChildren(title, list);
    dismissable();
    again(() => {
      const after = summary();
      if (before && after) say(before === after ? `Still ${after}.` : `Was ${before}, is now ${after}.`);
    });
  }
  // again asks what is shown once more: behind what somebody just asked, which
  // may have been answered before things changed.
  function again(then) {
    if (asking || next) later = {then}; else want(shown, {keep: false, then});
  }
  news.addEventListener("changed", (e) => changed(JSON.parse(e.data)));
  news.addEventListener("ready", (e) => {
    const key = JSON.parse(e.data);
    if (answer()?.dataset.waits === key && !asking && !next) { want(shown, {keep: false, then: tell}); return; }
    if (ready.size > 64) ready.clear();
    ready.add(key);
  });
  // Another start of the program, or something that was missed.
  news.addEventListener("stock", (e) => {
    if (e.data !== document.body.dataset.generation || answer()?.dataset.waits) again();
  });
})();
