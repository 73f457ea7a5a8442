// Answers for the shop where there is no signal, with what the page took along
// while there was one. It takes nothing along by itself but files whose names
// change with their content, and of its own it never posts.
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

const told = async (title, text) => {
  const style = (await (await caches.open(FILES)).keys()).map((k) => new URL(k.url).pathname).find((p) => /^\/static\/house\.[0-9a-f]{16}\.css$/.test(p));
  return new Response(
    `<!doctype html><html lang="en"><head><meta charset="utf-8"><meta name="viewport" content="width=device-width, initial-scale=1">
<meta name="color-scheme" content="light dark"><title>${title}</title>${style ? `<link rel="stylesheet" href="${style}">` : ""}</head>
<body><main class="page"><header class="page-head"><h1>${title}</h1></header>
<div class="leaf-body">${text}<p><a class="button" href="/">My round</a></p></div></main></body></html>`,
    { status: 503, headers: { "Content-Type": "text/html; charset=utf-8", "Cache-Control": "no-store" } },
  );
};

const nothing = () => told("No signal", "<p>This page is not on this tablet. What you have written down is kept and is sent by itself.</p>");

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

// A plain form that nobody heard: a page that keeps what it said and sends it when
// asked to. What is made by a form is made once, however often it is sent.
const escaped = (s) => s.replace(/[&<>"']/g, (c) => `&#${c.charCodeAt(0)};`);
const unheard = async (request) => {
  const path = new URL(request.url).pathname;
  const pairs = [...(await request.formData().catch(() => []))];
  const whole = pairs.every(([name, value]) => typeof value === "string" && !/password/.test(name));
  const fields = whole ? pairs.map(([name, value]) => `<input type="hidden" name="${escaped(name)}" value="${escaped(value)}">`).join("") : "";
  const tank = /^(\/tanks\/[^/]+)\/arrive$/.exec(path)?.[1];
  return told("Not sent", `<p>${navigator.onLine ? "No answer came from the shop, so this may not have been sent." : "There is no signal, and nothing was sent."}</p>
${tank ? `<p>The visit can be written down all the same; its form asks when you arrived.</p><p><a class="button primary" href="${escaped(tank)}/visits/new">Write the visit down</a></p>` : ""}
${whole ? `${pairs.length > 0 ? "<p>What you typed is kept on this page as long as it is open.</p>" : ""}<form method="post" action="${escaped(request.url)}">${fields}<button type="submit">Send it now</button></form>` : "<p>Go back and send it again when there is a signal.</p>"}
${request.referrer ? `<p><a href="${escaped(request.referrer)}">${pairs.length > 0 ? "Back to where it was typed" : "Back"}</a></p>` : ""}`);
};

const posted = async (request) => {
  const copy = request.clone();
  try {
    return await fetch(request);
  } catch {
    return unheard(copy);
  }
};

self.addEventListener("fetch", (e) => {
  const url = new URL(e.request.url);
  if (url.origin !== self.location.origin) return;
  if (e.request.method === "POST" && e.request.mode === "navigate" && !url.pathname.startsWith("/s/")) e.respondWith(posted(e.request));
  if (e.request.method !== "GET") return;
  if (hashed.test(url.pathname)) e.respondWith(file(e.request));
  else if (e.request.mode === "navigate" && !url.pathname.startsWith("/s/")) e.respondWith(page(e.request));
});
