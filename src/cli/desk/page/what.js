// What if: one more card, another sheet. Nothing is written unless she says so.

import { ask, listen } from "./ask.js";
import { button, field, freshId, make, say, table } from "./dom.js";
import { plan } from "./plan.js";
import { desk, write } from "./state.js";
import { words } from "./words.js";

const told = words.what;
// What is counted in each table, by the name of its rows.
const counted = { order: { name: "line", count: "count" }, sheets: { name: "sheet", count: "on hand" } };

export class WhatIf {
  constructor() {
    const title = make("h2", { id: freshId("title") }, told.title);
    this.outcome = make("div", { class: "outcome" });
    this.choices = { order: make("select"), sheets: make("select") };
    this.element = make("section", { class: "what", "aria-labelledby": title.id }, title, make("p", { class: "about" }, told.about),
      this.row("order", told.line, [[told.card, 1], [told.cards, 10]]), this.row("sheets", told.sheet, [[told.oneSheet, 1]]), this.outcome);
    desk.hear("plan", () => this.refresh());
    desk.hear("text", () => this.outcome.replaceChildren());
  }

  row(kind, label, acts) {
    return make("div", { class: "pair" }, field(label, this.choices[kind]),
      acts.map(([text, more]) => button(text, () => this.try(kind, this.choices[kind].value, more))));
  }

  async refresh() {
    this.element.hidden = !plan.made;
    if (plan.made && !plan.isWorking) { for (const kind of Object.keys(counted)) { await this.fill(kind); } }
  }

  async fill(kind) {
    const found = await tableOf(kind, []).catch(() => null);
    if (!found || found.is !== "table") { return; }
    const at = columnAt(found, counted[kind].name), names = found.rows.map((row) => row[at]).filter(Boolean), select = this.choices[kind];
    const isSame = names.length === select.options.length && names.every((name, index) => select.options[index].value === name);
    if (!isSame) { select.replaceChildren(...names.map((name) => make("option", { value: name }, name))); }
  }

  async try(kind, name, more) {
    const before = plan.made;
    this.outcome.replaceChildren(make("p", { class: "note" }, words.planning));
    try {
      const text = await changed(kind, name, more), question = desk.question();
      question[kind] = { ...question[kind], text };
      let last = null;
      await listen({ ask: "plan", desk: question }, (line) => { if (line.is === "plan") { last = line; } });
      this.show(before, last, () => write(kind, text));
    } catch (trouble) { this.outcome.replaceChildren(make("p", { class: "error" }, trouble.message)); }
  }

  show(before, { made, problems }, keep) {
    if (!made) {
      const errors = problems.filter((problem) => problem.severity === "error");
      this.outcome.replaceChildren(...errors.map((problem) => make("p", { class: "error" }, `${problem.title}. ${words.remedy(problem)}`)));
      return;
    }
    const then = new Map(made.rows.map(({ word, told: text }) => [word, text])), now = new Map(before.rows.map(({ word, told: text }) => [word, text]));
    const differing = [...new Set([...now.keys(), ...then.keys()])].filter((word) => now.get(word) !== then.get(word));
    const columns = [{ name: told.answer }, { name: told.now }, { name: told.then }];
    this.outcome.replaceChildren(make("p", {}, differing.length ? made.verdict : told.same),
      ...(differing.length ? [table(told.both, columns, differing.map((word) => [word, now.get(word) ?? "", then.get(word) ?? ""]))] : []),
      make("div", { class: "tools" }, button(told.keep, keep), button(told.leave, () => this.outcome.replaceChildren())));
    say(made.verdict);
  }
}

function tableOf(kind, changes) { return ask({ ask: "table", desk: desk.question(), kind, changes }); }

function columnAt(found, name) { return found.columns.findIndex((column) => column.name.trim().toLowerCase() === name); }

/** The text of a file in which there is more of one thing. */
async function changed(kind, name, more) {
  const { name: title, count } = counted[kind];
  let found = await tableOf(kind, []);
  const isMissing = columnAt(found, count) < 0, adding = isMissing ? [{ add_column: { name: count } }] : [];
  if (isMissing) { found = await tableOf(kind, adding); }
  const row = found.rows.findIndex((cells) => cells[columnAt(found, title)] === name), column = columnAt(found, count);
  const text = String(Number(found.rows[row][column] || 0) + more);
  return (await tableOf(kind, [...adding, { set: { row, column, text } }])).text;
}
