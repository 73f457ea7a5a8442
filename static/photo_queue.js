// Photographs on their way: kept on this tablet apart from the visits, so that
// none of them ever holds one up, and sent one after the other. One leaves only
// when the server names it.
"use strict";

(() => {
  const house = (globalThis.scaperound ??= {});
  const NAME = "scaperound-photographs";
  const DAY = 24 * 3600 * 1000;
  const KEEP = 14 * DAY; // how long it is remembered that one was sent

  let opened = null;
  const open = () =>
    (opened ??= new Promise((yes, no) => {
      const ask = indexedDB.open(NAME, 1);
      ask.onupgradeneeded = () => ask.result.createObjectStore("queue", { keyPath: "id" });
      ask.onsuccess = () => yes(ask.result);
      ask.onerror = () => no(ask.error);
      ask.onblocked = () => no(new Error("the tablet's own store is held by an older page"));
    }));

  const run = async (mode, act) => {
    const db = await open();
    return new Promise((yes, no) => {
      const tx = db.transaction("queue", mode, { durability: "strict" });
      const ask = act(tx.objectStore("queue"));
      tx.oncomplete = () => yes(ask?.result);
      tx.onerror = () => no(tx.error);
      tx.onabort = () => no(tx.error ?? new Error("the tablet's own store gave up"));
    });
  };
  const get = (id) => run("readonly", (s) => s.get(id));
  const put = (value) => run("readwrite", (s) => s.put(value));
  const drop = (id) => run("readwrite", (s) => s.delete(id));
  const all = async () => (await run("readonly", (s) => s.getAll())).sort((a, b) => a.at - b.at);
  const mine = async () => (await all()).filter((x) => x.person === house.person());

  // post sends one photograph and says what became of it: kept, refused,
  // signed-out (or somebody else is signed in), waiting.
  const post = async (item) => {
    const body = new FormData();
    const fields = { photo: item.id, visit: item.visit, purpose: item.purpose, ord: String(item.ord), taken: item.taken, day: item.day ?? "", staff: item.person, sent: new Date().toISOString() };
    for (const [name, value] of Object.entries(fields)) body.set(name, value);
    body.set("picture", new Blob([item.picture], { type: "image/jpeg" }), "photograph.jpg");
    let answer, said;
    try {
      answer = await fetch(item.to, {
        method: "POST", body, redirect: "error", credentials: "same-origin",
        headers: { Accept: "application/json" }, signal: AbortSignal.timeout(180000),
      });
      said = await answer.json();
    } catch {
      return { state: "waiting" };
    }
    if ((answer.status === 200 || answer.status === 201) && said.photo === item.id) return { state: "kept", said };
    if (answer.status === 401 || (answer.status === 409 && said.error === "other-person")) return { state: "signed-out", said };
    if (answer.status >= 500 || answer.status === 429 || answer.status < 300) return { state: "waiting", said };
    return { state: "refused", said };
  };

  const waits = (x) => x.state === "new" || x.state === "waiting" || x.state === "signed-out";

  // One sender at a time, in all tabs together.
  const alone = (act) => (navigator.locks ? navigator.locks.request("scaperound-photographs", act) : act());

  let later = 0;
  let pause = 15000;
  const tryLater = () => {
    clearTimeout(later);
    later = setTimeout(sendAll, pause);
    pause = Math.min(pause * 2, 300000);
  };

  // sendAll sends what waits, the oldest first, and breaks off where there is no
  // signal. What was refused waits for its person instead.
  let sending = null;
  const sendAll = () => (sending ??= alone(sendEach).finally(() => (sending = null)));
  const sendEach = async () => {
    for (const tried = new Set(); ; ) {
      const next = (await mine()).find((x) => waits(x) && !tried.has(x.id));
      if (!next) break;
      tried.add(next.id);
      const out = await post(next);
      if (!(await get(next.id))) continue; // given up meanwhile
      if (out.state === "kept") {
        pause = 15000;
        await put({ ...next, state: "sent", picture: null, sent: Date.now() });
      } else {
        await put({ ...next, state: out.state, said: out.said ?? null });
      }
      await show();
      if (out.state === "waiting") tryLater();
      if (out.state === "waiting" || out.state === "signed-out") break;
    }
    await show();
  };

  // add puts a photograph into the queue and sends it when it can. It says
  // whether the tablet could keep it.
  const add = async (item) => {
    const ord = (await mine()).filter((x) => x.visit !== "" && x.visit === item.visit).length;
    await put({ ...item, ord, person: house.person(), state: "new", at: Date.now() });
    navigator.storage?.persist?.().catch(() => {});
    pause = 15000;
    await show();
    sendAll();
  };

  // Showing ---------------------------------------------------------------------------
  const place = () => {
    const there = document.querySelector("[data-photo-queue]");
    if (there) return there;
    const box = document.createElement("div");
    box.dataset.photoQueue = "";
    box.hidden = true;
    const beside = document.querySelector("[data-outbox]");
    if (beside) beside.after(box);
    else document.querySelector("main")?.prepend(box);
    return box;
  };

  const button = (text, act) => {
    const b = document.createElement("button");
    b.type = "button";
    b.textContent = text;
    b.addEventListener("click", act);
    return b;
  };

  const refusedLine = (item) => {
    const li = document.createElement("li");
    const p = document.createElement("p");
    const links = document.createElement("div");
    links.className = "links";
    if (item.state === "dropped") {
      p.textContent = "Given up.";
      links.append(button("Undo", async () => { await put({ ...item, state: "refused" }); show(); }));
    } else {
      p.className = "urgent-text";
      const why = (item.said?.faults ?? []).map((f) => f.text).join(" ") || item.said?.text || "";
      p.textContent = `A photograph of ${item.name} was not taken. ${why}`;
      const save = document.createElement("a");
      save.className = "button";
      save.href = address(item);
      save.download = `photograph ${item.taken.slice(0, 10)}.jpg`;
      save.textContent = "Save it to this device";
      links.append(save, button("Try again", async () => { await put({ ...item, state: "new" }); await show(); sendAll(); }), button("Give it up", async () => { await put({ ...item, state: "dropped" }); show(); }));
    }
    li.append(p, links);
    return li;
  };

  // The pictures that this page shows from the queue itself.
  const addresses = new Map();
  const address = (item) => {
    if (!addresses.has(item.id)) addresses.set(item.id, URL.createObjectURL(new Blob([item.picture], { type: "image/jpeg" })));
    return addresses.get(item.id);
  };

  const words = { new: "to be sent", waiting: "to be sent", "signed-out": "to be sent", refused: "not taken", sent: "sent" };

  // What was taken for the visit at hand stands beside its step.
  const showTaken = (items) => {
    const visit = document.getElementById("visit")?.elements.visit?.value ?? "";
    for (const step of document.querySelectorAll("[data-photo-step]")) {
      const list = step.querySelector("[data-photo-taken]");
      for (const item of items) {
        if (item.visit !== visit || visit === "" || item.purpose !== step.dataset.photoStep || item.state === "dropped") continue;
        let li = list.querySelector(`[data-photo="${CSS.escape(item.id)}"]`);
        if (!li) {
          li = document.createElement("li");
          li.dataset.photo = item.id;
          const img = document.createElement("img");
          img.alt = step.querySelector(".tile-label").textContent;
          img.src = item.picture ? address(item) : `/photos/${item.id}?print=small`;
          li.append(img, document.createElement("span"));
          list.append(li);
        }
        const says = li.querySelector("span");
        if (says) says.textContent = words[item.state] ?? "";
      }
    }
  };

  const show = async () => {
    const items = await mine();
    showTaken(items);
    const box = place();
    const open = items.filter(waits);
    const refused = items.filter((x) => x.state === "refused" || x.state === "dropped");
    box.hidden = open.length + refused.length === 0;
    box.className = "photo-queue";
    box.replaceChildren();
    if (box.hidden) return;
    if (open.length > 0) {
      const p = document.createElement("p");
      p.setAttribute("role", "status");
      p.textContent = open.length === 1 ? "1 photograph still to send." : `${open.length} photographs still to send.`;
      if (open.some((x) => x.state === "signed-out")) p.textContent += " Sign in, and they are sent.";
      box.append(p);
      if (open.some((x) => x.state === "waiting")) box.append(button("Send photographs now", () => sendAll()));
    }
    if (refused.length > 0) {
      const list = document.createElement("ul");
      list.append(...refused.map(refusedLine));
      box.append(list);
    }
  };

  const tidy = async () => {
    for (const x of await all()) {
      if (x.state === "dropped" || (x.state === "sent" && Date.now() - x.sent > KEEP)) await drop(x.id);
    }
  };

  // left is how many of this person's photographs have not arrived yet.
  const left = async () => (await mine()).filter((x) => waits(x) || x.state === "refused").length;

  house.photos = { add, show, sendAll, left };
  house.photos.ready = open().then(() => true, () => false);
  addEventListener("online", () => sendAll());
  document.addEventListener("visibilitychange", () => document.visibilityState === "visible" && house.photos.ready.then((ok) => ok && sendAll()));
  document.addEventListener("DOMContentLoaded", async () => {
    if (house.person() === "" || !(await house.photos.ready)) return;
    await tidy();
    await show();
    sendAll();
  });
})();
