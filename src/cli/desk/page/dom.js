// Makes elements, so that no text is ever read as markup.

/**
 * @param {string} name  of the element
 * @param {Object} [attributes]  `on…` is a listener, true is an empty attribute, null and false leave it out
 * @param {...(Node|string|null)} children
 */
export function make(name, attributes = {}, ...children) {
  const element = document.createElement(name);
  for (const [key, value] of Object.entries(attributes)) { put(element, key, value); }
  element.append(...children.flat().filter((child) => child !== null && child !== undefined));
  return element;
}

function put(element, key, value) {
  if (key.startsWith("on")) { element.addEventListener(key.slice(2), value); }
  else if (value === true) { element.setAttribute(key, ""); }
  else if (value !== null && value !== undefined && value !== false) { element.setAttribute(key, value); }
}

export function button(text, press, attributes = {}) {
  return make("button", { type: "button", onclick: press, ...attributes }, text);
}

export function byId(id) { return document.getElementById(id); }

/** A field under its label; `control` gets the id that joins them. */
export function field(label, control, note = null) {
  control.id ||= freshId("field");
  const told = note ? make("p", { class: "note", id: `${control.id}-note` }, note) : null;
  if (told) { control.setAttribute("aria-describedby", told.id); }
  return make("div", { class: "field" }, make("label", { for: control.id }, label), control, told);
}

let last = 0;
export function freshId(stem) { last += 1; return `${stem}-${last}`; }

/** A table that is only read. A column is {name, number?}; a cell is a text or a node. */
export function table(label, columns, rows) {
  const cells = (row) => row.map((cell, at) => make(at ? "td" : "th",
    { class: columns[at].number ? "number" : null, scope: at ? null : "row" }, cell ?? ""));
  const heads = columns.map((column) => make("th", { scope: "col", class: column.number ? "number" : null }, column.name));
  return make("div", { class: "scroll", tabindex: "0", role: "region", "aria-label": label },
    make("table", {}, make("thead", {}, make("tr", {}, heads)),
      make("tbody", {}, rows.map((row) => make("tr", {}, cells(row))))));
}

/** Tells those who listen instead of looking. The same words twice are told twice. */
export function say(text) {
  const said = byId("said");
  said.replaceChildren();
  setTimeout(() => said.replaceChildren(text), 60);
}
