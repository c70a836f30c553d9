// A table that is edited in place. It moves, marks and shows; what the cells mean comes from the program.

import { make, freshId } from "./dom.js";
import { edit } from "./edit.js";
import { readCells, writeCells } from "./paste.js";
import { words } from "./words.js";

const page = 10;

export class Grid {
  /**
   * @param {string} label  what the table is called
   * @param {{change: function(Object[]), seen: function(?Object), undo: function(), redo: function(),
   *   hold: function(number)}} does  `hold`: while a cell is open (1, then -1), nothing else may change the table
   */
  constructor(label, does) {
    this.does = does;
    this.columns = []; this.rows = []; this.problems = [];
    this.at = { row: 0, column: 0 }; this.from = this.at;
    this.editing = null; this.isLeaving = false;
    this.note = make("div", { class: "cell-note", id: freshId("note") });
    this.head = make("tr"); this.body = make("tbody");
    this.element = make("table", { role: "grid", class: "grid", "aria-label": label, "aria-multiselectable": "true" },
      make("thead", {}, this.head), this.body);
    this.box = make("div", { class: "grid-box" }, this.element);
    this.listen();
  }

  listen() {
    const on = (name, what) => this.element.addEventListener(name, (event) => what.call(this, event));
    on("keydown", this.press); on("mousedown", this.down); on("mouseover", this.drag); on("dblclick", this.open);
    on("focusin", this.enter); on("copy", this.copy); on("cut", this.cut); on("paste", this.paste); on("focusout", this.leave);
  }

  /** Shows a table, and leaves the cell alone that is being edited. */
  show(table) {
    this.columns = table.columns;
    this.rows = table.rows.map((row) => [...row]);
    this.draw();
  }

  draw() {
    this.drawHead();
    const count = this.rows.length + 1;
    while (this.body.rows.length > count) { this.body.lastChild.remove(); }
    while (this.body.rows.length < count) { this.body.append(make("tr", {}, make("th", { scope: "row" }))); }
    for (let row = 0; row < count; row += 1) { this.drawRow(row); }
    this.at = this.within(this.at); this.from = this.within(this.from);
    this.mark(this.problems);
  }

  drawHead() {
    this.head.replaceChildren(make("td", { class: "corner" }), ...this.columns.map((column, at) => make("th", {
      scope: "col", role: "columnheader", tabindex: "-1", "data-row": "-1", "data-column": at, "data-name": column.name, class: column.needed ? "needed" : null,
      "aria-label": column.needed ? `${column.name}, ${words.needed}` : null,
    }, column.name, column.needed ? make("span", { class: "star", title: words.needed, "aria-hidden": "true" }, "*") : null)));
  }

  drawRow(row) {
    const line = this.body.rows[row], isNew = row === this.rows.length;
    line.classList.toggle("fresh", isNew);
    line.cells[0].replaceChildren(isNew ? make("span", { "aria-label": words.newRow, role: "img" }, "+") : String(row + 1));
    while (line.cells.length > this.columns.length + 1) { line.lastChild.remove(); }
    while (line.cells.length < this.columns.length + 1) { line.append(make("td", { role: "gridcell", tabindex: "-1" })); }
    for (let column = 0; column < this.columns.length; column += 1) { this.drawCell(line.cells[column + 1], row, column); }
  }

  drawCell(cell, row, column) {
    cell.dataset.row = row; cell.dataset.column = column;
    const text = this.text(row, column);
    if (this.editing !== cell && cell.textContent !== text) { cell.replaceChildren(text); }
  }

  text(row, column) { return this.rows[row]?.[column] ?? ""; }

  cell(row, column) {
    return row < 0 ? this.head.cells[column + 1] : this.body.rows[row]?.cells[column + 1];
  }

  within({ row, column }) {
    const clamp = (value, least, most) => Math.max(least, Math.min(most, value));
    return { row: clamp(row, -1, this.rows.length), column: clamp(column, 0, Math.max(0, this.columns.length - 1)) };
  }

  // Problems.

  /** Marks the cells that have problems: {severity, title, cell: {row, column}}. */
  mark(problems) {
    this.problems = problems;
    for (const cell of this.element.querySelectorAll("[data-row]")) {
      const found = this.problemsAt(Number(cell.dataset.row), Number(cell.dataset.column));
      const worst = found.some((problem) => problem.severity === "error") ? "wrong" : found.length ? "doubtful" : "";
      cell.classList.toggle("wrong", worst === "wrong");
      cell.classList.toggle("doubtful", worst === "doubtful");
      if (cell.localName === "td") { worst === "wrong" ? cell.setAttribute("aria-invalid", "true") : cell.removeAttribute("aria-invalid"); }
    }
    this.paint();
  }

  problemsAt(row, column) {
    return this.problems.filter((problem) => problem.cell.row === row && problem.cell.column === column);
  }

  tellCell() {
    const { row, column } = this.at, known = this.columns[column];
    const told = this.problemsAt(row, column).map((problem) => make("p", { class: problem.severity },
      make("strong", {}, `${words.severity(problem.severity)}: ${problem.title}. `), words.remedy(problem)));
    const hint = known?.hint ? make("p", { class: "hint" }, make("b", {}, known.name), `: ${known.hint}`) : null;
    this.note.replaceChildren(...told, hint ?? "");
  }

  // Moving.

  go(row, column, isExtending = false) {
    this.at = this.within({ row, column });
    if (!isExtending) { this.from = this.at; }
    this.paint();
    this.cell(this.at.row, this.at.column)?.focus();
  }

  focus() { this.go(this.at.row, this.at.column); }

  area() {
    const rows = [this.at.row, this.from.row].sort((a, b) => a - b), columns = [this.at.column, this.from.column].sort((a, b) => a - b);
    return { top: rows[0], bottom: rows[1], left: columns[0], right: columns[1] };
  }

  paint() {
    const { top, bottom, left, right } = this.area(), isMany = top !== bottom || left !== right;
    for (const cell of this.element.querySelectorAll("[data-row]")) {
      const row = Number(cell.dataset.row), column = Number(cell.dataset.column);
      cell.tabIndex = row === this.at.row && column === this.at.column ? 0 : -1;
      if (cell.localName === "td") { cell.setAttribute("aria-selected", String(isMany && row >= top && row <= bottom && column >= left && column <= right)); }
    }
    for (const cell of this.element.querySelectorAll("[aria-describedby]")) { cell.removeAttribute("aria-describedby"); }
    this.cell(this.at.row, this.at.column)?.setAttribute("aria-describedby", this.note.id);
    this.tellCell();
  }

  enter(event) {
    const cell = event.target.closest("[data-row]");
    if (!cell || cell.contains(this.editing)) { return; }
    const row = Number(cell.dataset.row), column = Number(cell.dataset.column);
    if (row !== this.at.row || column !== this.at.column) { this.at = { row, column }; this.from = this.at; this.paint(); }
    this.does.seen(this.rows[row] ?? null);
  }

  leave(event) { if (!this.element.contains(event.relatedTarget)) { this.isLeaving = false; } }

  press(event) {
    if (this.editing) { return; }
    const isHandled = this.pressMove(event) || this.pressEdit(event);
    if (isHandled) { event.preventDefault(); event.stopPropagation(); }
  }

  pressMove(event) {
    const { row, column } = this.at, far = event.ctrlKey || event.metaKey, last = this.columns.length - 1;
    const moves = {
      ArrowUp: () => [far ? 0 : row - 1, column], ArrowDown: () => [far ? this.rows.length : row + 1, column],
      ArrowLeft: () => [row, far ? 0 : column - 1], ArrowRight: () => [row, far ? last : column + 1],
      Home: () => [far ? 0 : row, 0], End: () => [far ? this.rows.length : row, last],
      PageUp: () => [Math.max(0, row - page), column], PageDown: () => [row + page, column],
    };
    if (event.key === "Tab") { return this.tab(event); }
    if (!moves[event.key] || event.altKey) { return false; }
    this.go(...moves[event.key](), event.shiftKey);
    return true;
  }

  // Tab goes from cell to cell, and out of the table at its ends or after Escape, so that nobody is caught in it.
  tab(event) {
    const width = this.columns.length, next = this.at.row * width + this.at.column + (event.shiftKey ? -1 : 1);
    if (this.isLeaving || event.ctrlKey || next < 0 || next >= (this.rows.length + 1) * width) { this.isLeaving = false; return false; }
    this.go(Math.floor(next / width), next % width);
    return true;
  }

  pressEdit(event) {
    const command = event.ctrlKey || event.metaKey, key = event.key.toLowerCase();
    if (event.key === "Escape") { this.from = this.at; this.isLeaving = true; this.paint(); return true; }
    if (event.key === "Enter" || event.key === "F2") { return this.start(null); }
    if (command && event.key === "Delete") { this.removeRows(); return true; }
    if (event.key === "Delete" || event.key === "Backspace") { this.clear(); return true; }
    if (command && key === "a") { this.select(0, 0, this.rows.length - 1, this.columns.length - 1); return true; }
    if (command && (key === "y" || (key === "z" && event.shiftKey))) { this.does.redo(); return true; }
    if (command && key === "z") { this.does.undo(); return true; }
    if (event.key === " " && event.shiftKey) { this.select(this.at.row, 0, this.at.row, this.columns.length - 1); return true; }
    return event.key.length === 1 && !command && !event.altKey && this.start(event.key);
  }

  select(top, left, bottom, right) {
    this.from = this.within({ row: top, column: left });
    this.go(bottom, right, true);
  }

  down(event) {
    const head = event.target.closest("tbody th"), cell = event.target.closest("[data-row]");
    if (this.editing?.contains(event.target) || event.button !== 0) { return; }
    event.preventDefault();
    if (head) { const row = head.parentElement.sectionRowIndex; this.select(row, 0, row, this.columns.length - 1); return; }
    if (!cell) { return; }
    const row = Number(cell.dataset.row), column = Number(cell.dataset.column);
    const isSame = document.activeElement === cell && !event.shiftKey;
    this.go(row, column, event.shiftKey);
    if (isSame && event.detail === 1 && matchMedia("(pointer: coarse)").matches) { this.start(null); }
  }

  drag(event) {
    const cell = event.target.closest("td[data-row]");
    if (event.buttons !== 1 || this.editing || !cell || !this.element.contains(document.activeElement)) { return; }
    this.go(Number(cell.dataset.row), Number(cell.dataset.column), true);
  }

  open(event) { if (event.target.closest("td[data-row]") && !this.editing) { this.start(null); } }

  // Editing.

  /** Opens the cell: with `typed` in place of what it holds, or with what it holds. */
  start(typed) {
    const { row, column } = this.at;
    if (row < 0 || !this.columns[column]) { return false; }
    const cell = this.cell(row, column);
    this.does.hold(1);
    this.editing = cell; this.editingAt = this.from = this.at; this.paint();
    edit(cell, { text: this.text(row, column), typed, column: this.columns[column], note: this.note.id,
      label: words.cellLabel(this.columns[column].name, row + 1), done: (text, move) => this.finish(text, move) });
    return true;
  }

  finish(text, move) {
    const { row, column } = this.editingAt, cell = this.editing, before = this.text(row, column);
    this.editing = null;
    this.does.hold(-1);
    cell.replaceChildren(text ?? before);
    const width = this.columns.length, next = row * width + column + (move === "left" ? -1 : 1);
    if (text !== null && text !== before) { this.commit([this.setting(row, column, text)]); }
    if (move === "stay") { this.go(row, column); }
    if (move === "down") { this.go(row + 1, column); }
    if (move === "up") { this.go(Math.max(0, row - 1), column); }
    if (move === "left" || move === "right") { this.go(Math.max(0, Math.floor(next / width)), Math.max(0, next) % width); }
  }

  setting(row, column, text) {
    if (row < this.rows.length) { return { set: { row, column, text } }; }
    const cells = this.columns.slice(0, column + 1).map((_, at) => (at === column ? text : ""));
    return { insert: { row, rows: [cells] } };
  }

  // The table shows a change before the program has answered: typing never waits.
  commit(changes) {
    if (!changes.length) { return; }
    for (const change of changes) { this.apply(change); }
    this.draw();
    this.does.change(changes);
  }

  apply({ set, insert, remove }) {
    if (set) { while (this.rows[set.row].length <= set.column) { this.rows[set.row].push(""); } this.rows[set.row][set.column] = set.text; }
    if (insert) { this.rows.splice(insert.row, 0, ...insert.rows.map((row) => [...row])); }
    if (remove) { this.rows.splice(remove.row, remove.count); }
  }

  clear() { this.commit(this.clearing()); }

  clearing() {
    const { top, bottom, left, right } = this.area(), changes = [];
    for (let row = Math.max(0, top); row <= Math.min(bottom, this.rows.length - 1); row += 1) {
      for (let column = left; column <= right; column += 1) {
        if (this.text(row, column)) { changes.push({ set: { row, column, text: "" } }); }
      }
    }
    return changes;
  }

  removeRows() {
    const { top, bottom } = this.area(), row = Math.max(0, top), count = Math.min(bottom, this.rows.length - 1) - row + 1;
    if (count < 1) { return; }
    this.commit([{ remove: { row, count } }]);
    this.go(row, this.at.column);
  }

  insertRow() {
    const row = Math.max(0, Math.min(this.at.row, this.rows.length));
    this.commit([{ insert: { row, rows: [[""]] } }]);
    this.go(row, 0);
  }

  // The clipboard.

  copy(event) {
    if (this.editing) { return; }
    const { top, bottom, left, right } = this.area(), cells = [];
    for (let row = top; row <= bottom; row += 1) {
      cells.push(this.columns.slice(left, right + 1).map((column, at) => (row < 0 ? column.name : this.text(row, left + at))));
    }
    event.clipboardData.setData("text/plain", writeCells(cells));
    event.preventDefault();
  }

  cut(event) { if (!this.editing) { this.copy(event); this.clear(); } }

  paste(event) {
    if (this.editing) { return; }
    event.preventDefault();
    const cells = readCells(event.clipboardData.getData("text/plain"));
    const row = Math.max(0, this.area().top), left = this.area().left;
    const spread = this.spread(cells);
    this.commit(this.pasting(spread, row, left));
    this.select(row, left, row + spread.length - 1, left + Math.max(...spread.map((line) => line.length)) - 1);
  }

  // One cell fills the whole selection.
  spread(cells) {
    const { top, bottom, left, right } = this.area(), isOne = cells.length === 1 && cells[0].length === 1;
    return isOne ? Array.from({ length: bottom - top + 1 }, () => Array(right - left + 1).fill(cells[0][0])) : cells;
  }

  pasting(cells, top, left) {
    const inside = cells.slice(0, this.rows.length - top), below = cells.slice(Math.max(0, this.rows.length - top));
    const fits = (line) => line.slice(0, this.columns.length - left);
    const changes = inside.flatMap((line, down) => fits(line).map((text, across) => ({ set: { row: top + down, column: left + across, text } })));
    const rows = below.map((line) => [...Array(left).fill(""), ...fits(line)]);
    return rows.length ? [...changes, { insert: { row: this.rows.length, rows } }] : changes;
  }
}
