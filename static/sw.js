// The shell, and the last seen Today, Month and Larder, for a phone without signal. Nothing that is sent is ever kept here.
"use strict";
const SHELL = "shell-@VERSION@", SEEN = "seen", HTML = "text/html; charset=utf-8";
const FILES = ["@FILES@"];

self.addEventListener("install", event => {
  event.waitUntil(caches.open(SHELL).then(c => c.addAll(FILES)).then(() => self.skipWaiting()));
});
self.addEventListener("activate", event => event.waitUntil(renew()));

// What was seen, and the page that is open, are fetched anew, for they name the files of another shell; only then that one goes.
async function renew() {
  await self.clients.claim();
  const seen = await (await caches.open(SEEN)).keys(), open = await self.clients.matchAll({ type: "window" });
  for (const one of [...seen, ...open]) if (slot(new URL(one.url).pathname)) await kept(await fetch(one.url));
  for (const name of await caches.keys()) if (name !== SHELL && name !== SEEN) await caches.delete(name);
}

// The name under which a page is kept, itself the address of one like it.
function slot(path) {
  if (/^\/(\d{4}\/\d{2})?$/.test(path)) return "/";
  return path === "/today" || path === "/larder" ? path : "";
}

async function kept(answer) {
  const to = new URL(answer.url), name = slot(to.pathname), at = new Date().toISOString();
  if (answer.status === 401 || to.pathname === "/let-in") await caches.delete(SEEN);
  else if (name && answer.ok && !to.search.includes("as=grid")) {
    // Opened first of all: shown the door while the page still comes, nobody finds again what is put there.
    const seen = await caches.open(SEEN), csp = answer.headers.get("Content-Security-Policy");
    const headers = { "Content-Type": HTML, "X-Seen": at, "Content-Security-Policy": csp };
    await seen.put(name, new Response(await answer.clone().blob(), { headers })).catch(() => null); // there may be no room
  }
  return answer;
}

async function last(path) {
  const found = await (await caches.open(SEEN)).match(slot(path));
  if (!found) return new Response("<!doctype html><html lang=en-GB><meta name=viewport content='width=device-width'><title>No signal</title><h1>No signal</h1><p>This page is not kept on this phone. <a href=/today>Today</a>", { status: 503, headers: { "Content-Type": HTML } });
  const at = new Date(found.headers.get("X-Seen")), text = await found.text();
  const when = at.toLocaleDateString("en-GB", { day: "numeric", month: "long" }) + " at " + at.getHours() + "." + String(at.getMinutes()).padStart(2, "0");
  return new Response(text.replace("<main ", "<p class=\"seen\" role=\"status\">As last seen on " + when + ": no signal.</p><main "), { headers: found.headers });
}

self.addEventListener("fetch", event => {
  const asked = event.request, to = new URL(asked.url);
  if (asked.method !== "GET" || to.origin !== location.origin) return;
  if (to.pathname.startsWith("/static/")) event.respondWith(caches.match(asked).then(found => found || fetch(asked)));
  else if (asked.mode === "navigate") {
    event.respondWith(fetch(asked).then(answer => answer.type === "opaqueredirect" ? answer : kept(answer)).catch(() => last(to.pathname)));
  }
});
