// Where one is on the visit's page and what stands beside it: the rail, the lock,
// what the page says, faults beside their fields.
"use strict";

(() => {
  const form = document.getElementById("visit");
  if (!form) return;
  const page = ((globalThis.scaperound ??= {}).page ??= {});
  const says = document.querySelector("[data-says]");

  page.says = (text, label, act, bad = false) => {
    const box = document.createElement("div");
    box.className = bad ? "says bad" : "says";
    const p = document.createElement("p");
    p.textContent = text;
    box.append(p);
    if (label) {
      const b = document.createElement(typeof act === "string" ? "a" : "button");
      b.className = "button";
      b.textContent = label;
      if (typeof act === "string") b.href = act;
      else {
        b.type = "button";
        b.addEventListener("click", () => {
          box.remove();
          act();
        });
      }
      box.append(b);
    }
    says.replaceChildren(box);
  };

  page.goTo = (id) => {
    const target = document.getElementById(id);
    if (!target) return;
    for (let d = target.closest("details"); d; d = d.parentElement.closest("details")) d.open = true;
    target.scrollIntoView({ block: "center" });
    (target.matches("input:not([hidden]), select, textarea, button") ? target : target.querySelector("input:not([type=hidden]):not(:disabled)"))?.focus({ preventScroll: true });
  };

  // The rail ----------------------------------------------------------------------------
  const rail = [...document.querySelectorAll("[data-rail]")];
  const here = document.querySelector("[data-rail-here]");
  const words = { none: "nothing yet", some: "begun", done: "done", fault: "needs another look" };
  const filled = (x) => (x.type === "checkbox" || x.type === "radio" ? x.checked && x.value !== "" : x.value.trim() !== "");
  const states = {
    looks: (part) => {
      const all = part.querySelectorAll(".look").length;
      const done = part.querySelectorAll(".look-tiles input:checked:not([value=''])").length;
      return done === 0 ? "none" : done < all ? "some" : "done";
    },
    read: (part) => {
      const due = [...part.querySelectorAll(".reading.due")];
      const done = due.filter((r) => [...r.querySelectorAll(".way:not([disabled]) [name^='reading.']")].some(filled)).length;
      return done === 0 ? (any(part) ? "some" : "none") : done < due.length ? "some" : "done";
    },
    leave: (part) => {
      if (form.elements["leave.all"]?.checked) return "done";
      const items = [...part.querySelectorAll(".leave-item")];
      const done = items.filter((i) => i.querySelector("input:checked")).length;
      return done === 0 ? "none" : done < items.length ? "some" : "done";
    },
    work: (part) => {
      const tasks = [...part.querySelectorAll(".task")];
      const open = tasks.filter((t) => !t.querySelector("input:checked")).length;
      return !any(part) ? "none" : open > 0 ? "some" : "done";
    },
  };
  const any = (part) => [...part.querySelectorAll("input:not([type=hidden]), select, textarea")].some((x) => x.name !== "performed" && !x.disabled && filled(x));
  page.showRail = () => {
    for (const a of rail) {
      const part = document.getElementById(`s-${a.dataset.rail}`);
      if (!part) continue;
      const state = part.querySelector(".fault") ? "fault" : (states[a.dataset.rail] ?? ((p) => (any(p) ? "done" : "none")))(part);
      a.dataset.state = state;
      a.querySelector("[data-rail-state]").textContent = words[state];
    }
  };
  const watch = new IntersectionObserver(
    (seen) => {
      for (const s of seen) {
        if (!s.isIntersecting) continue;
        rail.forEach((a, i) => {
          const is = `s-${a.dataset.rail}` === s.target.id;
          a.setAttribute("aria-current", String(is));
          if (is) here.textContent = `${i + 1} of ${rail.length} · ${a.firstChild.nextSibling.textContent.trim()}`;
        });
      }
    },
    { rootMargin: "-20% 0px -70% 0px" },
  );
  form.querySelectorAll("[data-part]").forEach((p) => watch.observe(p));
  document.getElementById("rail-list")?.addEventListener("click", (e) => {
    if (e.target.closest("a") && e.currentTarget.matches(":popover-open")) e.currentTarget.hidePopover();
  });

  // The lock: two corners, one after the other, which a cloth does not do ------------------
  const screen = document.querySelector("[data-lock-screen]");
  document.querySelector("[data-lock]").addEventListener("click", () => screen.showModal());
  let first = 0;
  screen.addEventListener("click", (e) => {
    const which = e.target.closest("[data-unlock]")?.dataset.unlock;
    if (which === "1") first = Date.now();
    else if (which === "2" && Date.now() - first < 3000) screen.close();
    else first = 0;
    screen.querySelector('[data-unlock="2"]').toggleAttribute("data-next", first > 0);
  });
  screen.addEventListener("close", () => {
    first = 0;
    screen.querySelector('[data-unlock="2"]').removeAttribute("data-next");
  });

  // Faults, each beside its field ------------------------------------------------------------
  page.clearFaults = () => form.querySelectorAll(".fault, .faults").forEach((f) => f.remove());
  const fieldOf = (name) => {
    const reading = name.startsWith("reading.") && document.getElementById(`r-${name.slice(8)}`);
    return reading || document.getElementById(`f-${name}`) || form.querySelector(`[name="${CSS.escape(name)}"]:not([type=hidden])`);
  };
  page.showFaults = (faults) => {
    page.clearFaults();
    for (const f of faults) {
      const at = fieldOf(f.field);
      if (at?.matches("input[hidden]")) at.hidden = false;
      const box = document.createElement("div");
      box.className = "fault";
      const p = document.createElement("p");
      p.textContent = f.text;
      box.append(p);
      if (f.confirm) {
        const b = document.createElement("button");
        b.type = "button";
        b.textContent = `Yes, ${f.confirm}`;
        b.addEventListener("click", () => {
          for (const old of form.querySelectorAll('input[name="confirm"]')) if (old.value.startsWith(`${f.field}=`)) old.remove();
          const yes = document.createElement("input");
          yes.type = "hidden";
          yes.name = "confirm";
          yes.value = `${f.field}=${f.confirm}`;
          form.append(yes);
          box.replaceChildren(Object.assign(document.createElement("p"), { textContent: `Noted: ${f.confirm} is meant.` }));
          page.changed();
        });
        box.append(b);
      }
      const holder = at?.matches?.(".reading") ? at.querySelector(".reading-body") : at?.closest?.("fieldset.work, fieldset.task, fieldset.leave-item, .field, fieldset");
      (holder ?? says).append(box);
      if (at) for (let d = at.closest("details"); d; d = d.parentElement.closest("details")) d.open = true;
    }
    page.showRail();
  };
})();
