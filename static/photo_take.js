// Taking a photograph: drawn anew at the size that is needed, upright, as JPEG.
// Nothing that the camera noted in the file gets that far, places above all.
"use strict";

(() => {
  const house = (globalThis.scaperound ??= {});
  const EDGE = 1600; // pixels, as the shop keeps it
  const QUALITY = 0.85;

  const draw = async (file) => {
    const full = await createImageBitmap(file, { imageOrientation: "from-image" });
    const by = Math.min(1, EDGE / Math.max(full.width, full.height));
    const canvas = document.createElement("canvas");
    canvas.width = Math.max(1, Math.round(full.width * by));
    canvas.height = Math.max(1, Math.round(full.height * by));
    const to = canvas.getContext("2d");
    to.fillStyle = "#fff";
    to.fillRect(0, 0, canvas.width, canvas.height);
    to.imageSmoothingQuality = "high";
    to.drawImage(full, 0, 0, canvas.width, canvas.height);
    full.close();
    const blob = await new Promise((yes) => canvas.toBlob(yes, "image/jpeg", QUALITY));
    if (!blob) throw new Error("no picture came of it");
    // Bytes, not a blob: some browsers lose blobs that a page has stored.
    return blob.arrayBuffer();
  };

  // take reads one file and puts it into the queue; says is where it is told
  // that this did not work.
  const take = async (file, item, says) => {
    says.textContent = "";
    let picture;
    try {
      picture = await draw(file);
    } catch {
      says.textContent = "This tablet cannot read that file as a picture. Take it again, or choose a JPEG or PNG.";
      return false;
    }
    const taken = new Date(Math.min(Date.now(), file.lastModified || Date.now())).toISOString();
    try {
      await house.photos.add({ id: house.newID(), taken, picture, ...item });
    } catch {
      says.textContent = "This tablet has no room to keep the photograph. It stays in the camera’s own album; send what waits, then add it on the tank’s page.";
      return false;
    }
    return true;
  };

  // In a visit's form ----------------------------------------------------------------
  const form = document.getElementById("visit");
  for (const step of document.querySelectorAll("[data-photo-step]")) {
    const tap = step.querySelector("[data-photo-tap]");
    const input = tap.querySelector("input");
    const says = step.querySelector("[data-photo-says]");
    house.photos.ready.then((ok) => {
      if (!ok) return; // the page beside this one does it
      tap.hidden = false;
      step.querySelector("[data-photo-page]").hidden = true;
    });
    input.addEventListener("change", async () => {
      const file = input.files[0];
      if (!file) return;
      // The visit gets its number with the first thing that is done to it, and
      // this may be it.
      house.page?.changed?.();
      const item = { visit: form.elements.visit.value, purpose: step.dataset.photoStep, to: step.dataset.to, name: form.dataset.tankName };
      tap.inert = true;
      await take(file, item, says);
      tap.inert = false;
      input.value = ""; // the same camera may give the same name again
    });
  }

  // On a tank's page of photographs ------------------------------------------------------
  const page = document.querySelector("[data-photo-form]");
  page?.addEventListener("submit", async (e) => {
    const file = page.elements.picture.files[0];
    if (!file || page.elements.day.validity.badInput) return;
    e.preventDefault();
    const says = page.querySelector("[data-photo-says]");
    const send = page.querySelector("[type=submit]");
    send.disabled = true;
    const kept = (await house.photos.ready) && (await take(file, {
      visit: page.elements.visit.value, purpose: page.elements.purpose.value, day: page.elements.day.value,
      to: new URL(page.action).pathname, name: page.dataset.tankName,
    }, says));
    send.disabled = false;
    if (!kept) {
      // What cannot be kept here goes straight to the shop, which says what is wrong.
      HTMLFormElement.prototype.submit.call(page);
      return;
    }
    page.elements.picture.value = "";
    await house.photos.sendAll();
    if (await house.photos.left() === 0) location.reload();
  });
})();
