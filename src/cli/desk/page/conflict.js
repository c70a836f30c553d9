// Two texts of one file: both are shown, and she chooses.

import { button, make } from "./dom.js";
import { desk, keepMine, takeTheirs } from "./state.js";
import { words } from "./words.js";

export function watchConflicts() { desk.hear("conflict", ({ file, theirs }) => settleConflict(file, theirs)); }

function settleConflict(file, theirs) {
  const told = words.conflict, [mine, other] = compare(file.text ?? "", theirs.text ?? "");
  const title = make("h2", { id: "conflict-title" }, told.title(file.name));
  const dialog = make("dialog", { class: "conflict", "aria-labelledby": title.id });
  const choose = (what) => () => { dialog.close(); dialog.remove(); what(file, theirs); };
  dialog.append(title, make("p", {}, told.told), make("div", { class: "two" }, side(told.mine, mine), side(told.theirs, theirs.text === null ? null : other, theirs.problems)),
    make("div", { class: "tools" }, button(told.keepMine, choose(keepMine), { class: "main" }), button(told.takeTheirs, choose(takeTheirs))));
  // Escape would leave it undecided, and nothing would be saved any more.
  dialog.addEventListener("cancel", (event) => event.preventDefault());
  document.body.append(dialog);
  dialog.showModal();
}

function side(title, lines, problems = []) {
  const none = problems.length ? problems.map((problem) => `${problem.title}. ${words.remedy(problem)}`).join(" ") : words.conflict.gone;
  const body = lines ? make("ol", {}, shortened(lines).map(line)) : make("p", {}, none);
  return make("div", { class: "side", tabindex: "0", role: "group", "aria-label": title }, make("h3", {}, title), body);
}

function line({ text, differs, number, skipped }) {
  return skipped ? make("li", { class: "skipped" }, words.conflict.skipped(skipped))
    : make("li", { value: number, class: differs ? "differs" : null }, differs ? make("span", { class: "unseen" }, `${words.conflict.differs}: `) : null, text);
}

/** Lines that are shown beside one that differs, and most lines of a side. */
const near = 3, most = 400;

/** What is shown of many lines: those that differ with a few round them, and how many are left out between. */
export function shortened(lines) {
  const shown = [], isNear = new Set();
  lines.forEach(({ differs }, at) => { if (differs) { for (let by = -near; by <= near; by += 1) { isNear.add(at + by); } } });
  let count = 0;
  lines.forEach((each, at) => {
    const last = shown.at(-1);
    if (isNear.has(at) && count < most) { shown.push({ ...each, number: at + 1 }); count += 1; }
    else if (last?.skipped) { last.skipped += 1; } else { shown.push({ skipped: 1 }); }
  });
  return shown;
}

/** The lines of both texts; a line differs if the longest run of common lines leaves it out. */
export function compare(mine, theirs) {
  const one = mine.replace(/\n$/, "").split("\n"), two = theirs.replace(/\n$/, "").split("\n");
  const head = sameHead(one, two), tail = sameHead(one.slice(head).reverse(), two.slice(head).reverse());
  const inner = (lines) => lines.slice(head, lines.length - tail), common = commonLines(inner(one), inner(two));
  const isKept = (at, lines, kept) => at < head || at >= lines.length - tail || kept.has(at - head);
  const marked = (lines, kept) => lines.map((text, at) => ({ text, differs: !isKept(at, lines, kept) }));
  return [marked(one, common.one), marked(two, common.two)];
}

/** How many lines are the same from the first on. */
function sameHead(one, two) {
  const at = one.findIndex((text, each) => text !== two[each]);
  return at < 0 ? one.length : at;
}

/** Most pairs of lines that are compared; beyond, none counts as common, so that the page never stops for it. */
const mostPairs = 4e6;

function commonLines(one, two) {
  const kept = { one: new Set(), two: new Set() };
  if (one.length * two.length > mostPairs) { return kept; }
  const lengths = Array.from({ length: one.length + 1 }, () => new Uint16Array(two.length + 1));
  for (let i = one.length - 1; i >= 0; i -= 1) {
    for (let j = two.length - 1; j >= 0; j -= 1) {
      lengths[i][j] = one[i] === two[j] ? lengths[i + 1][j + 1] + 1 : Math.max(lengths[i + 1][j], lengths[i][j + 1]);
    }
  }
  for (let i = 0, j = 0; i < one.length && j < two.length;) {
    if (one[i] === two[j]) { kept.one.add(i); kept.two.add(j); i += 1; j += 1; }
    else if (lengths[i + 1][j] >= lengths[i][j + 1]) { i += 1; } else { j += 1; }
  }
  return kept;
}
