// Stock-take: label by label, and strips that have none yet.

import { lookAt, note } from "./changes.js";
import { button, field, freshId, make } from "./dom.js";
import { sizeOf } from "./size.js";
import { words } from "./words.js";

const told = words.count;

export class Count {
  constructor(then) {
    this.then = then; this.given = new Map();
    const title = make("h2", { id: freshId("title") }, told.title);
    this.labels = make("div", { class: "labels" }); this.added = make("div"); this.outcome = make("div", { class: "outcome" });
    this.progress = make("p", { class: "tally", role: "status" });
    this.papers = make("datalist", { id: freshId("papers") });
    this.form = make("div", { hidden: true, onchange: () => this.outcome.replaceChildren() }, make("p", {}, told.told), this.progress, this.labels, this.papers,
      make("fieldset", {}, make("legend", {}, told.added), this.added, button(told.add, () => this.addStrip())),
      make("div", { class: "tools" }, button(told.look, () => this.look(), { class: "main" })), this.outcome);
    this.opener = button(told.open, () => this.toggle(), { "aria-expanded": "false" });
    this.element = make("section", { class: "count", "aria-labelledby": title.id }, title, make("div", { class: "tools" }, this.opener), this.form);
  }

  toggle() {
    this.form.hidden = !this.form.hidden;
    this.opener.setAttribute("aria-expanded", String(!this.form.hidden));
    this.opener.replaceChildren(this.form.hidden ? told.open : told.close);
  }

  /** Shows the labels of the drawer, and keeps what was looked at already. */
  show(shelf) {
    this.strips = shelf.offcuts;
    this.papers.replaceChildren(...[...new Set([...shelf.sheets, ...shelf.offcuts].map((strip) => strip.paper))].map((paper) => make("option", { value: paper })));
    this.labels.replaceChildren(...shelf.offcuts.map((strip) => this.label(strip)));
    this.tally();
  }

  label(strip) {
    const group = freshId("label"), other = make("input", { type: "number", min: "0", inputmode: "numeric", "aria-label": told.howMany(strip.name), hidden: true,
      oninput: () => this.give(strip, other.value === "" ? undefined : Number(other.value)) });
    const choice = (text, act) => make("label", { class: "choice" }, make("input", { type: "radio", name: group, onchange: () => { other.hidden = text !== told.other; act(); this.tally(); } }), text);
    return make("fieldset", { class: "label" }, make("legend", {}, strip.name), make("p", {}, `${strip.paper}, ${sizeOf(strip)}, ${told.as(strip.count)}`),
      choice(told.there, () => this.give(strip, strip.count)), choice(told.other, () => { this.give(strip, undefined); other.focus(); }), other,
      choice(told.missing, () => this.give(strip, 0)), choice(told.away, () => this.give(strip, null)));
  }

  give(strip, count) {
    if (count === undefined) { this.given.delete(strip.name); } else { this.given.set(strip.name, count); }
    this.tally();
  }

  tally() { this.progress.replaceChildren(told.done(this.given.size, this.strips.length)); }

  addStrip() {
    const text = (name, list = null) => make("input", { type: "text", class: name, list, placeholder: " ", autocomplete: "off" });
    const paper = text("paper", this.papers.id), line = make("div", { class: "pair" });
    line.append(field(told.paper, paper), field(told.width, text("width")), field(told.height, text("height")),
      field(told.number, make("input", { type: "number", min: "1", value: "1", class: "number" })), button(told.remove, () => line.remove()));
    this.added.append(line);
    paper.focus();
  }

  strip(line) {
    const value = (name) => line.querySelector(`.${name}`).value.trim();
    return { paper: value("paper"), width: value("width"), height: value("height"), count: Number(value("number")) };
  }

  look() {
    const counts = [...this.given].map(([sheet, count]) => ({ sheet, count }));
    const blank = this.added.querySelector("input:placeholder-shown"), added = [...this.added.children].map((line) => this.strip(line));
    if (blank) { this.outcome.replaceChildren(note(told.incomplete)); blank.focus(); return; }
    if (counts.length + added.length === 0) { this.outcome.replaceChildren(note(told.nothing)); return; }
    const then = () => { this.given.clear(); this.added.replaceChildren(); this.then(); };
    lookAt(this.outcome, { path: "take", question: { counts, added }, act: told.keep, done: told.kept, then });
  }
}
