// A page that the tablet has kept is the plain one of its tank, whatever the
// address asks for: the stop and the kind of visit are put into it here.
"use strict";

(() => {
  const form = document.getElementById("visit");
  if (!form || form.elements.base.value !== "") return;
  const links = [...form.querySelectorAll("[data-kind-link]")];
  const asked = new URLSearchParams(location.search);

  const stop = asked.get("stop") ?? "";
  if (/^[0-9a-f-]{36}$/.test(stop) && form.elements.stop.value === "") {
    form.elements.stop.value = stop;
    const up = document.querySelector(".up a");
    if (up) {
      up.href = `/stops/${stop}`;
      up.textContent = "The stop";
    }
    for (const a of links) {
      const to = new URL(a.href);
      to.searchParams.set("stop", stop);
      a.href = to.pathname + to.search;
    }
  }

  const link = links.find((a) => a.dataset.kindLink === asked.get("kind"));
  if (!link || link.dataset.kindLink === form.dataset.kind) return;
  form.dataset.kind = form.elements.kind.value = link.dataset.kindLink;
  for (const a of links) a.setAttribute("aria-current", a === link ? "page" : "false");
  form.querySelector("[data-kind-word]").textContent = link.textContent;
  const parts = new Map(link.dataset.parts.split("\n").map((line) => line.split("=")));
  for (const part of form.querySelectorAll("[data-part]")) {
    const title = parts.get(part.dataset.part);
    const rail = document.querySelector(`[data-rail="${part.dataset.part}"]`);
    if (title === undefined) {
      part.remove();
      rail?.parentElement.remove();
      continue;
    }
    part.querySelector("h2").textContent = title;
    for (const text of rail?.childNodes ?? []) if (text.nodeType === Node.TEXT_NODE && text.data.trim() !== "") text.data = `${title} `;
  }
  // Nobody stands at the tank: there is nothing to photograph.
  if (!parts.has("work")) for (const step of document.querySelectorAll("[data-photo-step]")) step.remove();
  if (form.dataset.kind !== "gear_only") return;
  for (const look of form.querySelectorAll(".look")) if (look.id !== "f-look.gear") look.remove();
  // What has nothing to do with gear is folded away, as the shop's own page does.
  const rest = (part, title, ...what) => {
    const fold = document.createElement("details");
    fold.className = "rest";
    fold.append(Object.assign(document.createElement("summary"), { textContent: title }), ...what);
    part.append(fold);
  };
  const work = document.getElementById("s-work");
  const works = Object.assign(document.createElement("div"), { className: "works" });
  works.append(...work.querySelectorAll(".work:not([data-gear])"));
  works.querySelector(".work-first")?.classList.remove("work-first");
  rest(work, "Other work, and doses", works, work.querySelector('[data-rows="dose"]'));
  const read = document.getElementById("s-read");
  read.append(...read.querySelectorAll(".not-due[data-gear]"));
  for (const due of read.querySelectorAll(".reading.due")) due.classList.remove("due");
  rest(read, "Anything else that was read", ...read.querySelectorAll(":scope > .reading, .not-due:not([data-gear])"));
})();
