// The form that records what was cut, and takes it back.

import { lookAt } from "./changes.js";
import { button, field, freshId, make } from "./dom.js";
import { spoiledSoFar } from "./ticks.js";
import { words } from "./words.js";

const told = words.cut;

export class Record {
  /** @param {function(): string} report  @param {function(): HTMLIFrameElement} frame  @param {function()} then */
  constructor(report, frame, then) {
    Object.assign(this, { report, frame, then });
    this.step = number(told.step); this.lifts = number(told.lifts);
    this.all = radio("far", told.all, true); this.upTo = radio("far", told.upTo, false);
    this.names = make("datalist", { id: freshId("pieces") });
    this.spoiled = make("div"); this.hours = make("div");
    this.outcome = make("div", { class: "outcome" });
    const title = make("h2", { id: freshId("title") }, told.record);
    this.element = make("section", { class: "record", "aria-labelledby": title.id, oninput: () => this.outcome.replaceChildren() },
      title, make("p", { class: "about" }, told.recordTold), this.far(), this.losses(), this.times(), this.names,
      make("div", { class: "tools" }, button(told.look, () => this.look(), { class: "main" }), button(told.undo, () => this.undo(), { title: told.undoTold })), this.outcome);
  }

  far() {
    const measure = make("div", { class: "pair" }, field(told.step, this.step), field(told.lifts, this.lifts));
    const show = () => { measure.hidden = !this.upTo.control.checked; };
    this.all.control.addEventListener("change", show);
    this.upTo.control.addEventListener("change", show);
    show();
    this.showFar = show;
    return make("fieldset", {}, make("legend", {}, told.howFar), this.all.label, this.upTo.label, measure);
  }

  losses() { return make("fieldset", {}, make("legend", {}, told.spoiled), this.spoiled, button(told.addSpoiled, () => this.addSpoiled("", "").focus())); }

  times() { return make("fieldset", {}, make("legend", {}, told.hours), this.hours, button(told.addHours, () => this.addHours().focus())); }

  addSpoiled(piece, count) {
    const name = make("input", { type: "text", list: this.names.id, value: piece, autocomplete: "off", class: "key" });
    row(this.spoiled, field(told.piece, name), field(told.count, make("input", { type: "number", min: "1", value: count, class: "value" })));
    return name;
  }

  addHours() {
    const stage = make("select", { class: "key" }, told.stages.map((name) => make("option", {}, name)));
    row(this.hours, field(told.stage, stage), field(told.hour, make("input", { type: "number", min: "0", step: "any", class: "value" })));
    return stage;
  }

  /** The names that may be spoiled. */
  suggest(pieces) { this.names.replaceChildren(...pieces.map((piece) => make("option", { value: piece.piece }))); }

  clear() {
    for (const box of [this.spoiled, this.hours, this.outcome]) { box.replaceChildren(); }
    this.step.value = this.lifts.value = "";
    this.all.control.checked = true;
    this.showFar();
  }

  // What she counted as spoiled on the walk is filled in, so that she sees it before it counts.
  fillIn() {
    const known = new Set(pairs(this.spoiled).map(([name]) => name));
    for (const [piece, count] of spoiledSoFar(this.frame())) { if (!known.has(piece)) { this.addSpoiled(piece, count); } }
  }

  look() {
    this.fillIn();
    const done = this.upTo.control.checked && this.step.value ? this.step.value + (this.lifts.value ? `:${this.lifts.value}` : "") : null;
    if (this.upTo.control.checked && !done) { this.step.focus(); return; }
    const question = { report: this.report(), done, spoiled: pairs(this.spoiled), hours: pairs(this.hours) };
    lookAt(this.outcome, { path: "settle", question, act: told.recordIt, done: told.recorded, then: this.then });
  }

  undo() {
    lookAt(this.outcome, { path: "undo", question: { report: this.report() }, act: told.undoIt, done: told.undone, then: this.then });
  }
}

function number(label) { return make("input", { type: "number", min: "1", inputmode: "numeric", "aria-label": label }); }

function radio(group, label, isChecked) {
  const control = make("input", { type: "radio", name: group });
  control.checked = isChecked;
  return { control, label: make("label", { class: "choice" }, control, label) };
}

function row(box, ...fields) {
  const line = make("div", { class: "pair" }, ...fields);
  line.append(button(told.remove, () => line.remove()));
  box.append(line);
}

function pairs(box) {
  return [...box.children].map((line) => [line.querySelector(".key").value.trim(), Number(line.querySelector(".value").value)])
    .filter(([name, count]) => name && count > 0);
}
