// A day's sketch, opened as a map to move about in. The library is fetched when
// somebody asks for it; without it, or without this script, the sketch stays.
(() => {
  "use strict";
  const sketch = document.querySelector("[data-map-script]");
  if (!sketch) return;
  const drawing = sketch.querySelector("svg");
  const at = (text) => text.split(",").map(Number);

  const button = document.createElement("button");
  button.type = "button";
  button.className = "plain never-on-paper";
  button.textContent = "Open as a map";
  drawing.before(button);
  button.addEventListener("click", async () => {
    button.disabled = true;
    try {
      await fetched();
      show();
      button.remove();
    } catch {
      button.disabled = false;
      button.textContent = "No map without a signal. Try again";
    }
  });

  const fetched = () => {
    if (window.L) return Promise.resolve();
    const part = (tag, set) => new Promise((done, failed) => {
      const el = Object.assign(document.createElement(tag), set);
      el.addEventListener("load", done);
      el.addEventListener("error", () => { el.remove(); failed(); });
      document.head.append(el);
    });
    return Promise.all([
      part("link", { rel: "stylesheet", href: sketch.dataset.mapStyle }),
      part("script", { src: sketch.dataset.mapScript }),
    ]);
  };

  const show = () => {
    const place = document.createElement("div");
    place.className = "map never-on-paper";
    place.setAttribute("role", "region");
    place.setAttribute("aria-label", "Map: arrow keys move it, plus and minus zoom");
    const tiles = sketch.dataset.tiles;
    place.classList.toggle("bare", !tiles);
    drawing.before(place);
    drawing.classList.add("only-on-paper");
    const calm = matchMedia("(prefers-reduced-motion: reduce)").matches;
    const map = L.map(place, { zoomControl: false, attributionControl: false, zoomAnimation: !calm, fadeAnimation: !calm, inertia: !calm, maxZoom: 19 });
    L.control.zoom({ zoomInTitle: "Closer", zoomOutTitle: "Farther" }).addTo(map);
    L.control.scale({ imperial: false }).addTo(map);
    if (tiles) {
      L.tileLayer(tiles, { maxZoom: 19, alt: "" }).addTo(map);
      if (sketch.dataset.credit) {
        const credit = document.createElement("span");
        credit.textContent = sketch.dataset.credit;
        L.control.attribution({ prefix: false }).addTo(map).addAttribution(credit.innerHTML);
      }
    }

    const all = [];
    const mark = (el, size, words, front) => {
      const beside = Number(el.dataset.beside || 0) * 34; // px, for two who are at one place
      const face = document.createElement("span");
      face.className = el.getAttribute("class");
      face.textContent = el.dataset.label || "";
      const m = L.marker(at(el.dataset.at), {
        icon: L.divIcon({ className: "map-mark", html: face, iconSize: [size, size], iconAnchor: [size / 2 - beside, size / 2] }),
        title: words, alt: words, zIndexOffset: front,
      }).addTo(map);
      const told = document.createElement("span");
      told.textContent = words;
      m.bindPopup(told, { closeButton: false });
      all.push(m.getLatLng());
    };
    for (const way of sketch.querySelectorAll("polyline[data-path]")) {
      L.polyline(way.dataset.path.trim().split(" ").map(at), { className: way.getAttribute("class"), interactive: false }).addTo(map);
    }
    for (const other of drawing.querySelectorAll(".sketch-other")) mark(other, 48, other.dataset.name, 0);
    for (const shop of drawing.querySelectorAll(".sketch-shop")) mark(shop, 48, "The shop", 500);
    for (const stop of drawing.querySelectorAll(".sketch-stop")) {
      mark(stop, 48, [stop.dataset.label, stop.dataset.name, stop.dataset.when].filter(Boolean).join(", "), 1000);
    }
    // No mark lies below the buttons, nor half beyond the edge.
    map.fitBounds(L.latLngBounds(all), { maxZoom: 16, paddingTopLeft: [64, 36], paddingBottomRight: [50, 36] });
    place.focus();
  };
})();
