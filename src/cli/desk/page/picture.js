// A drawing that the program made, put into the page with ids of its own.

import { freshId } from "./dom.js";

/** @returns {SVGElement} */
export function picture(text, isSilent = false) {
  const svg = new DOMParser().parseFromString(text, "text/html").querySelector("svg");
  if (!svg) { return document.createElement("span"); }
  rename(svg);
  if (isSilent) { hush(svg); }
  return document.adoptNode(svg);
}

// The same drawing may stand on the page twice; an id may not.
function rename(svg) {
  const names = new Map([...svg.querySelectorAll("[id]")].map((element) => [element.id, freshId("svg")]));
  if (!names.size) { return; }
  for (const element of [svg, ...svg.querySelectorAll("*")]) {
    for (const { name, value } of [...element.attributes]) { element.setAttribute(name, renamed(name, value, names)); }
  }
}

function renamed(name, value, names) {
  if (name === "id") { return names.get(value) ?? value; }
  if (name.startsWith("aria-")) { return value.split(" ").map((id) => names.get(id) ?? id).join(" "); }
  return value.replace(/^#(.+)$|url\(#([^)]+)\)/g, (whole, link, fill) => {
    const to = names.get(link ?? fill);
    return to ? (link ? `#${to}` : `url(#${to})`) : whole;
  });
}

function hush(svg) {
  svg.querySelectorAll("title, desc").forEach((element) => element.remove());
  for (const name of ["role", "aria-label", "aria-labelledby"]) { svg.removeAttribute(name); }
  svg.setAttribute("aria-hidden", "true");
}
