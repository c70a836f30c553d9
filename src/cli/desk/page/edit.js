// One cell while it is edited: a field, and the choices under it. Anything may be typed.

import { byId, make, freshId } from "./dom.js";
import { words } from "./words.js";

/**
 * @param {HTMLElement} cell
 * @param {{text: string, typed: ?string, column: Object, note: string, label: string, done: function(?string, string)}} task
 *   `done` gets the text (null: as it was) and where to go: down, up, left, right, stay or nowhere
 */
export function edit(cell, task) { new Editor(cell, task).open(); }

class Editor {
  constructor(cell, task) {
    this.cell = cell; this.task = task; this.isDone = false;
    this.active = -1; this.shown = [];
    this.list = make("ul", { role: "listbox", id: freshId("choices"), class: "choices", "aria-label": words.choices(task.column.name), hidden: true });
    this.input = make("input", { class: "cell-input", type: "text", "aria-label": task.label, "aria-describedby": task.note,
      autocomplete: "off", autocapitalize: "off", spellcheck: "false", onkeydown: (event) => this.press(event), oninput: () => this.offer(), onblur: () => this.finish(this.input.value, "nowhere") });
    if (task.column.choices?.length) { this.combine(); }
  }

  combine() {
    for (const [name, value] of [["role", "combobox"], ["aria-autocomplete", "list"], ["aria-expanded", "false"], ["aria-controls", this.list.id]]) {
      this.input.setAttribute(name, value);
    }
  }

  open() {
    const { text, typed } = this.task;
    this.input.value = typed ?? text;
    this.cell.replaceChildren(this.input);
    byId("main").append(this.list);
    this.input.focus();
    if (typed === null) { this.input.select(); }
    this.offer(typed === null);
  }

  // Where several choices may be joined, the last part is what is being typed.
  parts() {
    const { joined } = this.task.column, value = this.input.value;
    const at = joined ? value.lastIndexOf(joined) + 1 : 0;
    return { before: value.slice(0, at), last: value.slice(at).trim() };
  }

  offer(isAll = false) {
    const choices = this.task.column.choices ?? [], last = isAll ? "" : this.parts().last.toLowerCase();
    const starts = choices.filter((choice) => choice.toLowerCase().startsWith(last));
    const holds = choices.filter((choice) => !starts.includes(choice) && choice.toLowerCase().includes(last));
    this.shown = [...starts, ...holds];
    if (this.shown.length === 1 && this.shown[0].toLowerCase() === last) { this.shown = []; }
    this.list.replaceChildren(...this.shown.map((choice, at) => make("li", { role: "option", id: `${this.list.id}-${at}`, "aria-selected": "false",
      onmousedown: (event) => { event.preventDefault(); this.pick(at, "stay"); } }, choice)));
    this.light(-1);
    this.expand(this.shown.length > 0);
  }

  expand(isOpen) {
    this.list.hidden = !isOpen;
    if (this.input.getAttribute("role")) { this.input.setAttribute("aria-expanded", String(isOpen)); }
    if (isOpen) { this.place(); }
  }

  // Below the cell where there is room, else above it.
  place() {
    const cell = this.cell.getBoundingClientRect(), style = this.list.style;
    const below = innerHeight - cell.bottom, isBelow = below > 180 || below > cell.top;
    style.left = `${Math.max(8, Math.min(cell.left, innerWidth - this.list.offsetWidth - 8))}px`;
    style.minWidth = `${Math.min(cell.width, innerWidth - 16)}px`;
    style.maxHeight = `${Math.min(320, (isBelow ? below : cell.top) - 12)}px`;
    style.top = isBelow ? `${cell.bottom + 2}px` : "auto";
    style.bottom = isBelow ? "auto" : `${innerHeight - cell.top + 2}px`;
  }

  light(at) {
    this.list.children[this.active]?.setAttribute("aria-selected", "false");
    this.active = at;
    const option = this.list.children[at];
    if (!option) { this.input.removeAttribute("aria-activedescendant"); return; }
    option.setAttribute("aria-selected", "true");
    option.scrollIntoView({ block: "nearest" });
    this.input.setAttribute("aria-activedescendant", option.id);
  }

  pick(at, move) {
    const { joined } = this.task.column, { before } = this.parts(), choice = this.shown[at];
    const gap = joined === "+" ? " " : "";
    this.input.value = before ? `${before.trimEnd()}${gap}${choice}` : choice;
    // Enter on a part leaves the cell open for the next part.
    if (!joined || !["stay", "down"].includes(move)) { this.finish(this.input.value, move); return; }
    this.expand(false);
    this.light(-1);
  }

  press(event) {
    const act = this.action(event);
    event.stopPropagation();
    if (act) { event.preventDefault(); act(); }
  }

  action(event) {
    const isOpen = !this.list.hidden, count = this.shown.length;
    const enter = { Enter: event.shiftKey ? "up" : "down", Tab: event.shiftKey ? "left" : "right" }[event.key];
    if (enter) { return () => (isOpen && this.active >= 0 ? this.pick(this.active, enter) : this.finish(this.input.value, enter)); }
    if (event.key === "Escape") { return () => (isOpen && this.active >= 0 ? this.expand(false) || this.light(-1) : this.finish(null, "stay")); }
    if (event.key === "ArrowDown") { return () => this.step(isOpen, count, 1); }
    if (event.key === "ArrowUp") { return () => this.step(isOpen, count, -1); }
    return null;
  }

  step(isOpen, count, by) {
    if (isOpen) { this.light((this.active + by + (this.active < 0 && by < 0 ? 1 : 0) + count) % count); return; }
    if (this.task.column.choices?.length) { this.offer(true); return; }
    this.finish(this.input.value, by > 0 ? "down" : "up");
  }

  finish(text, move) {
    if (this.isDone) { return; }
    this.isDone = true;
    this.list.remove();
    this.task.done(text, move);
  }
}
