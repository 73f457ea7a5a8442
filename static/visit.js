// The visit's page: keeps what is typed, brings it back, sends it.
"use strict";

(() => {
  const form = document.getElementById("visit");
  if (!form) return;
  const house = globalThis.scaperound;
  const page = (house.page ??= {});
  const person = house.person();
  const amends = form.elements.base?.value !== "";
  const key = [person, form.dataset.tank, amends ? form.elements.visit.value : ""].join("|");
  const kept = document.querySelectorAll("[data-kept], [data-kept-bar]");
  const says = document.querySelector("[data-says]");
  let draft = null; // as on the tablet
  let aside = []; // fields that another kind of visit has and this one has not
  let dirty = false;
  let writing = null;
  let canKeep = true;

  const tell = (text, bad = false) => kept.forEach((k) => {
    k.textContent = text;
    k.classList.toggle("urgent-text", bad);
  });
  const cannotKeep = (e) => {
    canKeep = false;
    tell(`This tablet ${e?.name === "QuotaExceededError" ? "is full and" : ""} cannot keep what you type. Do not close the page before it is sent.`.replace("  ", " "), true);
  };

  // Keeping -----------------------------------------------------------------------
  const pairs = () => [...new FormData(form)].filter(([n, v]) => typeof v === "string" && !n.startsWith("ui.") && n !== "more");
  page.pairs = () => pairs().filter(([n]) => !n.startsWith("acted."));
  // What is sent, with the list that stood in the foot strip at that moment.
  page.body = () => {
    const body = new URLSearchParams(pairs());
    for (const [n, v] of page.actedOn?.() ?? []) body.set(n, v);
    return body;
  };

  const begin = () => {
    if (draft) return;
    // Ids are made at the first touch: a page kept by the browser and opened
    // twice must not make one visit of two.
    draft = { key, begun: Date.now() };
    if (!amends) form.elements.visit.value = house.newID();
    form.elements.revision.value = house.newID();
    if (!amends) {
      const now = page.wall();
      form.elements.performed.value = `${now.day}T${now.time}`;
    }
  };

  const write = async () => {
    while (dirty) {
      dirty = false;
      draft = {
        ...draft, key, person, tank: form.dataset.tank, name: form.dataset.tankName, kind: form.dataset.kind,
        page: location.pathname + location.search, pairs: [...pairs(), ...aside], revision: form.elements.revision.value,
        clocks: page.clocks.all().map(({ name, label, end, rung }) => ({ name, label, end, rung })),
        answered: [...(page.answered ?? [])], saved: Date.now(),
      };
      try {
        await house.drafts.put(draft);
        canKeep = true;
        tell(`Kept on this tablet, ${page.wall().time}`);
      } catch (e) {
        cannotKeep(e);
      }
    }
    writing = null;
  };
  const save = () => {
    dirty = true;
    return (writing ??= write());
  };
  page.changed = () => {
    begin();
    save();
  };

  // Restoring ------------------------------------------------------------------------
  const rowOf = /^(ppfd|bucket\.(?:before|after)|moved|work\.dose)\.(\d+)\./;
  const put = (restored) => {
    const by = new Map();
    for (const [n, v] of restored) by.set(n, [...(by.get(n) ?? []), v]);
    const keep = new Set(["kind", "wire", "staff", "stop", "base", "more"]);
    if (amends) keep.add("visit");
    for (const [n, vs] of by) {
      const lot = n.startsWith("kit.") && document.getElementById(`r-${n.slice(4)}`);
      if (lot) page.useWay(lot, vs[0]);
    }
    for (const [n, vs] of by) {
      if (keep.has(n) || (n.startsWith("acted.") && n !== "acted.at")) continue;
      const row = rowOf.exec(n);
      for (let i = 0; row && !form.elements[n] && i < 60; i++) {
        const box = form.querySelector(`[data-rows="${row[1].split(".").pop() === "dose" ? "dose" : row[1].split(".")[0]}"]`);
        if (!box) break;
        page.addRow(box);
      }
      const inputs = [...form.querySelectorAll(`[name="${CSS.escape(n)}"]`)].filter((x) => !x.disabled && !x.closest("fieldset[disabled]"));
      if (inputs.length === 0) {
        for (const v of vs) if (v !== "") aside.push([n, v]);
        continue;
      }
      for (const x of inputs) {
        if (x.type === "checkbox" || x.type === "radio") x.checked = vs.includes(x.value);
        else x.value = vs[0];
      }
      if (vs.some((v) => v !== "")) {
        for (let d = inputs[0].closest("details:not(.ways)"); d; d = d.parentElement.closest("details")) if (inputs[0].type !== "hidden") d.open = true;
      }
    }
    // A box that was ticked in the served page and not in the draft is off.
    for (const x of form.querySelectorAll("input[type=checkbox]")) if (!by.has(x.name)) x.checked = false;
  };

  // How much was typed that this kind of visit does not ask for.
  const elsewhere = () => new Set(aside.filter(([n, v]) => /^(reading|sign|look|work|moved|ppfd|bucket|task|since|dosed|drawn)\b/.test(n) && v !== "not_looked").map(([n]) => n.split(".").slice(0, 2).join("."))).size;
  let without = false; // it was said that this may stay behind

  const restore = async () => {
    const found = await house.drafts.get(key);
    if (!found) return;
    draft = found;
    put(found.pairs);
    form.elements.revision.value = found.revision;
    page.clocks.set(found.clocks);
    page.answered = new Set(found.answered ?? []);
    page.says(
      `What you typed here${elsewhere() > 0 ? " is back; what belongs to another kind of visit is kept beside it" : " is back as it was"}.`,
      "Begin afresh",
      async () => {
        await house.drafts.drop(key);
        page.leaving = true;
        location.reload();
      },
    );
    tell(`Kept on this tablet, ${page.wall(new Date(found.saved)).time}`);
    page.preview();
  };

  // Sending ------------------------------------------------------------------------------------
  const send = form.querySelector("[data-send]");
  const outcome = async (out, item) => {
    form.inert = false;
    if (out.state === "kept") {
      page.leaving = true;
      await house.drafts.drop(key).catch(() => {});
      location.href = form.dataset.done.replace("VISIT", out.said.visit);
      return;
    }
    if (out.state === "gone") {
      // Another tab took it back: what is kept now is there after loading.
      page.leaving = true;
      location.reload();
      return;
    }
    if (out.state === "refused" && out.status === 422) {
      // Nothing was stored, so this is a draft again, under the same id.
      await house.outbox.drop(item.revision);
      const faults = out.said.faults ?? [];
      tell(`Kept on this tablet, ${page.wall().time}`);
      page.says(faults.length === 1 ? `Not kept yet. ${faults[0].text}` : `Not kept yet: ${faults.length} things need another look. All you typed is still here.`,
        "Show me", () => (form.querySelector(".fault")?.scrollIntoView({ block: "center" })), true);
      page.showFaults(faults);
      says.scrollIntoView({ block: "center" });
      return;
    }
    if (out.state === "refused") {
      form.inert = true;
      page.leaving = true;
      await house.drafts.drop(key).catch(() => {}); // it lives in the outbox now, with the reason
      page.says(`${out.said?.text || "It was not taken."} What you typed is kept on this tablet.`, "Keep it as a new change", async () => {
        const why = await house.reopen({ ...item, said: out.said }, true);
        if (why !== "") return page.says(why, undefined, undefined, true);
        page.leaving = true;
        location.reload();
      }, true);
      says.scrollIntoView({ block: "center" });
      return;
    }
    tell(`Kept on this tablet, ${page.wall().time}`);
    // On its way, outcome not known: frozen. It goes again by itself, or by a button.
    form.inert = true;
    page.leaving = true;
    await house.drafts.drop(key).catch(() => {});
    const again = async () => outcome(await house.send(item, true), item);
    addEventListener("scaperound-kept", (e) => e.detail.revision === item.revision && outcome({ state: "kept", said: e.detail.said }, item));
    if (out.state === "other-person") page.says(out.said.text, undefined, undefined, true);
    else if (out.state === "signed-out") page.says("Your sign-in is over. The visit is kept on this tablet and is sent as soon as you have signed in.", "Sign in", `/sign-in?next=${encodeURIComponent(location.pathname)}`, true);
    else page.says("No answer from the shop. The visit is kept on this tablet and is sent by itself as soon as there is a signal.", "Send now", again);
    says.scrollIntoView({ block: "center" });
    addEventListener("online", again, { once: true });
  };

  form.addEventListener("submit", async (e) => {
    if (!canKeep) return; // then it goes as a plain form does
    e.preventDefault();
    if (send.disabled) return;
    const n = without ? 0 : elsewhere();
    if (n > 0) {
      page.says(`Not sent yet. ${n === 1 ? "One thing" : `${n} things`} that you typed ${n === 1 ? "belongs" : "belong"} to another kind of visit and would not go along. Choose that kind at the top of the form to have ${n === 1 ? "it" : "them"} back.`,
        "Send it without", () => {
          without = true;
          form.requestSubmit(send);
        }, true);
      says.scrollIntoView({ block: "center" });
      return;
    }
    begin();
    send.disabled = true;
    page.clearFaults();
    const item = {
      revision: form.elements.revision.value, visit: form.elements.visit.value, tank: form.dataset.tank, name: form.dataset.tankName,
      person, to: form.action, page: location.pathname + location.search, body: page.body().toString(), at: Date.now(), clock: `${page.wall().said}, ${page.wall().time}`, state: "waiting",
    };
    try {
      await save();
      item.draft = draft;
      await house.outbox.put(item);
    } catch {
      canKeep = false;
      send.disabled = false;
      tell("This tablet cannot keep what you type. It is sent as it is.");
      form.submit();
      return;
    }
    form.inert = true;
    tell("Sending …");
    await outcome(await house.send(item, false), item);
    send.disabled = false;
  });

  // Beginning ------------------------------------------------------------------------------------
  const start = async () => {
    if (!(await house.ready)) {
      cannotKeep();
    } else if (!form.querySelector(".faults")) {
      await restore();
    }
    if (canKeep) await page.clocks.others(key);
    document.querySelector("[data-foot]").hidden = false;
    form.addEventListener("input", () => {
      page.changed();
      page.showRail();
      page.preview();
    });
    form.addEventListener("change", () => {
      page.changed();
      page.showRail();
      page.preview();
    });
    page.showStamps();
    page.showDrops();
    page.showRail();
    if (location.hash) page.goTo(location.hash.slice(1));
  };

  const stamped = () => {
    const arrived = form.elements.arrived;
    arrived?.addEventListener("input", () => {
      if (!amends && arrived.value !== "" && !form.elements.performed.dataset.own) form.elements.performed.value = arrived.value;
    });
    form.elements.performed.addEventListener("change", () => (form.elements.performed.dataset.own = "1"));
  };
  stamped();

  addEventListener("pagehide", () => !page.leaving && dirty && write());
  document.addEventListener("visibilitychange", () => document.visibilityState === "hidden" && !page.leaving && draft && save());

  if (!navigator.locks) {
    start();
    return;
  }
  navigator.locks.request(`scaperound-draft ${key}`, { ifAvailable: true }, (lock) => {
    if (lock) {
      start();
      return new Promise(() => {}); // held as long as the page lives
    }
    form.inert = true;
    page.says("This visit is open in another tab. Here it can only be read; close the other one to go on here.");
    navigator.locks.request(`scaperound-draft ${key}`, () => location.reload());
    return undefined;
  });
})();
