// Kit clocks: several at once, named, readable at two metres, with sound. The
// screen stays awake while one runs. They end at a time of day, so that a
// reload finds them where they were.
"use strict";

(() => {
  const form = document.getElementById("visit");
  if (!form) return;
  const page = ((globalThis.scaperound ??= {}).page ??= {});
  const faces = document.querySelector("[data-clock-faces]");
  let clocks = []; // {name, label, end, rung}
  let elsewhere = []; // the same of this person's other tanks, each with its draft's key
  let awake = null;
  let audio = null;

  page.clocks = {
    all: () => clocks,
    set: (list) => {
      clocks = Array.isArray(list) ? list : [];
      draw();
    },
    // A test of one tank stands while one works at another.
    others: async (mine) => {
      const house = globalThis.scaperound;
      elsewhere = (await house.drafts.all())
        .filter((d) => d.key !== mine && d.person === house.person())
        .flatMap((d) => (d.clocks ?? []).map((c) => ({ ...c, label: `${d.name}: ${c.label}`, key: d.key, page: d.page })));
      draw();
    },
  };

  // stopElsewhere takes a clock out of another tank's draft.
  const stopElsewhere = async (c) => {
    elsewhere = elsewhere.filter((x) => x !== c);
    draw();
    const draft = await globalThis.scaperound.drafts.get(c.key);
    if (!draft) return;
    await globalThis.scaperound.drafts.put({ ...draft, clocks: (draft.clocks ?? []).filter((x) => x.name !== c.name) });
    if (Date.now() >= c.end) location.href = `${c.page}#r-${c.name}`;
  };

  const changed = () => {
    page.changed?.();
    draw();
  };

  const running = () => [...clocks, ...elsewhere];

  const stayAwake = async () => {
    if (!("wakeLock" in navigator)) return;
    try {
      if (running().length > 0 && document.visibilityState === "visible") awake ??= await navigator.wakeLock.request("screen");
      else if (running().length === 0 && awake) {
        await awake.release();
        awake = null;
      }
    } catch {
      awake = null; // a nearly empty battery may say no
    }
    awake?.addEventListener("release", () => (awake = null), { once: true });
  };

  const ring = () => {
    if (!audio) return;
    for (let i = 0; i < 3; i++) {
      const tone = audio.createOscillator();
      const gain = audio.createGain();
      const at = audio.currentTime + i * 0.45;
      tone.frequency.value = 880;
      gain.gain.setValueAtTime(0.0001, at);
      gain.gain.exponentialRampToValueAtTime(0.5, at + 0.02);
      gain.gain.exponentialRampToValueAtTime(0.0001, at + 0.35);
      tone.connect(gain).connect(audio.destination);
      tone.start(at);
      tone.stop(at + 0.4);
    }
    navigator.vibrate?.([300, 150, 300, 150, 300]);
  };

  const rest = (ms) => {
    const s = Math.ceil(Math.abs(ms) / 1000);
    return `${ms < 0 ? "+" : ""}${Math.floor(s / 60)}:${String(s % 60).padStart(2, "0")}`;
  };

  const draw = () => {
    faces.replaceChildren();
    for (const c of running()) {
      const face = document.createElement("div");
      face.className = "clock-face";
      const name = document.createElement("span");
      name.className = "clock-name";
      const left = document.createElement("span");
      left.className = "clock-rest";
      left.setAttribute("role", "timer");
      const stop = document.createElement("button");
      stop.type = "button";
      stop.textContent = "Stop";
      stop.setAttribute("aria-label", `Stop the clock of ${c.label}`);
      stop.addEventListener("click", () => {
        if (c.key) {
          stopElsewhere(c);
          return;
        }
        const over = Date.now() >= c.end;
        clocks = clocks.filter((x) => x !== c);
        changed();
        if (over) page.goTo?.(`r-${c.name}`);
      });
      face.append(name, left, stop);
      faces.append(face);
      c.show = () => {
        const ms = c.end - Date.now();
        left.textContent = rest(ms);
        name.textContent = ms > 0 ? c.label : `${c.label}: read it now`;
        face.classList.toggle("over", ms <= 0);
      };
      c.show();
    }
    stayAwake();
  };

  const tick = () => {
    for (const c of running()) {
      c.show?.();
      if (!c.rung && Date.now() >= c.end) {
        c.rung = true;
        ring();
      }
    }
  };

  const box = document.querySelector("[data-clocks]");
  if (box) box.hidden = box.querySelector("[data-clock]") === null;
  for (const b of document.querySelectorAll("[data-clock]")) {
    b.addEventListener("click", () => {
      // Sound is allowed only from a touch on.
      audio ??= new AudioContext();
      audio.resume();
      clocks = clocks.filter((c) => c.name !== b.dataset.clock);
      clocks.push({ name: b.dataset.clock, label: b.dataset.clockLabel, end: Date.now() + Number(b.dataset.minutes) * 60000, rung: false });
      changed();
    });
  }
  setInterval(tick, 250);
  document.addEventListener("visibilitychange", stayAwake);
})();
