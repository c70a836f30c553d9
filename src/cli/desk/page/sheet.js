// One file as a table: the grid, its buttons, its note, and its plain text where it cannot be read.

import { button, byId, freshId, make, say } from "./dom.js";
import { Grid } from "./grid.js";
import { desk, redo, undo, write } from "./state.js";
import { change } from "./tables.js";
import { words } from "./words.js";

export class Sheet {
  constructor(kind, seen = () => {}) {
    this.kind = kind;
    this.grid = new Grid(words.tables[kind], { change: (changes) => this.change(changes), seen, undo, redo, hold: (by) => { desk.file(kind).asked += by; } });
    this.columns = make("select", { "aria-label": words.moreColumns });
    this.adder = make("span", { class: "adder" }, this.columns, button(words.addColumn, () => this.addColumn()));
    this.mending = make("div", { class: "mending", hidden: true });
    this.grid.element.dataset.kind = kind;
    this.working = make("div", {}, this.grid.box, this.grid.note, this.tools());
    const title = make("h2", { id: freshId("title") }, words.tables[kind]);
    this.element = make("section", { class: "sheet", "aria-labelledby": title.id },
      title, make("p", { class: "about" }, words.abouts[kind]), this.mending, this.working);
    desk.hear("text", (what) => { if (what.kind === kind && !what.isOwn) { this.refresh(); } });
  }

  tools() {
    return make("div", { class: "tools" },
      button(words.addRow, () => this.grid.insertRow()), button(words.removeRows, () => this.grid.removeRows()), this.adder,
      make("details", { class: "keys" }, make("summary", {}, words.tableKeys),
        make("dl", {}, words.tableKeysTold.map(([keys, told]) => [make("dt", {}, keys), make("dd", {}, told)]))));
  }

  refresh() { return this.change([]); }

  async change(changes) {
    const unread = desk.file(this.kind)?.problems ?? [];
    // What is no text has not come to the page, and nothing of it can be changed here.
    if (unread.length) { this.show({ is: "unreadable", problems: unread }); return; }
    await change(this.kind, changes, (answer) => this.show(answer));
  }

  /** Moves the focus to the table, or to the line of a problem in its plain text. */
  focus(problem) {
    const text = this.mending.querySelector("textarea");
    if (this.mending.hidden || !text) { this.grid.focus(); return; }
    const before = text.value.split("\n").slice(0, (problem?.place?.line ?? 1) - 1), at = before.join("\n").length + (before.length ? 1 : 0);
    text.focus();
    text.setSelectionRange(at, at);
  }

  show(answer) {
    const isTable = answer.is === "table";
    this.working.hidden = !isTable;
    this.mending.hidden = isTable;
    if (!isTable) { this.mend(answer.problems); return; }
    this.grid.show(answer);
    this.adder.hidden = !answer.missing?.length;
    this.columns.replaceChildren(...(answer.missing ?? []).map((column) => make("option", { value: column.name, title: column.hint }, column.name)));
  }

  async addColumn() {
    const name = this.columns.value;
    await this.change([{ add_column: { name } }]);
    this.grid.go(0, this.grid.columns.findIndex((column) => column.name === name));
  }

  mend(problems) {
    const file = desk.file(this.kind), told = [make("h3", {}, words.unreadable(file.name)),
      ...problems.map((problem) => make("p", { class: problem.severity }, `${problem.title}. ${words.remedy(problem)}`))];
    say(words.unreadable(file.name));
    byId("main").scrollTo?.(0, 0);
    if (file.problems.length) { this.mending.replaceChildren(...told); return; }
    const text = make("textarea", { rows: "12", spellcheck: "false", "aria-label": words.wholeText(file.name) });
    text.value = file.text ?? "";
    const keep = () => { write(this.kind, text.value); this.refresh(); };
    this.mending.replaceChildren(...told, make("p", {}, words.unreadableTold), text, button(words.keepText, keep));
  }
}
