// What the readings mean so far, in the foot strip. It never moves the form.
"use strict";

(() => {
  const form = document.getElementById("visit");
  if (!form) return;
  const page = ((globalThis.scaperound ??= {}).page ??= {});
  const list = document.querySelector("[data-foot-list]");
  const count = document.querySelector("[data-foot-count]");
  const whose = document.querySelector("[data-foot-by]");
  const now = document.querySelector("[data-now-lines]");
  const ahead = document.querySelector("[data-sheet-so-far]");
  if (ahead) ahead.hidden = !(ahead.disabled = true);
  let timer = 0;
  let running = null;
  page.acted = { hash: "", rules: "" };
  let waits = false; // something was typed that nobody was asked about yet
  let open = false; // a question is out, and its answer not there
  page.answered = new Set();

  const el = (tag, text, cls) => {
    const x = document.createElement(tag);
    if (text) x.textContent = text;
    if (cls) x.className = cls;
    return x;
  };
  const part = (title, lines, cls) => {
    if (lines.length === 0) return [];
    const ul = el("ul", "", cls);
    for (const l of lines) {
      const li = el("li", l.text);
      if (l.why) li.append(el("span", ` ${l.why}`, "quiet"));
      ul.append(li);
    }
    return [el("h2", title), ul];
  };

  const showNow = (lines, phone) => {
    now.replaceChildren();
    const open = lines.filter((l) => !page.answered.has(l.id));
    if (open.length === 0) return;
    const box = el("div");
    box.append(el("span", "Now", "urgent-text"));
    for (const l of open.slice(0, 2)) {
      const row = el("div", "", "now-line");
      row.append(el("p", l.text));
      const done = el("button", "Done");
      done.type = "button";
      done.setAttribute("aria-label", `Done: ${l.text}`);
      done.addEventListener("click", () => {
        page.answered.add(l.id);
        page.changed?.();
        showNow(lines, phone);
      });
      row.append(done);
      box.append(row);
    }
    if (open.length > 2) box.append(el("p", `and ${open.length - 2} more in the list below`));
    if (phone) {
      const call = el("a", `Call the owner: ${phone}`);
      call.className = "button";
      call.href = `tel:${phone.replace(/[^+\d]/g, "")}`;
      box.append(call);
    }
    now.append(box);
  };

  // The list as it goes along with the visit: what the shop makes of it may
  // differ, and whoever reads the visit is to see where. A list that is longer
  // than any that a visit makes is not told of, not even by half.
  const parts = ["now", "pour", "findings", "visit", "next"];
  const plain = (text) => text.replace(/[\t\r\n]+/g, " ");
  page.actedOn = () => {
    const { hash, rules, lines, by, record } = page.acted;
    const told = [["acted.hash", hash], ["acted.rules", rules]];
    if (!lines) return told;
    const text = ["list", ...lines.map((l) => l.map(plain).join("\t"))].join("\n");
    if (text.length < 12000) told.push(["acted.lines", text], ["acted.by", by], ["acted.record", record], ["acted.late", waits || open ? "1" : ""]);
    return told;
  };

  page.showPreview = (said, by, record) => {
    page.acted = {
      hash: said.hash ?? "", rules: said.rules ?? "", by, record,
      lines: [...parts.flatMap((p) => said[p].map((l) => [p, l.id, l.text])), ...said.customer.map((text) => ["customer", "", text])],
    };
    open = false;
    const n = said.findings.length + said.now.length;
    count.textContent = n === 0 ? "Nothing stands out" : `${n} ${n === 1 ? "thing" : "things"} to know`;
    whose.textContent = by === "tablet" ? "judged on this tablet" : "";
    list.replaceChildren(
      ...part("Now", said.now),
      ...part("Weigh and pour", said.pour, "pour"),
      ...part("What the readings say", said.findings),
      ...part("Still at this visit", said.visit),
      ...part("Next time", said.next),
      ...part("The customer will read", said.customer.map((text) => ({ text }))),
      ...part("Please look once more", said.faults.map((f) => ({ text: f.text }))),
    );
    if (list.childElementCount === 0) list.append(el("p", "What the readings mean stands here as soon as there are some.", "quiet"));
    // A tap away and not in the form: lines that come and go would push it.
    if (ahead) ahead.disabled = said.customer.length === 0;
    showNow(said.now, list.dataset.phone);
  };

  // Nobody can judge just now. What was said before stays in sight, as older.
  const unjudged = (why) => {
    const older = Boolean(page.acted.lines);
    count.textContent = older ? "The list is older" : "No list yet";
    whose.textContent = "a new one comes after sending";
    const says = el("p", `No signal. ${why}. ${older ? "What you typed since is judged after sending; this is what was said before." : "What the readings mean is said after sending."}`, "unjudged");
    if (!older) list.replaceChildren(says);
    else {
      list.querySelector(".unjudged")?.remove();
      list.prepend(says);
    }
  };

  // Without an answer from the shop the tablet judges by itself: the same rules,
  // what was taken along of this tank, the same list.
  let asked = 0;
  const here = async (mine) => {
    try {
      const { said, text, record } = await globalThis.scaperound.judgeHere(form, page.pairs());
      if (mine !== asked) return;
      page.showPreview(said, "tablet", record);
      form.dataset.judged = "here";
      page.judged = text;
    } catch (e) {
      if (mine === asked) unjudged(e.message);
    }
  };

  const ask = async () => {
    const mine = ++asked;
    waits = false;
    open = true;
    running?.abort();
    const control = (running = new AbortController());
    const late = setTimeout(() => control.abort(), 6000);
    try {
      const answer = await fetch(form.dataset.preview, {
        method: "POST", body: new URLSearchParams(page.pairs()), redirect: "error", credentials: "same-origin",
        headers: { Accept: "application/json" }, signal: control.signal,
      });
      if (mine !== asked) return;
      if (answer.ok) {
        page.judged = await answer.text();
        form.dataset.judged = "shop";
        const at = new Date(answer.headers.get("Date") ?? "");
        page.showPreview(JSON.parse(page.judged), "shop", Number.isNaN(at.getTime()) ? "" : at.toISOString());
      } else await here(mine);
    } catch {
      // Asked anew meanwhile: that question will be answered.
      if (mine === asked) await here(mine);
    } finally {
      clearTimeout(late);
    }
  };
  // While there is a signal, take along what judging without one needs.
  addEventListener("load", () => globalThis.scaperound.takeBoard?.(form.dataset.board));
  page.preview = () => {
    waits = true;
    clearTimeout(timer);
    timer = setTimeout(ask, 700);
  };
})();
