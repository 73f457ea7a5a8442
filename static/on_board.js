// Takes the day along while there is a signal, and says what is on board, how
// old it is and what is unsent.
"use strict";

(() => {
  const place = document.querySelector("[data-on-board]");
  const house = globalThis.scaperound;
  if (!place || !("caches" in globalThis) || !("serviceWorker" in navigator)) return;
  const person = house.person();
  const FILES = "files.1";
  const META = "/on-board";
  const FAR = 3 * 3600 * 1000; // ms that what is not planned for today stays good
  let refused = false;

  const many = (n, one, more) => `${n} ${n === 1 ? one : more}`;

  const show = async (meta, word) => {
    const unsent = (await house.outbox.all()).filter((i) => i.person === person).length;
    // What is wrong first, each matter on a line of its own.
    const lines = [];
    const unkept = unsent === 0 ? "Nothing is unsent." : `${many(unsent, "visit is", "visits are")} unsent.`;
    if (meta) {
      const more = meta.light.length - meta.whole;
      let text = `On board: ${many(meta.whole, "tank", "tanks")} whole`;
      if (more > 0) text += `, ${more} more to write down${meta.files.length > 0 ? " and judge" : ""}`;
      text += `; as of ${meta.as}.`;
      if (meta.missing > 0) text += ` ${many(meta.missing, "page is", "pages are")} missing.`;
      lines.push(word ? `${word} ${text}` : text);
    } else lines.push(`${word ? `${word} ` : ""}Nothing is on board yet.`);
    lines.push(unkept);
    if (refused) lines.push("The browser would not promise to keep what is on this tablet: it may clear it when room is short. Send soon.");
    place.replaceChildren(...lines.map((text) => Object.assign(document.createElement("p"), { className: text === unkept && unsent > 0 ? "" : "quiet", textContent: text })));
    if (meta && word === "No signal.") {
      place.append(fold("Any tank of the shop", meta.light.map((t) => [t.href, `${t.name}, ${t.where}`])));
      if (meta.own?.length > 0) place.append(fold("Your last seven days", meta.own.map((v) => [v.href, `${v.name}, ${v.when}`])));
    }
    place.hidden = false;
  };

  const fold = (title, links) => {
    const list = document.createElement("details");
    list.append(Object.assign(document.createElement("summary"), { textContent: title }));
    const ul = Object.assign(document.createElement("ul"), { className: "rows" });
    for (const [href, text] of links) {
      const li = document.createElement("li");
      li.append(Object.assign(document.createElement("a"), { className: "row", href, textContent: text }));
      ul.append(li);
    }
    list.append(ul);
    return list;
  };

  const had = async () => {
    for (const name of (await caches.keys()).filter((n) => n.startsWith(`pages.${person}.`)).sort().reverse()) {
      const found = await (await caches.open(name)).match(META);
      if (found) return found.json();
    }
    return null;
  };

  const ask = (address) => fetch(address, { redirect: "error", credentials: "same-origin", cache: "no-cache", headers: { Accept: address.endsWith("/board") || address === META ? "application/json" : "text/html" } });

  // take puts one page into a cache, and the files that it names into theirs. A
  // page that leads elsewhere, to sign in or to a refusal, is not taken.
  const take = async (cache, address) => {
    const answer = await ask(address);
    if (!answer.ok || answer.redirected) throw new Error(address);
    const text = await answer.clone().text();
    await cache.put(address, answer);
    return text.match(/\/static\/[\w./-]+\.[0-9a-f]{16}\.[a-z]+/g) ?? [];
  };

  const takeAll = async () => {
    const answer = await ask(META);
    if (!answer.ok) return null;
    const meta = { ...(await answer.json()), at: Date.now(), missing: 0 };
    if (meta.person !== person) return null;
    const pages = await caches.open(`pages.${person}.${meta.day}`);
    const access = await caches.open(`access.${person}.${meta.until}`);
    const files = await caches.open(FILES);
    const wanted = new Set(meta.files);
    // What nobody planned for is taken along too, the form and what judging
    // needs, but not each time that this page is opened.
    const before = await had();
    const good = before?.build === meta.build && Math.abs(Date.now() - before.farAt) < FAR;
    meta.farAt = good ? before.farAt : Date.now();
    meta.farFiles = good ? before.farFiles : [];
    const far = [];
    for (const address of [...meta.light.flatMap((t) => [t.href, t.board]), ...meta.own.map((v) => v.href)]) {
      if (meta.pages.includes(address) || meta.boards.includes(address)) continue;
      if (!good || !(await pages.match(address))) far.push(address);
    }
    const jobs = [...meta.pages, ...meta.boards].map((a) => [pages, a]).concat(meta.private.map((a) => [access, a]), far.map((a) => [pages, a]));
    const total = jobs.length;
    const worker = async () => {
      for (let job = jobs.shift(); job; job = jobs.shift()) {
        try {
          const named = await take(...job);
          for (const f of named) wanted.add(f);
          if (far.includes(job[1])) meta.farFiles = [...new Set([...meta.farFiles, ...named])];
        } catch {
          meta.missing++;
        }
      }
    };
    await Promise.all([worker(), worker(), worker()]);
    if (meta.missing === total) return null; // the signal went
    for (const f of meta.farFiles) wanted.add(f);
    for (const f of wanted) if (!(await files.match(f))) await files.add(f).catch(() => meta.missing++);
    for (const f of await files.keys()) if (!wanted.has(new URL(f.url).pathname)) await files.delete(f);
    await pages.put(META, new Response(JSON.stringify(meta), { headers: { "Content-Type": "application/json" } }));
    for (const name of await caches.keys()) {
      const mine = name === `pages.${person}.${meta.day}` || name === `access.${person}.${meta.until}`;
      if (/^(pages|access)\./.test(name) && !mine) await caches.delete(name);
    }
    return meta;
  };

  const run = async () => {
    if (!(await house.ready)) return;
    await navigator.serviceWorker.register("/sw.js");
    if (navigator.storage?.persist) refused = !(await navigator.storage.persist().catch(() => false));
    // Whoever was here before and did not sign out leaves no pages to this person.
    for (const name of await caches.keys()) if (/^(pages|access)\./.test(name) && name.split(".")[1] !== person) await caches.delete(name);
    const before = await had();
    await show(before, "Looking for the shop …");
    let meta = null;
    try {
      meta = await navigator.locks.request("scaperound-on-board", takeAll);
    } catch {
      meta = null;
    }
    await show(meta ?? before, meta ? "" : "No signal.");
    place.dataset.onBoard = meta ? "taken" : "kept";
  };
  run().catch(() => {
    place.textContent = "This tablet cannot take the day along.";
    place.hidden = false;
  });
})();
