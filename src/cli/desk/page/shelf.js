// What is on the shelf, what a strip can still become, and what happened to it.

import { get, post } from "./ask.js";
import { changedLines, note } from "./changes.js";
import { Count } from "./count.js";
import { button, field, freshId, make, say, table } from "./dom.js";
import { picture } from "./picture.js";
import { own } from "./state.js";
import { sizeOf } from "./size.js";
import { words } from "./words.js";

const told = words.shelf;

export class Shelf {
  constructor() {
    const title = make("h2", { id: freshId("title") }, told.title);
    this.find = make("input", { type: "search", autocomplete: "off", oninput: () => this.draw() });
    this.found = make("p", { class: "tally", role: "status" });
    this.papers = make("div"); this.aside = make("div"); this.strips = make("div"); this.supplies = make("div"); this.history = make("section", { class: "history" });
    this.count = new Count(() => this.refresh());
    this.element = make("div", { class: "shelf" },
      make("section", { "aria-labelledby": title.id }, title, this.aside, this.papers, field(told.find, this.find, told.findNote), this.found, this.strips, this.supplies),
      this.count.element, this.history);
  }

  async refresh() {
    try {
      const [shelf, history] = await Promise.all([get("shelf"), get("history")]);
      this.shelf = shelf;
      this.draw();
      this.drawAside();
      this.count.show(shelf);
      this.history.replaceChildren(...historyOf(history));
    } catch (trouble) { this.strips.replaceChildren(note(trouble.message)); }
  }

  draw() {
    const { shelf } = this, looked = this.find.value.trim().toLowerCase();
    const fits = (strip) => [strip.paper, strip.name, ...(strip.cards ?? []).map(({ card }) => card)].some((text) => text.toLowerCase().includes(looked));
    const offcuts = shelf.offcuts.filter(fits), sheets = shelf.sheets.filter(fits);
    const text = (name) => ({ name }), number = (name) => ({ name, number: true });
    const papers = shelf.papers ?? [];
    this.papers.replaceChildren(!shelf.papers ? "" : papers.length ? table(told.papers, [text(told.paper), number(told.sheetsHead), number(told.offcutsHead), number(told.worth(shelf.currency))],
      papers.map((paper) => [paper.paper, String(paper.sheets), String(paper.offcuts), worthOf(paper.worth, shelf.currency)])) : make("p", {}, told.empty));
    this.found.replaceChildren(told.found(offcuts.length + sheets.length, this.find.value.trim()));
    this.strips.replaceChildren(...pile(told.drawer, offcuts, looked, scaleOf(offcuts)), ...pile(told.sheets, sheets, looked, scaleOf(sheets)));
    this.supplies.replaceChildren(...suppliesOf(shelf.supplies ?? []));
  }

  drawAside() {
    const { seen } = this.shelf;
    const put = async (batch) => {
      const answer = await own(() => post("release", { batch, seen }).catch((trouble) => ({ ok: false, told: trouble.message })));
      say(answer.told || told.released);
      await this.refresh();
      if (answer.ok === false) { this.aside.append(note(answer.told)); }
    };
    this.aside.replaceChildren(...(this.shelf.set_aside_for ?? []).map((batch) => make("div", { class: "set-aside" },
      make("p", {}, told.asideFor(batch)), button(told.release, ({ target }) => { target.disabled = true; put(batch); }))));
  }
}

function pile(title, strips, looked, scale) {
  return strips.length ? [make("h3", {}, title), make("ul", { class: "strips" }, strips.map((strip) => card(strip, looked, scale)))] : [];
}

function card(strip, looked, scale) {
  const cards = (strip.cards ?? []).map(({ card: name, count }) => {
    const text = `${words.times(count)} ${name}`;
    return make("li", {}, looked && name.toLowerCase().includes(looked) ? make("mark", {}, text) : text);
  });
  return make("li", { class: "strip" }, make("div", { class: "shape" }, strip.picture ? picture(strip.picture, true) : shape(strip, scale)),
    make("div", {}, make("h4", {}, strip.name), make("p", {}, `${strip.paper}, ${sizeOf(strip)}, ${told.count(strip.count)}`),
      strip.set_aside ? make("p", { class: "warning" }, told.aside(strip.set_aside)) : null,
      strip.since ? make("p", { class: "note" }, told.since(strip.since, strip.days)) : null,
      ...(strip.cards ? [make("p", { class: "becomes" }, `${told.becomes}:`), cards.length ? make("ul", {}, cards) : make("p", {}, told.becomesNothing)] : [])));
}

function scaleOf(strips) { return 88 / Math.max(1, ...strips.map((strip) => Math.max(strip.width, strip.height))); }

// All strips are drawn at one scale, as they lie in the drawer.
function shape(strip, scale) {
  const name = "http://www.w3.org/2000/svg", svg = document.createElementNS(name, "svg"), rect = document.createElementNS(name, "rect");
  const width = Math.max(3, strip.width * scale), height = Math.max(3, strip.height * scale);
  for (const [key, value] of Object.entries({ width: width + 2, height: height + 2, viewBox: `-1 -1 ${width + 2} ${height + 2}`, "aria-hidden": "true" })) { svg.setAttribute(key, value); }
  for (const [key, value] of Object.entries({ width, height, class: "paper" })) { rect.setAttribute(key, value); }
  svg.append(rect);
  return svg;
}

// A whole number counts the smallest coin of the currency.
function worthOf(worth, currency) {
  if (typeof worth !== "number") { return String(worth ?? ""); }
  const digits = new Intl.NumberFormat("en", { style: "currency", currency }).resolvedOptions().maximumFractionDigits;
  return (worth / 10 ** digits).toFixed(digits);
}

function suppliesOf(supplies) {
  if (!supplies.length) { return []; }
  const columns = [{ name: told.name }, { name: told.hand, number: true }];
  return [make("h3", {}, told.supplies), table(told.supplies, columns, supplies.map((item) => [item.name, told.amount(item.amount, item.unit)]))];
}

function historyOf(history) {
  const title = make("h2", {}, told.history);
  const entries = [...history.entries].reverse().map((entry) => make("li", { value: entry.number, class: entry.event },
    make("time", { datetime: entry.on }, entry.on), make("span", { class: "entry-told" }, entry.told), make("span", { class: "note" }, told.entry(entry.number))));
  return [title,
    history.edits?.length ? make("div", { class: "edited" }, make("h3", {}, told.edited), changedLines(history.edits)) : null,
    entries.length ? make("ol", { class: "line", reversed: true }, entries) : make("p", {}, told.noHistory),
    make("p", { class: history.sound ? "note" : "error" }, history.sound ? told.sound : told.unsound)].filter(Boolean);
}
