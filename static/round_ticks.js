// What is ticked off a load list stays so on this device, through a reload and
// without a signal; nobody else is told. Without this script the boxes are plain
// ones.
"use strict";

(() => {
  const list = document.querySelector("[data-ticks]");
  if (!list) return;
  const prefix = "load.";
  const place = prefix + list.dataset.ticks;
  const days = 14; // that ticks are kept
  const boxes = [...list.querySelectorAll("input[type=checkbox]")];

  // Where the browser keeps nothing for us, ticks last as long as the page.
  const read = () => {
    try {
      return JSON.parse(localStorage.getItem(place)) ?? [];
    } catch {
      return [];
    }
  };
  const count = () => {
    for (const part of list.children) {
      const all = part.querySelectorAll("input[type=checkbox]");
      const done = part.querySelectorAll("input[type=checkbox]:checked").length;
      part.querySelector("[data-ticked]").textContent = done > 0 ? `${done} of ${all.length}` : "";
    }
  };
  const show = () => {
    const ticked = read();
    for (const box of boxes) box.checked = ticked.includes(box.value);
    count();
  };

  list.addEventListener("change", () => {
    const ticked = boxes.filter((b) => b.checked).map((b) => b.value);
    try {
      localStorage.setItem(place, JSON.stringify(ticked));
    } catch {
      // Nothing can be kept here; what is on the page still counts.
    }
    count();
  });
  // A page that comes back by the browser's own memory has boxes of its own, and
  // another window may have ticked meanwhile.
  addEventListener("pageshow", (e) => {
    if (e.persisted) show();
  });
  addEventListener("storage", (e) => {
    if (e.key === place) show();
  });
  show();

  try {
    const old = new Date(Date.now() - days * 86400000).toISOString().slice(0, 10);
    for (const key of Object.keys(localStorage)) {
      if (key.startsWith(prefix) && key.slice(-10) < old) localStorage.removeItem(key);
    }
  } catch {
    // As above.
  }
})();
