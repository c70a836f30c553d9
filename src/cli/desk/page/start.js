// A new order: a name, a format, a count, and there is a first line.

import { ask } from "./ask.js";
import { button, field, freshId, make, say } from "./dom.js";
import { begin, desk } from "./state.js";
import { words } from "./words.js";

// The columns of an order that the three choices fill.
const names = { line: "line", card: "card", count: "count", paper: "paper" };

export class Start {
  /** @param {function()} done  called when it is written, or given up */
  constructor(done) {
    this.done = done; this.format = null;
    this.title = make("h2", { id: freshId("title"), tabindex: "-1" }, words.start.title);
    this.name = make("input", { type: "text", autocomplete: "off", required: true });
    this.find = make("input", { type: "search", autocomplete: "off", "aria-label": words.start.search, placeholder: words.start.search, oninput: () => this.drawFormats() });
    this.formats = make("div", { class: "tiles" });
    this.own = make("input", { type: "text", autocomplete: "off", oninput: () => { this.format = this.own.value.trim() || null; this.drawFormats(); } });
    this.counts = make("div", { class: "tiles" });
    this.trouble = make("p", { class: "error", role: "alert" });
    this.element = make("section", { class: "start", hidden: true, "aria-labelledby": this.title.id }, this.title, make("p", { class: "about" }, words.start.told),
      field(words.start.name, this.name, words.start.nameNote),
      make("fieldset", {}, make("legend", {}, words.start.format), this.find, this.formats, field(words.start.own, this.own, words.start.ownNote)),
      make("fieldset", {}, make("legend", {}, words.start.count), this.counts, this.other()), this.trouble, make("div", { class: "tools" }, button(words.start.cancel, done)));
  }

  other() {
    const number = make("input", { type: "number", min: "1", inputmode: "numeric", "aria-label": words.start.other, placeholder: words.start.other });
    return make("div", { class: "tools" }, number, button(words.start.begin, () => this.make(number.value)));
  }

  async open() {
    this.element.hidden = false;
    this.format = null;
    this.own.value = "";
    this.trouble.replaceChildren();
    this.name.value = suggestion();
    this.counts.replaceChildren(...words.start.counts.map((count) => button(words.start.make(count), () => this.make(String(count)), { class: "tile" })));
    this.title.focus();
    const blank = { ...desk.question(), order: { name: "order.csv", text: "" } };
    this.table = await ask({ ask: "table", desk: blank, kind: "order", changes: [] });
    this.drawFormats();
  }

  choices(name) { return this.table?.columns.find((column) => column.name === name)?.choices ?? []; }

  drawFormats() {
    const group = freshId("format"), looked = this.find.value.toLowerCase();
    const shown = this.choices(names.card).filter((choice) => choice.toLowerCase().includes(looked));
    this.formats.replaceChildren(...(shown.length ? [] : [make("p", { class: "note" }, words.start.noneFound)]), ...shown.map((choice) => {
      const radio = make("input", { type: "radio", name: group, value: choice, onchange: () => { this.format = choice; this.own.value = ""; } });
      radio.checked = choice === this.format;
      return make("label", { class: "tile" }, radio, choice);
    }));
  }

  async make(count) {
    const name = this.name.value.trim().replace(/[\\/:*?"<>|]/g, "-").replace(/^\.+/, "");
    if (!name) { this.refuse(words.start.noName, this.name); return; }
    if (!this.format) { this.refuse(words.start.noFormat, this.find); return; }
    try {
      await begin(`${name}.csv`, await this.text(count));
      say(words.start.added(this.format));
      this.done();
    } catch (trouble) { this.refuse(trouble.status === 409 ? words.start.taken : trouble.message, this.name); }
  }

  async text(count) {
    const values = { [names.line]: this.format, [names.card]: this.format, [names.count]: count, [names.paper]: this.choices(names.paper)[0] ?? "" };
    const blank = { ...desk.question(), order: { name: "order.csv", text: "" } };
    const row = this.table.columns.map((column) => values[column.name] ?? "");
    return (await ask({ ask: "table", desk: blank, kind: "order", changes: [{ insert: { row: 0, rows: [row] } }] })).text;
  }

  refuse(text, place) { this.trouble.replaceChildren(text); place.focus(); }
}

function suggestion() {
  for (let number = 1; ; number += 1) {
    const name = words.start.suggestion(number);
    if (!desk.orders.some((order) => order.name === `${name}.csv`)) { return name; }
  }
}
