// What every page can do with script. Without it each page works all the same.
"use strict";

(() => {
  // Tap counters: a drop for each tap. The field itself stays what is posted.
  for (const field of document.querySelectorAll("[data-taps]")) {
    const input = field.querySelector("input:not([type=hidden])");
    const step = Number(field.dataset.taps) || 1;
    for (const button of field.querySelectorAll("[data-tap]")) {
      button.hidden = false;
      button.addEventListener("click", () => {
        const typed = input.value.trim();
        if (typed !== "" && !/^\d+$/.test(typed)) {
          input.focus(); // not ours to overwrite what is not a count
          return;
        }
        const count = (typed === "" ? 0 : Number(typed)) + Number(button.dataset.tap) * step;
        // Taking back the first drop is no drop counted: blank, not zero.
        input.value = count <= 0 ? "" : String(count);
        input.dispatchEvent(new Event("input", { bubbles: true }));
      });
    }
  }

  // After a sign-out the pages kept for work without a signal are removed.
  // What was typed and not yet sent lives elsewhere and stays.
  if (document.querySelector("[data-signed-out]") && "caches" in window) {
    caches.keys().then((names) => {
      for (const name of names) {
        if (/^(pages|access)\./.test(name)) caches.delete(name);
      }
    });
  }
})();
