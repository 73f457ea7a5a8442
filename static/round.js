// While the planner is at work, the page says how it stands and shows the week
// when it is done. Without this script a link asks again.
(() => {
  "use strict";
  const box = document.querySelector("[data-running]");
  if (!box) return;
  const text = box.querySelector("[data-progress]");
  const every = 1000;
  const ask = async () => {
    try {
      const res = await fetch(box.dataset.running, { headers: { Accept: "application/json" } });
      if (res.ok) {
        const now = await res.json();
        if (!now.running) {
          location.reload();
          return;
        }
        // Told politely: only what has changed.
        if (text.textContent !== now.text) text.textContent = now.text;
      } else if (res.status === 401) {
        location.reload();
        return;
      }
    } catch {
      // No signal just now; the planner goes on without us.
    }
    setTimeout(ask, every);
  };
  setTimeout(ask, every);
})();
