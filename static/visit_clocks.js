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
  let awake = null;
  let audio = null;

  page.clocks = {
    all: () => clocks,
    set: (list) => {
      clocks = Array.isArray(list) ? list : [];
      draw();
    },
  };

  const changed = () => {
    page.changed?.();
    draw();
  };

  const stayAwake = async () => {
    if (!("wakeLock" in navigator)) return;
    try {
      if (clocks.length > 0 && document.visibilityState === "visible") awake ??= await navigator.wakeLock.request("screen");
      else if (clocks.length === 0 && awake) {
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
    for (const c of clocks) {
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
    for (const c of clocks) {
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
