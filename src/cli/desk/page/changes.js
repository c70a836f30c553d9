// What a step would change on the shelf: told first, done only when she says so.

import { button, make, say } from "./dom.js";
import { post } from "./ask.js";
import { allSaved, refresh } from "./state.js";
import { words } from "./words.js";

/**
 * Looks at a step, and offers to do it.
 * @param {HTMLElement} box  where to show it
 * @param {{path: string, question: Object, act: string, done: string, then: function()}} step
 */
export async function lookAt(box, step) {
  box.replaceChildren();
  if (!(await allSaved())) { box.replaceChildren(note(words.cut.unsaved)); return; }
  const answer = await answerOf(step, true);
  box.replaceChildren(...shown(answer));
  if (answer.ok !== false) { box.append(make("div", { class: "tools" }, button(step.act, () => doIt(box, step), { class: "main" }))); }
  box.tabIndex = -1;
  box.focus();
}

async function doIt(box, step) {
  const answer = await answerOf(step, false);
  const isDone = answer.ok !== false;
  box.replaceChildren(isDone ? make("p", { class: "good" }, step.done) : "", ...shown(answer));
  box.focus();
  if (!isDone) { return; }
  say(step.done);
  await refresh(true);
  step.then?.(answer);
}

async function answerOf(step, preview) {
  try { return await post(step.path, { ...step.question, preview }); } catch (trouble) {
    return { ok: false, told: trouble.message, problems: trouble.answer?.problems ?? [], files: [] };
  }
}

function shown(answer) {
  return [answer.told ? make("pre", { class: "told", tabindex: "0" }, answer.told) : "", ...problems(answer), ...files(answer)];
}

export function problems(answer) {
  return (answer.problems ?? []).map((problem) => make("p", { class: problem.severity },
    make("strong", {}, `${words.severity(problem.severity)}: ${problem.title}. `), words.remedy(problem)));
}

function files(answer) {
  const changed = (answer.files ?? []).filter((file) => file.lines.length);
  if (answer.ok === false) { return []; }
  return [make("h3", {}, words.cut.changes), ...(changed.length ? changed.map(changedFile) : [make("p", {}, words.cut.noChanges)])];
}

function changedFile(file) { return make("div", { class: "changed" }, make("h4", {}, file.name), changedLines(file.lines)); }

/** Lines that begin with - go, lines that begin with + come. */
export function changedLines(lines) {
  return make("ul", { class: "changes", tabindex: "0" }, lines.map((line) => {
    const way = { "+": "comes", "-": "goes" }[line[0]];
    const told = { comes: words.cut.added, goes: words.cut.removed }[way];
    return make("li", { class: way ?? null }, told ? make("span", { class: "unseen" }, `${told}: `) : null, line);
  }));
}

export function note(text) { return make("p", { class: "error" }, text); }
