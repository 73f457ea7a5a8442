// One tap for what would be typing: stamps, "as last time", drops, instruments,
// more rows, a stopwatch. The fields themselves stay what is posted.
"use strict";

(() => {
  const form = document.getElementById("visit");
  if (!form) return;
  const page = ((globalThis.scaperound ??= {}).page ??= {});
  const typed = (input) => input.dispatchEvent(new Event("input", { bubbles: true }));
  const $ = (sel, root = form) => root.querySelector(sel);
  const $$ = (sel, root = form) => [...root.querySelectorAll(sel)];

  // The shop's wall clock, whatever zone the tablet believes in.
  page.wall = (at = new Date()) => {
    const parts = {};
    const zone = form.dataset.zone || undefined;
    for (const p of new Intl.DateTimeFormat("en-CA", { timeZone: zone, year: "numeric", month: "2-digit", day: "2-digit", hour: "2-digit", minute: "2-digit", hourCycle: "h23" }).formatToParts(at)) parts[p.type] = p.value;
    const words = {};
    for (const p of new Intl.DateTimeFormat("en-GB", { timeZone: zone, weekday: "short", day: "numeric", month: "short" }).formatToParts(at)) words[p.type] = p.value;
    return { said: `${words.weekday} ${words.day} ${words.month}`, day: `${parts.year}-${parts.month}-${parts.day}`, time: `${parts.hour}:${parts.minute}` };
  };

  // Stamps -------------------------------------------------------------------
  page.showStamps = () => {
    for (const stamp of $$("[data-stamp]")) {
      const input = $("input", stamp);
      const button = $("[data-now]", stamp);
      button.dataset.says ??= button.textContent;
      stamp.toggleAttribute("data-stamped", input.value !== "");
      button.textContent = input.value === "" ? button.dataset.says : `${button.dataset.says} ${input.value.slice(-5)}`;
    }
  };
  for (const stamp of $$("[data-stamp]")) {
    const button = $("[data-now]", stamp);
    const input = $("input", stamp);
    button.hidden = false;
    // The clock does the typing; by hand is for what is written down later.
    input.hidden = true;
    const hand = document.createElement("button");
    hand.type = "button";
    hand.className = "plain";
    hand.textContent = "by hand";
    hand.setAttribute("aria-label", `by hand: ${button.textContent}`);
    hand.addEventListener("click", () => {
      input.hidden = false;
      hand.remove();
      input.focus();
    });
    button.after(hand);
    button.addEventListener("click", () => {
      const now = page.wall();
      const was = input.value;
      input.value = stamp.dataset.stampForm === "time" ? now.time : `${now.day}T${now.time}`;
      typed(input);
      if (was !== "" && was !== input.value) {
        page.says(`${button.dataset.says}: ${input.value.slice(-5)} instead of ${was.slice(-5)}.`, "Undo", () => {
          input.value = was;
          typed(input);
        });
      }
    });
  }

  // As last time, and other ready amounts ---------------------------------------
  for (const button of $$("[data-fill]")) {
    button.hidden = false;
    button.addEventListener("click", () => {
      const name = button.dataset.fillName ?? button.closest("[data-fills]")?.dataset.fills;
      const input = form.elements[name];
      if (!input) return;
      input.value = button.dataset.fill;
      typed(input);
    });
  }

  // A planned dose goes into the first row that is still empty.
  for (const button of $$("[data-dose]")) {
    button.hidden = false;
    button.addEventListener("click", () => {
      const box = button.closest("[data-rows]");
      const empty = () => $$("[data-row]", box).find((r) => $$("input, select", r).every((x) => x.type === "hidden" || x.value === ""));
      if (!empty()) page.addRow(box);
      const row = empty();
      if (!row) return;
      $("select", row).value = button.dataset.dose;
      const ml = $$("input", row).find((x) => x.name.endsWith(".ml"));
      ml.value = button.dataset.ml;
      typed(ml);
    });
  }

  // "Nothing new" and something new exclude each other; so do "all checked" and
  // single lines of the leave list.
  form.addEventListener("change", (e) => {
    const t = e.target;
    if (t.name === "since" && t.checked) {
      for (const other of $$('[name="since"]')) {
        if (other !== t && (t.value === "nothing_new" || other.value === "nothing_new")) other.checked = false;
      }
    }
    if (t.name === "leave.all" && t.checked) {
      for (const one of $$('[data-leave] input[type="radio"]')) one.checked = false;
    } else if (t.type === "radio" && t.closest("[data-leave]")) {
      form.elements["leave.all"].checked = false;
    }
    const group = t.closest?.("[data-moved-group]");
    if (group) {
      const living = group.selectedOptions[0]?.parentElement?.dataset.living ?? "";
      const field = form.elements[group.name.replace(/group$/, "living")];
      if (field && living) field.value = living;
    }
  });

  // Another instrument for a reading ------------------------------------------------
  page.useWay = (reading, lot) => {
    const ways = $$(".way", reading);
    const way = ways.find((w) => w.dataset.way === lot);
    if (!way) return;
    for (const w of ways) w.disabled = w.hidden = w !== way;
    reading.classList.toggle("by-classes", $(".classes", way) !== null);
    $("[data-way-name]", reading).textContent = $(`[data-use-way="${CSS.escape(lot)}"]`, reading)?.textContent ?? "";
    for (const b of $$("[data-use-way]", reading)) b.setAttribute("aria-pressed", String(b.dataset.useWay === lot));
  };
  for (const button of $$("[data-use-way]")) {
    button.type = "button";
    button.addEventListener("click", () => {
      const reading = button.closest("[data-reading]");
      page.useWay(reading, button.dataset.useWay);
      typed($(".way:not([disabled]) input:not([type=hidden])", reading));
    });
  }

  // What the drops mean, below the count itself --------------------------------------
  const drops = (box) => {
    const input = $("input.figure", box);
    const says = $("[data-means]", box.closest(".way")) ?? $("[data-means]", box);
    says.dataset.says ??= says.textContent;
    const n = Number(input.value);
    const per = Number(box.dataset.perDrop);
    if (input.value.trim() === "" || !Number.isInteger(n) || n < 0 || !per) {
      says.textContent = says.dataset.says;
      return;
    }
    const show = (v) => String(Number(v.toPrecision(6))).replace(".", form.dataset.decimal || ".");
    says.textContent = `${n} ${n === 1 ? "drop" : "drops"}: ` + (n === 0 ? "none" : `over ${show((n - 1) * per)}, up to ${show(n * per)} ${box.dataset.sign}`);
  };
  page.showDrops = () => $$(".drops").forEach(drops);
  // Litres and cans say the same thing: the one typed last counts.
  const twin = /^(work\..+)\.(litres|cans)$/;
  form.addEventListener("input", (e) => {
    const m = twin.exec(e.target.name ?? "");
    const other = m && form.elements[`${m[1]}.${m[2] === "cans" ? "litres" : "cans"}`];
    if (other && e.target.value !== "") other.value = "";
    const box = e.target.closest?.(".drops");
    if (box) drops(box);
    if (e.target.closest?.("[data-stamp]")) page.showStamps();
  });

  // More rows, here and now ----------------------------------------------------------
  const rename = (text, from, to) => text.replace(new RegExp(`\\.${from}(\\.[a-z]+(?:-[a-z]+)?)$`), `.${to}$1`);
  page.addRow = (box) => {
    const groups = new Map();
    for (const r of $$("[data-row]", box)) {
      const name = $("[name]", r).name.replace(/\.\d+\.[^.]*$/, "");
      groups.set(name, r);
    }
    for (const [, last] of groups) {
      const n = Number(/\.(\d+)\.[^.]*$/.exec($("[name]", last).name)[1]);
      if (n >= 60) return;
      const copy = last.cloneNode(true);
      for (const el of copy.querySelectorAll("[name], [id], [for], [aria-describedby], [data-stopwatch]")) {
        for (const attr of ["name", "id", "for", "aria-describedby", "data-stopwatch"]) {
          if (el.hasAttribute(attr)) el.setAttribute(attr, rename(el.getAttribute(attr), n, n + 1));
        }
        if ("value" in el && el.type !== "hidden" && el.tagName !== "BUTTON") el.value = "";
      }
      for (const f of copy.querySelectorAll(".fault")) f.remove();
      const legend = copy.querySelector("legend");
      legend.textContent = legend.textContent.replace(/\d+$/, String(n + 1));
      last.after(copy);
    }
  };
  for (const more of $$("[data-more]")) {
    more.type = "button";
    more.addEventListener("click", () => page.addRow(more.closest("[data-rows]")));
  }

  // A stopwatch for the bucket ----------------------------------------------------------
  const running = new Map();
  for (const b of $$("[data-stopwatch]")) b.hidden = false;
  form.addEventListener("click", (e) => {
    const b = e.target.closest?.("[data-stopwatch]");
    if (!b) return;
    const since = running.get(b.dataset.stopwatch);
    if (since === undefined) {
      running.set(b.dataset.stopwatch, performance.now());
      b.textContent = "Full";
      return;
    }
    running.delete(b.dataset.stopwatch);
    b.textContent = "Start";
    const input = form.elements[b.dataset.stopwatch];
    input.value = ((performance.now() - since) / 1000).toFixed(1).replace(".", form.dataset.decimal || ".");
    typed(input);
  });

  // Enter goes to the next field: a visit is kept by its button, not by a slip of
  // the keyboard's "go".
  form.addEventListener("keydown", (e) => {
    if (e.key !== "Enter" || e.target.tagName !== "INPUT" || e.ctrlKey || e.metaKey) return;
    e.preventDefault();
    const all = $$("input:not([type=hidden]), select, textarea, button[data-send]").filter((x) => x.offsetParent !== null && !x.disabled);
    all[all.indexOf(e.target) + 1]?.focus();
  });
})();
