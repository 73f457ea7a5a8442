// The answer as one types. The page's own handler works it out; this only asks it
// a moment after the last key, and keeps the address in step. Without it the
// button does the same.
"use strict";

(() => {
  const root = document.querySelector("[data-bench]");
  const form = root?.querySelector("form");
  const place = root?.querySelector("[data-bench-answer]");
  if (!form || !place) return;
  const pause = 350; // ms after the last key
  let timer = 0;
  let asked = 0;
  const touched = new Set();

  const query = () => {
    const q = new URLSearchParams();
    for (const [name, value] of new FormData(form)) {
      if (value !== "") q.append(name, value);
    }
    // A unit says nothing without its number.
    for (const name of [...q.keys()]) {
      if (name.endsWith(".unit") && !q.has(name.slice(0, -5))) q.delete(name);
    }
    return q;
  };

  const mark = (blank, texts) => {
    const control = blank.querySelector("input, select, textarea, fieldset");
    blank.querySelector(".fault")?.remove();
    blank.classList.toggle("blank-wrong", texts.length > 0);
    if (!control) return;
    const id = `${control.id}-fault`;
    const ids = (control.getAttribute("aria-describedby") ?? "").split(" ").filter((x) => x && x !== id);
    control.setAttribute("aria-invalid", String(texts.length > 0));
    if (texts.length > 0) {
      const box = document.createElement("div");
      box.className = "fault";
      box.id = id;
      for (const x of texts) {
        const p = document.createElement("p");
        p.textContent = x.text;
        box.append(p);
        if (x.confirm) box.append(yes(x));
      }
      blank.append(box);
      ids.push(id);
    }
    control.setAttribute("aria-describedby", ids.join(" "));
  };

  const yes = (x) => {
    const label = document.createElement("label");
    label.className = "tile tile-line";
    const input = document.createElement("input");
    input.type = "checkbox";
    input.name = "confirm";
    input.value = `${x.field}=${x.confirm}`;
    const face = document.createElement("span");
    face.className = "tile-face";
    face.textContent = `Yes, ${x.confirm} is meant`;
    label.append(input, face);
    return label;
  };

  const show = (answer, faults) => {
    for (const blank of form.querySelectorAll(".blank")) {
      const name = blank.querySelector("[name]")?.name;
      mark(blank, faults.filter((f) => f.field === name && (f.kind !== "missing" || touched.has(name))));
    }
    const loose = faults.filter((f) => f.field === "" || f.whole);
    if (answer) {
      const open = place.querySelector("details")?.open ?? false;
      const fresh = new DOMParser().parseFromString(answer.html, "text/html").body;
      place.replaceChildren(...fresh.childNodes);
      const details = place.querySelector("details");
      if (details) details.open = open;
    } else {
      const result = place.querySelector(".bench-result");
      const rest = place.querySelectorAll(".bench-also, .bench-heed, .links, .bench-working");
      for (const x of rest) x.remove();
      const p = document.createElement("p");
      p.className = "quiet";
      p.textContent = loose.length > 0 ? loose.map((f) => f.text).join(" ") : "The answer comes when what is marked has been mended.";
      result?.replaceChildren(p);
    }
  };

  const ask = async () => {
    const mine = ++asked;
    const q = query();
    const address = `${form.action}${q.size > 0 ? `?${q}` : ""}`;
    let res;
    try {
      res = await fetch(address, { headers: { Accept: "application/json" } });
    } catch {
      return; // no signal: what stands there was right for what was typed then
    }
    if (mine !== asked) return;
    if (res.ok) {
      const answer = await res.json();
      if (mine !== asked) return;
      history.replaceState(null, "", address);
      show(answer, []);
    } else if (res.status === 422) {
      const wrong = await res.json();
      if (mine !== asked) return;
      const faults = wrong.faults.length > 0 ? wrong.faults : [{ field: "", kind: "", text: wrong.text, whole: true }];
      show(null, faults);
    }
  };

  form.addEventListener("input", (e) => {
    if (e.target.name) touched.add(e.target.name);
    clearTimeout(timer);
    timer = setTimeout(ask, pause);
  });
})();
