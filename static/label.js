// The button that prints; without script the browser's own does.
"use strict";

(() => {
  const button = document.querySelector("[data-print]");
  if (!button) return;
  button.hidden = false;
  button.addEventListener("click", () => globalThis.print());
})();
