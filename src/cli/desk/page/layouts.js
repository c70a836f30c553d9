// The layouts, large: their size can be changed, and a piece lights up wherever it is.

import { button, make, say } from "./dom.js";
import { picture } from "./picture.js";
import { words } from "./words.js";

const sizes = [50, 75, 100, 150, 200, 300, 400];
let percent = 100;

export function layoutsOf(made) {
  const figures = made.layouts.map(figure);
  const shown = make("output", {}, words.zoom(percent));
  const zoom = (to) => {
    percent = Math.max(sizes[0], Math.min(sizes.at(-1), to));
    shown.replaceChildren(words.zoom(percent));
    figures.forEach(fit);
    say(words.zoom(percent));
  };
  const step = (by) => zoom(by > 0 ? sizes.find((size) => size > percent) ?? percent : sizes.findLast((size) => size < percent) ?? percent);
  const box = make("div", { class: "layouts" }, figures);
  box.addEventListener("wheel", (event) => { if (event.ctrlKey) { event.preventDefault(); step(-event.deltaY); } }, { passive: false });
  box.addEventListener("keydown", (event) => press(event, step, zoom));
  figures.forEach(fit);
  return make("div", {}, make("div", { class: "tools", role: "group", "aria-label": words.zoomLabel }, button("−", () => step(-1), { "aria-label": words.zoomOut }), shown,
    button("+", () => step(1), { "aria-label": words.zoomIn }), button(words.zoomFit, () => zoom(100)), make("span", { class: "note" }, words.zoomKeys)), box);
}

function press(event, step, zoom) {
  const act = { "+": () => step(1), "=": () => step(1), "-": () => step(-1), "0": () => zoom(100) }[event.key];
  if (act && !event.ctrlKey && !event.metaKey) { event.preventDefault(); act(); }
}

function figure(layout) {
  const svg = picture(layout.picture);
  const counts = new Map();
  for (const piece of svg.querySelectorAll("[data-piece]")) { counts.set(piece.dataset.piece, (counts.get(piece.dataset.piece) ?? 0) + 1); }
  const legend = [...counts].map(([piece, count]) => make("li", {}, pieceButton(piece, `${words.times(count)} ${piece}`)));
  return make("figure", { class: "layout" }, make("figcaption", {}, make("h3", {}, words.layout(layout)), make("p", {}, words.layoutTold(layout))),
    make("div", { class: "drawing", tabindex: "0", role: "group", "aria-label": words.layoutBox(layout) }, svg), make("ul", { class: "legend" }, legend));
}

// At 100 % a drawing is as large as its place allows; all keep one scale until then.
function fit(figure) {
  const svg = figure.querySelector("svg"), own = parseFloat(svg.getAttribute("width")) || 80;
  svg.style.width = `${own * 1.35 * percent / 100}mm`;
  svg.style.height = "auto";
  svg.style.maxWidth = percent <= 100 ? "100%" : "none";
}

export function pieceButton(piece, text) { return button(text, () => {}, { class: "piece", "data-piece": piece }); }

/** Lights a piece up in every table and drawing within `box` while it is pointed at or has the focus. */
export function lightUp(box) {
  const light = (name) => {
    for (const element of box.querySelectorAll("[data-piece]")) { element.classList.toggle("lit", name !== null && element.dataset.piece === name); }
  };
  const nameOf = (event) => event.target.closest?.("[data-piece]")?.dataset.piece ?? null;
  const focused = () => document.activeElement?.closest("[data-piece]")?.dataset.piece ?? null;
  box.addEventListener("pointerover", (event) => light(nameOf(event) ?? focused()));
  box.addEventListener("pointerleave", () => light(focused()));
  box.addEventListener("focusin", (event) => light(nameOf(event)));
  box.addEventListener("focusout", () => light(null));
}
