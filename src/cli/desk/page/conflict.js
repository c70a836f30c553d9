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
  const body = lines ? make("ol", {}, lines.map(({ text, differs }) => make("li", { class: differs ? "differs" : null },
    differs ? make("span", { class: "unseen" }, `${words.conflict.differs}: `) : null, text))) : make("p", {}, none);
  return make("div", { class: "side", tabindex: "0", role: "group", "aria-label": title }, make("h3", {}, title), body);
}

/** The lines of both texts; a line differs if the longest run of common lines leaves it out. */
export function compare(mine, theirs) {
  const one = mine.replace(/\n$/, "").split("\n"), two = theirs.replace(/\n$/, "").split("\n");
  const common = commonLines(one, two);
  const marked = (lines, kept) => lines.map((text, at) => ({ text, differs: !kept.has(at) }));
  return [marked(one, common.one), marked(two, common.two)];
}

function commonLines(one, two) {
  const lengths = Array.from({ length: one.length + 1 }, () => new Uint16Array(two.length + 1));
  for (let i = one.length - 1; i >= 0; i -= 1) {
    for (let j = two.length - 1; j >= 0; j -= 1) {
      lengths[i][j] = one[i] === two[j] ? lengths[i + 1][j + 1] + 1 : Math.max(lengths[i + 1][j], lengths[i][j + 1]);
    }
  }
  const kept = { one: new Set(), two: new Set() };
  for (let i = 0, j = 0; i < one.length && j < two.length;) {
    if (one[i] === two[j]) { kept.one.add(i); kept.two.add(j); i += 1; j += 1; }
    else if (lengths[i + 1][j] >= lengths[i][j + 1]) { i += 1; } else { j += 1; }
  }
  return kept;
}
