// What this tablet keeps for itself: drafts as they are typed, and visits on
// their way. A visit leaves the outbox only when the server names it.
"use strict";

(() => {
  const house = (globalThis.scaperound ??= {});
  const NAME = "scaperound";

  let opened = null;
  const open = () =>
    (opened ??= new Promise((yes, no) => {
      const ask = indexedDB.open(NAME, 1);
      ask.onupgradeneeded = () => {
        ask.result.createObjectStore("drafts", { keyPath: "key" });
        ask.result.createObjectStore("outbox", { keyPath: "revision" });
      };
      ask.onsuccess = () => yes(ask.result);
      ask.onerror = () => no(ask.error);
      ask.onblocked = () => no(new Error("the tablet's own store is held by an older page"));
    }));

  const run = async (store, mode, act) => {
    const db = await open();
    return new Promise((yes, no) => {
      // Strict: the answer comes when it is on the disk, not before.
      const tx = db.transaction(store, mode, { durability: "strict" });
      const ask = act(tx.objectStore(store));
      tx.oncomplete = () => yes(ask?.result);
      tx.onerror = () => no(tx.error);
      tx.onabort = () => no(tx.error ?? new Error("the tablet's own store gave up"));
    });
  };

  const shelf = (store) => ({
    get: (key) => run(store, "readonly", (s) => s.get(key)),
    all: () => run(store, "readonly", (s) => s.getAll()),
    put: (value) => run(store, "readwrite", (s) => s.put(value)),
    drop: (key) => run(store, "readwrite", (s) => s.delete(key)),
  });
  house.drafts = shelf("drafts");
  house.outbox = shelf("outbox");

  // A key: random (UUID version 4). Written out, because the ready-made one is
  // missing where the page came over plain http.
  house.newID = () => {
    const b = crypto.getRandomValues(new Uint8Array(16));
    b[6] = (b[6] & 0x0f) | 0x40;
    b[8] = (b[8] & 0x3f) | 0x80;
    const h = [...b].map((x) => x.toString(16).padStart(2, "0")).join("");
    return `${h.slice(0, 8)}-${h.slice(8, 12)}-${h.slice(12, 16)}-${h.slice(16, 20)}-${h.slice(20)}`;
  };

  // One sender at a time, in all tabs together.
  const alone = (act) => (navigator.locks ? navigator.locks.request("scaperound-sending", act) : act());

  // post sends one frozen visit and says what became of it:
  // kept, refused, signed-out, other-person, waiting.
  const post = async (item, again) => {
    const body = new URLSearchParams(item.body);
    body.set("sent", new Date().toISOString());
    if (again) body.set("offline", "1");
    let answer, said;
    try {
      answer = await fetch(item.to, {
        method: "POST", body, redirect: "error", credentials: "same-origin",
        headers: { Accept: "application/json" }, signal: AbortSignal.timeout(60000),
      });
      said = await answer.json();
    } catch {
      return { state: "waiting" };
    }
    if ((answer.status === 200 || answer.status === 201) && said.visit === item.visit) {
      return { state: "kept", said };
    }
    if (answer.status === 401) return { state: "signed-out", said };
    if (answer.status === 409 && said.error === "other-person") return { state: "other-person", said };
    if (answer.status >= 500 || answer.status === 429 || answer.status === 200 || answer.status === 201) return { state: "waiting", said };
    return { state: "refused", status: answer.status, said };
  };

  // The last ones that arrived, so that a tab whose visit has left the outbox
  // knows whether it was sent or taken back to be changed.
  const ARRIVED = "scaperound-arrived";
  const arrived = () => {
    try {
      return JSON.parse(localStorage.getItem(ARRIVED) ?? "[]");
    } catch {
      return [];
    }
  };
  const noteArrived = (revision) => {
    try {
      localStorage.setItem(ARRIVED, JSON.stringify([...arrived(), revision].slice(-50)));
    } catch {
      // Then a tab that asks loads its page again, which tells it.
    }
  };

  // send sends one visit of the outbox and notes the outcome there.
  house.send = (item, again) =>
    alone(async () => {
      const held = await house.outbox.get(item.revision);
      // Another tab was quicker: it was sent there, or taken back to be changed.
      if (!held) return arrived().includes(item.revision) ? { state: "kept", said: { visit: item.visit } } : { state: "gone" };
      const out = await post(held, again);
      if (out.state === "kept") {
        noteArrived(held.revision);
        await house.outbox.drop(held.revision);
        dispatchEvent(new CustomEvent("scaperound-kept", { detail: { revision: held.revision, said: out.said } }));
      } else await house.outbox.put({ ...held, state: out.state, said: out.said ?? null, status: out.status ?? 0, tried: Date.now() });
      return out;
    });

  let later = 0;
  let pause = 15000; // ms
  const tryLater = () => {
    clearTimeout(later);
    later = setTimeout(house.sendAll, pause);
    pause = Math.min(pause * 2, 300000);
  };

  // sendAll sends what waits. What was refused waits for its person instead. A
  // dead spot that the browser does not notice ends without a word, so it is
  // tried again by and by.
  house.sendAll = async () => {
    let kept = 0;
    clearTimeout(later);
    for (const item of await house.outbox.all()) {
      if (item.state === "refused" || item.person !== house.person()) continue;
      const out = await house.send(item, true);
      if (out.state === "kept") {
        kept++;
        pause = 15000;
      }
      if (out.state === "waiting") tryLater();
      if (out.state === "signed-out" || out.state === "other-person") break;
    }
    await house.showOutbox();
    return kept;
  };

  // Who the page belongs to: it stands in every page that sends.
  house.person = () => document.querySelector("[data-person]")?.dataset.person ?? "";

  const notes = new Map(); // why one that was refused could not be opened again
  const line = (item) => {
    const li = document.createElement("li");
    const text = document.createElement("p");
    const links = Object.assign(document.createElement("div"), { className: "links" });
    // The hour is the shop's, whatever zone the tablet believes in.
    const when = item.clock ?? new Date(item.at).toLocaleTimeString([], { hour: "2-digit", minute: "2-digit" });
    let says = `${item.name}, ${when}: kept on this tablet, not sent yet.`;
    if (item.state === "signed-out") says = `${item.name}, ${when}: kept on this tablet. Sign in, and it is sent.`;
    if (item.state === "other-person") says = `${item.name}, ${when}: kept on this tablet. Somebody else is signed in; it is sent when you are again.`;
    if (item.state === "refused") {
      const why = (item.said?.faults ?? []).map((f) => f.text).join(" ") || item.said?.text || "";
      const what = Object.assign(document.createElement("span"), { className: "urgent-text", textContent: `${item.name}, ${when}: not taken.` });
      text.append(what, ` ${why}`);
    } else text.textContent = says;
    li.append(text);
    if (item.state === "signed-out") {
      const to = Object.assign(document.createElement("a"), { className: "button", textContent: "Sign in" });
      to.href = `/sign-in?next=${encodeURIComponent(location.pathname)}`;
      links.append(to);
    }
    if (item.state === "refused") {
      const back = document.createElement("a");
      back.className = "button";
      back.href = item.page;
      back.textContent = "Open it again";
      back.addEventListener("click", async (e) => {
        e.preventDefault();
        const why = await house.reopen(item);
        if (why === "") {
          location.href = item.page;
          return;
        }
        notes.set(item.revision, why); // the list may be drawn anew at any moment
        await house.showOutbox();
      });
      links.append(back);
      if (item.said?.error === "edited-meanwhile") {
        const newer = Object.assign(document.createElement("a"), { className: "button", textContent: "See the newer one" });
        newer.href = `/visits/${item.visit}`;
        links.append(newer);
      }
    }
    if (links.childElementCount > 0) li.append(links);
    if (notes.has(item.revision)) {
      const p = Object.assign(document.createElement("p"), { textContent: notes.get(item.revision) });
      p.setAttribute("role", "status");
      li.append(p);
    }
    return li;
  };

  // reopen turns a refused visit back into a draft. Nothing was stored under
  // its id, except where somebody else's came first: then it gets a new one. One
  // that is begun at the same tank is not written over: it says why, or nothing.
  house.reopen = async (item, own = false) => {
    const { key } = item.draft;
    const there = await house.drafts.get(key);
    if (there && there.revision !== item.revision) return `Another visit to ${item.name} is begun on this tablet. Send that one first, or begin it afresh; this one waits here.`;
    const free = own || !navigator.locks || (await navigator.locks.request(`scaperound-draft ${key}`, { ifAvailable: true }, (lock) => lock !== null));
    if (!free) return `The form of ${item.name} is open in another tab. Close it there first; this one waits here.`;
    const pairs = [...new URLSearchParams(item.body)];
    const taken = item.said?.error === "other-content" || item.said?.error === "edited-meanwhile";
    await house.drafts.put({ ...item.draft, pairs, revision: taken ? house.newID() : item.revision, saved: Date.now() });
    await house.outbox.drop(item.revision);
    return "";
  };

  house.showOutbox = async () => {
    const places = document.querySelectorAll("[data-outbox]");
    if (places.length === 0) return;
    // What needs a hand comes first, then what was written down first.
    const turn = (i) => (i.state === "refused" ? 0 : i.state === "signed-out" ? 1 : 2);
    const mine = (await house.outbox.all()).filter((i) => i.person === house.person()).sort((a, b) => turn(a) - turn(b) || a.at - b.at);
    const drafts = (await house.drafts.all()).filter((d) => d.person === house.person());
    for (const place of places) {
      // A visit's own page tells of what is on its way; what is only begun is
      // one tap away there already.
      const begun = place.dataset.outbox === "unsent" ? [] : drafts;
      place.replaceChildren();
      place.hidden = mine.length === 0 && begun.length === 0;
      if (place.hidden) continue;
      const list = document.createElement("ul");
      list.className = "rows";
      list.append(...mine.map(line));
      for (const d of begun) {
        const li = document.createElement("li");
        const a = document.createElement("a");
        a.className = "row";
        a.href = d.page;
        a.textContent = `${d.name}: begun, not finished`;
        li.append(a);
        list.append(li);
      }
      place.append(list);
      if (mine.some((i) => i.state !== "refused")) {
        const button = document.createElement("button");
        button.type = "button";
        button.textContent = "Send now";
        button.addEventListener("click", () => house.sendAll());
        place.append(button);
      }
    }
  };

  house.ready = open().then(() => true, () => false);
  addEventListener("online", () => house.sendAll());
  document.addEventListener("visibilitychange", () => document.visibilityState === "visible" && house.person() !== "" && house.ready.then((ok) => ok && house.sendAll()));
  document.addEventListener("DOMContentLoaded", async () => {
    if (house.person() === "" || !(await house.ready)) return;
    await house.showOutbox();
    await house.sendAll();
  });
})();
