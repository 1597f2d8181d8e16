// What is tapped is written on this phone first, then sent, and kept until the house has it. Without storage, forms go the ordinary way.
(() => {
  "use strict";
  var BOX = "tm.op.", OWNER = "tm.owner", MOST = 500, BATCH = 100, WAIT = 15000;
  var me = hex(), fails = 0, next = 0, sending = false, full = false, note = "", live = {}, stale = false, drawn;

  function hex() {
    return Array.from(crypto.getRandomValues(new Uint8Array(16)), n => (n + 256).toString(16).slice(1)).join("");
  }
  // The day by the phone's own clock, not by that of Greenwich.
  function day(d) { return new Date(d - d.getTimezoneOffset() * 60000).toISOString().slice(0, 10); }

  // ── The box: one key for each, so that two tabs never write over each other; they sort by when they were put in. ──
  function keys() {
    try { return Object.keys(localStorage).filter(k => k.startsWith(BOX)).sort(); } catch { return []; }
  }
  function ops() {
    return keys().map(k => { try { return JSON.parse(localStorage[k]); } catch { return null; } }).filter(Boolean);
  }
  function put(op) {
    try { localStorage.setItem(op.at, JSON.stringify(op)); return true; } catch { return false; }
  }
  function drop(op) { try { localStorage.removeItem(op.at); } catch {} }
  function waiting() { return ops().filter(op => op.state === "waits"); }

  // One more to send; what was put in last sorts last.
  function kept(path, fields, words) {
    var last = keys().pop(), n = last ? parseInt(last.slice(BOX.length), 36) + 1 : 1, id = hex(), now = new Date();
    return {
      at: BOX + ("0000000" + n.toString(36)).slice(-8) + "." + id, id, path, fields,
      on: day(now), made_at: now.toISOString(), state: "waits", tried: 0, words
    };
  }
  function make(form, by) {
    var row = form.closest("[data-task]"), head = document.querySelector("h1"), fields = [], op;
    var name = by && (by.getAttribute("aria-label") || by.textContent.trim());
    new FormData(form, by || undefined).forEach((v, k) => { if (k !== "id") fields.push([k, String(v)]); });
    op = kept(new URL(form.action).pathname, fields, row || !head ? name : head.textContent.trim() + ": " + name);
    op.row = row && row.dataset.task;
    return op;
  }

  document.addEventListener("submit", event => {
    var form = event.target;
    if (!form.hasAttribute("data-keeps") || form.dataset.plain) return;
    var row = form.closest("[data-task]"), before = row && waiting().filter(op => op.row === row.dataset.task).pop();
    if (before && row.classList.contains("waits")) { stop(event); return unsay(before); }
    var op = make(form, event.submitter), first = !waiting().length;
    if (keys().length >= MOST || !put(op)) {
      full = true;
      return show();
    }
    if (first && navigator.onLine && form.hasAttribute("hx-post")) {
      // One row: the page's own script sends it and puts the answer in its place.
      if (form.elements.id) form.elements.id.value = op.id;
      op.tried = 1; op.live = Date.now(); put(op); live[op.id] = form; form.op = op;
      return;
    }
    stop(event);
    live[op.id] = form; form.op = op;
    show(); flush(true);
  }, true);

  function stop(event) { event.preventDefault(); event.stopPropagation(); }

  // A waiting one that was never sent goes out of the box; one whose answer is not known is followed by its undoing.
  function unsay(op) {
    if (!op.tried) { drop(op); return show(); }
    if (op.path !== "/tick") return tell("Take it back once it is sent.");
    put(kept("/undo", op.fields.filter(f => f[0] === "key").concat([["answers", op.id]]), "Take back: " + op.words));
    op.row = null; put(op); show(); flush(true);
  }

  document.addEventListener("htmx:afterRequest", event => {
    var op = event.detail.requestConfig.elt.op, code = event.detail.xhr.status;
    if (!op) return;
    delete live[op.id]; op.live = 0;
    if (event.detail.successful) drop(op);
    else if (code >= 400 && code < 500 && ![401, 408, 425, 429].includes(code)) drop(op); // the row tells why
    else { put(op); fails = 1; next = Date.now() + 2000; if (code === 401) note = letIn(); }
    if (stale && !waiting().length) anew(); else show();
  });

  // ── Sending: one tab at a time, in order, by itself with backing off, or when told to. ──
  function own() {
    try {
      var held = (localStorage[OWNER] || "").split(" ");
      if (held[0] && held[0] !== me && Number(held[1]) > Date.now()) return false;
      localStorage[OWNER] = me + " " + (Date.now() + WAIT + 5000);
      return localStorage[OWNER].startsWith(me);
    } catch { return false; }
  }
  function letIn() {
    if (window.caches) caches.delete("seen"); // a phone that was shown the door keeps no page either
    return "Let this phone in again; what waits stays here.";
  }
  function free() { try { localStorage.removeItem(OWNER); } catch {} }

  function flush(now) {
    var some = waiting().filter(op => !op.live || Date.now() - op.live > WAIT);
    if (!some.length || sending || (!now && Date.now() < next)) return;
    if (navigator.onLine === false || !own()) return rest(some);
    some = some.slice(0, fails > 3 ? 1 : BATCH);
    sending = true;
    some.forEach(op => { op.tried += 1; op.live = 0; put(op); });
    var halt = new AbortController(), timer = setTimeout(() => halt.abort(), WAIT);
    fetch("/outbox", {
      method: "POST", headers: { "Content-Type": "application/json" }, signal: halt.signal, redirect: "manual",
      body: JSON.stringify({ ops: some }, ["ops", "id", "path", "fields", "on", "made_at", "sure"])
    }).then(answer => {
      if (answer.ok) return answer.json().then(said => taken(some, said.answers));
      if (answer.status === 401 || answer.type === "opaqueredirect") note = letIn();
      else if (answer.status === 429) note = "The house asks to wait a little.";
      else if (answer.status < 500 && ![408, 425].includes(answer.status) && some.length === 1) {
        return answer.json().catch(() => ({})).then(said => {
          some[0].state = "refused"; some[0].says = said.says || ""; put(some[0]);
        });
      }
      back(Number(answer.headers.get("Retry-After")) * 1000);
    }).catch(() => { note = ""; back(0); }).finally(() => {
      clearTimeout(timer); sending = false;
      free();
      rest(some);
    });
  }
  // What is kept leaves an empty form, so that nobody sends it once more.
  function rest(some) {
    some.forEach(op => {
      var form = live[op.id];
      delete live[op.id];
      if (form && !form.closest("[data-task]")) { form.reset(); stale = true; tell("It is kept on this phone until it is sent."); }
    });
    show();
  }
  function back(least) {
    fails += 1;
    next = Date.now() + Math.max(least || 0, Math.min(60, 2 ** fails) * 1000 * (0.5 + Math.random() / 2));
  }

  function taken(some, answers) {
    var said = [], later = false;
    fails = 0; note = "";
    some.forEach(op => {
      var one = answers.find(a => a.id === op.id), form = live[op.id];
      delete live[op.id];
      if (!one || one.came === "later") { later = true; note = one ? one.says : ""; return; }
      if (one.came === "refused" && form && form.isConnected && op.tried === 1 && !form.hasAttribute("hx-post")) {
        drop(op); form.dataset.plain = 1; form.requestSubmit(); return; // the page says beside each field what is wrong
      }
      if (one.came === "refused" || one.came === "asked") { op.state = one.came; op.says = one.says; op.day = one.day; put(op); return; }
      drop(op);
      if (form && form.isConnected && one.href && some.length === 1) location.assign(one.href);
      else if (one.came === "first" || said.length < 3) said.push(one.says || "It is sent.");
    });
    if (later) back(0);
    if (said.length) tell([...new Set(said)].join(" "));
    if (waiting().length && !later) setTimeout(flush, 50, true); else anew();
  }

  // The page as it is now, unless somebody is typing into it.
  function anew() {
    var main = document.getElementById("main");
    var typed = [...main.querySelectorAll("input:not([type=hidden]),textarea")].some(i => i.value !== i.defaultValue || i.checked !== i.defaultChecked);
    if (typed || waiting().length || !window.htmx || !(stale || main.querySelector(".waits"))) return show();
    stale = true;
    fetch(location.href, { headers: { "HX-Request": "false" } }).then(a => a.ok ? a.text() : "").then(text => {
      var fresh = text && new DOMParser().parseFromString(text, "text/html").getElementById("main");
      // Tapped while it was on its way: this page would not know of it, and is asked for again at the end of that.
      if (fresh && !waiting().length) { main.replaceWith(fresh); htmx.process(fresh); stale = false; }
      show();
    }).catch(show);
  }

  // ── What is seen: a count with what waits, refused ones with their sentence, and a mark on the rows. ──
  function tell(sentence) {
    var line = make_("p", sentence), status = document.getElementById("status");
    if (status) { status.className = "status"; status.replaceChildren(line); }
  }
  function make_(name, text, kind) {
    var made = document.createElement(name);
    made.textContent = text || "";
    if (kind) made.className = kind;
    return made;
  }
  function button(text, does) {
    var made = make_("button", text, "quiet");
    made.type = "button"; made.addEventListener("click", does);
    return made;
  }
  function line(op) {
    var made = make_("li"), about = make_("p", op.words);
    made.append(about);
    if (op.says) about.append(make_("small", " " + op.says));
    if (op.state === "asked") {
      var when = document.createElement("input");
      when.type = "date"; when.value = when.max = op.day; when.setAttribute("aria-label", "When was it?");
      made.append(when, button("It was then", () => { op.on = when.value; op.sure = true; op.state = "waits"; op.says = ""; put(op); show(); flush(true); }));
    }
    made.append(button(op.state === "waits" ? "Take back" : "Put away", () => { if (op.state === "waits") unsay(op); else { drop(op); show(); } }));
    return made;
  }
  function show() {
    var box = document.getElementById("box"), all = ops().filter(op => !live[op.id] || op.state !== "waits" || !op.live);
    var count = all.filter(op => op.state === "waits").length, odd = all.length - count, mine = {};
    all.forEach(op => { if (op.row && op.state === "waits") mine[op.row] = true; });
    document.querySelectorAll("[data-task]").forEach(row => {
      var is = Boolean(mine[row.dataset.task]), mark = row.querySelector(".sends");
      row.classList.toggle("waits", is);
      if (is && !mark) { var head = row.querySelector("h3"); if (head) head.append(make_("small", " waits to be sent", "sends")); }
      if (!is && mark) mark.remove();
    });
    if (!box) return;
    box.hidden = !all.length && !full;
    if (!all.length) return box.replaceChildren(full ? make_("p", "This phone has no room to keep what is tapped. It is sent at once; see that it is done.") : "");
    var open = box.querySelector("details[open]"), more = make_("details"), list = make_("ul");
    var lead = [count ? count + " waiting to be sent" : "", odd ? odd + " to look at" : ""].filter(Boolean).join(" · ");
    more.open = Boolean(open || (odd && !count));
    more.append(make_("summary", lead)); all.forEach(op => { list.append(line(op)); }); more.append(list);
    box.replaceChildren(more);
    if (note) box.append(make_("p", note));
    if (count) box.append(button("Send now", () => { fails = 0; flush(true); }));
  }

  function soon() { if (document.visibilityState !== "hidden") { next = 0; flush(true); show(); } }
  addEventListener("online", soon);
  addEventListener("pageshow", soon);
  addEventListener("pagehide", () => { if (sending) free(); });
  addEventListener("storage", () => { clearTimeout(drawn); drawn = setTimeout(anew, 50); }); // another tab has kept or sent
  document.addEventListener("visibilitychange", soon);
  document.addEventListener("htmx:afterSettle", show);
  setInterval(() => { if (document.visibilityState !== "hidden") flush(false); }, 5000);
  addEventListener("beforeunload", event => { if (!window.isSecureContext && waiting().length) event.preventDefault(); });
  soon();

  // Over https the pages themselves open without signal.
  if (navigator.serviceWorker) navigator.serviceWorker.register("/sw.js").catch(() => null);
})();
