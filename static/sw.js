// The shell, and the last seen Today, Month and Larder, for a phone without signal. Nothing that is sent is ever kept here.
"use strict";
var SHELL = "shell-@VERSION@", SEEN = "seen", HTML = "text/html; charset=utf-8";
var FILES = ["@FILES@"];

self.addEventListener("install", function (event) {
  event.waitUntil(caches.open(SHELL).then(function (c) { return c.addAll(FILES); }).then(function () { return self.skipWaiting(); }));
});
self.addEventListener("activate", function (event) {
  event.waitUntil(caches.keys().then(function (names) {
    return Promise.all(names.filter(function (n) { return n !== SHELL && n !== SEEN; }).map(function (n) { return caches.delete(n); }));
  }).then(function () { return self.clients.claim(); }).then(function () {
    return self.clients.matchAll({ type: "window" }); // the page that was open before this began
  }).then(function (open) {
    return Promise.all(open.map(function (one) { return slot(new URL(one.url).pathname) && fetch(one.url).then(kept, function () { return null; }); }));
  }));
});

function slot(path) {
  if (path === "/" || /^\/\d{4}\/\d{2}$/.test(path)) return "/~month";
  return path === "/today" || path === "/larder" ? "/~" + path.slice(1) : "";
}

function kept(answer) {
  var to = new URL(answer.url), name = slot(to.pathname);
  if (answer.status === 401 || to.pathname === "/let-in") return caches.delete(SEEN).then(function () { return answer; });
  if (!name || !answer.ok || to.search.indexOf("as=grid") >= 0) return answer;
  return Promise.all([answer.clone().blob(), caches.open(SEEN)]).then(function (both) {
    var head = { "Content-Type": HTML, "X-Seen": new Date().toISOString() };
    var csp = answer.headers.get("Content-Security-Policy");
    if (csp) head["Content-Security-Policy"] = csp;
    return both[1].put(name, new Response(both[0], { headers: head }));
  }).then(function () { return answer; });
}

function last(path) {
  return caches.open(SEEN).then(function (c) { return c.match(slot(path) || "/~none"); }).then(function (found) {
    if (!found) return new Response("<!doctype html><html lang=en-GB><meta name=viewport content='width=device-width'><title>No signal</title><h1>No signal</h1><p>This page is not kept on this phone. <a href=/today>Today</a>", { status: 503, headers: { "Content-Type": HTML } });
    var at = new Date(found.headers.get("X-Seen"));
    var when = at.toLocaleDateString("en-GB", { day: "numeric", month: "long" }) + " at " + at.getHours() + "." + String(at.getMinutes()).padStart(2, "0");
    return found.text().then(function (text) {
      return new Response(text.replace("<main ", "<p class=\"seen\" role=\"status\">As last seen on " + when + ": no signal.</p><main "), { headers: found.headers });
    });
  });
}

self.addEventListener("fetch", function (event) {
  var asked = event.request, to = new URL(asked.url);
  if (asked.method !== "GET" || to.origin !== location.origin) return;
  if (to.pathname.startsWith("/static/")) {
    event.respondWith(caches.match(asked).then(function (found) { return found || fetch(asked); }));
  } else if (asked.mode === "navigate") {
    event.respondWith(fetch(asked).then(function (answer) { return answer.type === "opaqueredirect" ? answer : kept(answer); }, function () { return last(to.pathname); }));
  }
});
