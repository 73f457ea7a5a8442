// Answers for the shop where there is no signal, with what the page took along
// while there was one. It takes nothing along by itself but files whose names
// change with their content, and it never posts.
"use strict";

const FILES = "files.1";
const PATIENCE = 5000; // ms that a page is waited for where a kept one is at hand
// Pages that are right whatever follows the question mark: the form reads the
// stop and the kind of visit from its address itself.
const whole = /^\/(tanks\/[^/]+\/visits\/new|visits\/[^/]+)$/;
const hashed = /^\/static\/.+\.[0-9a-f]{16}\.[a-z]+$/;

self.addEventListener("install", () => self.skipWaiting());
self.addEventListener("activate", (e) => e.waitUntil(self.clients.claim()));

// How to get in is on this tablet for the day alone: the cache's name ends with
// the moment at which it is to go.
const forget = async () => {
  for (const name of await caches.keys()) {
    if (name.startsWith("access.") && Number(name.split(".").pop()) < Date.now()) await caches.delete(name);
  }
};

const file = async (request) => {
  const cache = await caches.open(FILES);
  const had = await cache.match(request.url);
  if (had) return had;
  const answer = await fetch(request);
  if (answer.ok && !answer.redirected && answer.type === "basic") await cache.put(request.url, answer.clone());
  return answer;
};

const kept = async (url) => {
  await forget();
  for (const name of (await caches.keys()).filter((n) => /^(pages|access)\./.test(n)).sort().reverse()) {
    const cache = await caches.open(name);
    const had = (await cache.match(url)) ?? (whole.test(new URL(url).pathname) ? await cache.match(url, { ignoreSearch: true }) : undefined);
    if (had) return had;
  }
  return null;
};

const nothing = async () => {
  const style = (await (await caches.open(FILES)).keys()).map((k) => new URL(k.url).pathname).find((p) => /^\/static\/house\.[0-9a-f]{16}\.css$/.test(p));
  return new Response(
    `<!doctype html><html lang="en"><head><meta charset="utf-8"><meta name="viewport" content="width=device-width, initial-scale=1">
<meta name="color-scheme" content="light dark"><title>No signal</title>${style ? `<link rel="stylesheet" href="${style}">` : ""}</head>
<body><main class="page"><header class="page-head"><h1>No signal</h1></header>
<p>This page is not on this tablet. What you have written down is kept and is sent by itself.</p><p><a class="button" href="/">My round</a></p></main></body></html>`,
    { status: 503, headers: { "Content-Type": "text/html; charset=utf-8", "Cache-Control": "no-store" } },
  );
};

const page = async (request) => {
  const had = await kept(request.url);
  const control = new AbortController();
  const late = had ? setTimeout(() => control.abort(), PATIENCE) : 0;
  try {
    // A page that is sent elsewhere (to sign in) goes through as it is.
    const answer = await fetch(request, { signal: control.signal });
    return had && answer.status >= 500 ? had : answer;
  } catch {
    return had ?? nothing();
  } finally {
    clearTimeout(late);
  }
};

self.addEventListener("fetch", (e) => {
  const url = new URL(e.request.url);
  if (e.request.method !== "GET" || url.origin !== self.location.origin) return;
  if (hashed.test(url.pathname)) e.respondWith(file(e.request));
  else if (e.request.mode === "navigate" && !url.pathname.startsWith("/s/")) e.respondWith(page(e.request));
});
