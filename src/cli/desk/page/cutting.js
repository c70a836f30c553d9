// At the bench: the schedule step by step, and below it what was cut is recorded.

import { post } from "./ask.js";
import { fileLink, hasPhone, showSchedule } from "./carrier.js";
import { note } from "./changes.js";
import { button, field, freshId, make, say } from "./dom.js";
import { picture } from "./picture.js";
import { plan } from "./plan.js";
import { Record } from "./record.js";
import { allSaved, desk, own } from "./state.js";
import { Ticks } from "./ticks.js";
import { words } from "./words.js";

export class Cutting {
  constructor() {
    this.report = null; this.isShown = false; this.visits = 0;
    const told = words.cut, title = make("h2", { id: freshId("title") }, told.title);
    this.which = make("select", { onchange: () => this.choose(this.which.value) });
    this.frame = make("iframe", { class: "walk", title: told.walk });
    this.files = make("ul", { class: "files" }); this.told = make("div", { class: "outcome" }); this.lost = make("p", { class: "note" }, told.ticksTold);
    this.record = new Record(() => this.report, () => this.frame, () => this.refresh());
    this.walking = make("div", {}, field(told.which, this.which), this.frame, this.lost, make("h3", {}, told.files), this.files);
    this.none = make("p", {}, told.none);
    this.element = make("section", { class: "cutting", "aria-labelledby": title.id }, title, make("p", { class: "care" }, told.care),
      this.writing(), this.told, this.none, this.walking, this.record.element, hasPhone ? phone() : null);
    this.ticks = new Ticks(this.frame, (isKept) => this.lost.replaceChildren(isKept ? told.ticksTold : told.ticksLost));
    desk.hear("orders", () => { if (this.isShown) { this.refresh(); } });
  }

  writing() {
    this.write = button(words.cut.write, () => this.make(false), { class: "main" });
    this.rest = button(words.cut.rest, () => this.make(true), { title: words.cut.restTold });
    return make("div", { class: "tools" }, this.write, this.rest);
  }

  // Reports of this order; all of them where none says which order it is of.
  reports() { return desk.reports.filter((report) => report.order === null || report.order === desk.order?.name); }

  refresh() {
    const reports = this.reports(), isThere = reports.length > 0;
    this.isShown = true;
    for (const part of [this.walking, this.record.element, this.rest]) { part.hidden = !isThere; }
    this.none.hidden = isThere;
    this.write.replaceChildren(isThere ? words.cut.writeAgain : words.cut.write);
    this.which.replaceChildren(...reports.map((report) => make("option", { value: report.name }, report.name)));
    const chosen = reports.find((report) => report.name === this.report) ?? reports.at(-1);
    if (chosen) { this.which.value = chosen.name; this.choose(chosen.name); }
  }

  async choose(name, isFresh = false) {
    const report = desk.reports.find((each) => each.name === name);
    this.files.replaceChildren(...report.files.map((file) => make("li", {}, fileLink(name, file))));
    this.record.suggest(plan.made?.pieces ?? []);
    if (this.report === name && !isFresh) { return; }
    this.report = name;
    this.record.clear();
    const mine = this.visits += 1;
    const at = await this.ticks.open(name);
    if (mine !== this.visits) { return; }
    showSchedule(this.frame, name, at);
  }

  async make(rest) {
    if (!(await allSaved())) { this.told.replaceChildren(note(words.cut.unsaved)); return; }
    try {
      const answer = await own(() => post("report", { order: desk.order.name, rest }));
      this.told.replaceChildren(make("pre", { class: "told", tabindex: "0" }, answer.told));
      say(answer.told.split("\n")[0]);
      if (answer.ok) { this.refresh(); this.which.value = answer.name; this.choose(answer.name, true); }
    } catch (trouble) { this.told.replaceChildren(note(trouble.message)); }
  }
}

/** How a phone gets the same steps. */
function phone() {
  const title = make("h3", { id: freshId("title") }, words.phone.beside);
  const inside = desk.phone ? [make("p", {}, words.phone.scan), make("div", { class: "code" }, picture(desk.phoneCode)), make("p", { class: "note" }, desk.phone)]
    : [make("p", { class: "note" }, words.phone.how)];
  return make("section", { class: "phone-link", "aria-labelledby": title.id }, title, ...inside);
}
